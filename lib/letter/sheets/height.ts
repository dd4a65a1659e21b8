import type { Block } from "../blocks.ts";
import type { SheetBlock, SheetCell, SheetColumn } from "./blocks.ts";
import { BODY, BOX, LINE_HEIGHT, PADDING, WRITE_IN } from "./measures.ts";

/** Signs that fit a line over the whole width of the narrower paper, in the widest words that are met. */
const SIGNS = 95;
const LINE = BODY * LINE_HEIGHT;
const HEADING = 27;

const linesOf = (text: string, share: number): number => Math.ceil((text.length + 2) / ((SIGNS * share) / 100));

const heightOfCell = (cell: SheetCell, share: number): number =>
  typeof cell === "string" ? linesOf(cell, share) * LINE : "box" in cell ? Math.max(BOX, LINE * linesOf(cell.box, share - 5)) : WRITE_IN;

const heightOfRow = (columns: readonly SheetColumn[], row: readonly SheetCell[]): number =>
  2 * PADDING + 1 + Math.max(...columns.map(({ share }, place) => heightOfCell(row[place] ?? "", share)));

/** About how high a block will be, in points: rather too high than too low, since what does not fit its page would be cut off. */
export const heightOf = (block: SheetBlock): number => {
  switch (block.kind) {
    case "sheetHeading":
      return HEADING * Math.max(1, Math.ceil(block.text.length / 40));
    case "sheetText":
      return 4 + linesOf(`${block.label}  ${block.text}`, 100) * LINE;
    case "sheetTable":
      return (
        5 +
        Math.max(...block.columns.map(({ title, share }) => linesOf(title, share))) * LINE +
        block.rows.reduce((sum, row) => sum + heightOfRow(block.columns, row), 0)
      );
    case "sheetStrip":
      return 3 + Math.max(2, linesOf(block.text, 50)) * LINE;
    case "sheetDrawings":
      return block.drawings.reduce((sum, { height }) => sum + 8 + height * 1.4, 0);
    case "sheetTogether":
      return block.blocks.reduce((sum, own) => sum + heightOf(own), 0);
  }
};

/** What is surely no higher than the page of the shorter paper. */
const FITS = 690;

/** Whether a block leaves most of a page empty. */
export const isShort = (block: SheetBlock): boolean => heightOf(block) < 0.4 * FITS;

/** Whether what stands together may be longer than a page: it then begins on one of its own and may be broken. */
export const isLong = (block: Block): boolean => block.kind === "sheetTogether" && heightOf(block) > FITS;
