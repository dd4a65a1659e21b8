import type { Drawing } from "../../drawing/shapes.ts";
import type { Strip } from "../blocks.ts";
import { SAY } from "../catalogue.ts";

/** A place of a table that is carried aboard: words, a box to tick with what stands behind it, or a line to write on with its unit. */
export type SheetCell = string | { readonly box: string } | { readonly blank: string };

export interface SheetColumn {
  /** Empty in all columns where the table has no head. */
  readonly title: string;
  /** In percent of the page's width. */
  readonly share: number;
  readonly strong?: true;
}

/** What is read and written on in gloves and bad light: large, with boxes to tick and lines to write on. */
export type SheetBlock =
  | { readonly kind: "sheetHeading"; readonly text: string; readonly note: string }
  /** Words behind a label; without one where it is empty. */
  | { readonly kind: "sheetText"; readonly label: string; readonly text: string; readonly strong?: true }
  | { readonly kind: "sheetTable"; readonly columns: readonly SheetColumn[]; readonly rows: readonly (readonly SheetCell[])[] }
  /** What a test is, beside the strip of what it proves of the loop. */
  | { readonly kind: "sheetStrip"; readonly strip: readonly Strip[]; readonly text: string }
  | { readonly kind: "sheetDrawings"; readonly drawings: readonly Drawing[] }
  /** What is never broken over a page, unless it is longer than one. With a heading it is a sheet, and begins on a page of its own. */
  | { readonly kind: "sheetTogether"; readonly blocks: readonly SheetBlock[] };

/** The cells of a row or, without one, the titles of a table, each with its column and its place. */
export const cellsOf = (
  columns: readonly SheetColumn[],
  row: readonly SheetCell[] = columns.map(({ title }) => title),
): readonly { readonly id: string; readonly column: SheetColumn; readonly cell: SheetCell }[] =>
  columns.map((column, place) => ({ id: String(place), column, cell: row[place] ?? "" }));

export const words = (label: string, text: string): SheetBlock => ({ kind: "sheetText", label, text });

/** A table of rows; nothing where there are none. */
export const tableOf = (columns: readonly SheetColumn[], rows: readonly (readonly SheetCell[])[]): readonly SheetBlock[] =>
  rows.length === 0 ? [] : [{ kind: "sheetTable", columns, rows }];

export const BOX: SheetCell = { box: "" };
export const blank = (unit = ""): SheetCell => ({ blank: unit });

/** So many rows to fill in, each with its number. */
export const numbered = (rows: number, ...cells: readonly SheetCell[]): readonly (readonly SheetCell[])[] =>
  Array.from({ length: rows }, (_, place) => [String(place + 1), ...cells]);

/** Lines to tick under one title. */
export const tickList = (title: string, texts: readonly string[], column = ""): readonly SheetBlock[] =>
  tableOf(
    [
      { title, share: 88 },
      { title: column, share: 12 },
    ],
    texts.map((text) => [text, BOX]),
  );

/** A single row of words and places to write at, without a head; shares in percent. */
export const writeIn = (...cells: readonly (readonly [cell: SheetCell, share: number])[]): SheetBlock => ({
  kind: "sheetTable",
  columns: cells.map(([, share]) => ({ title: "", share })),
  rows: [cells.map(([cell]) => cell)],
});

/** Blocks that are kept on one page, where a page can hold them. */
export const together = (...blocks: readonly SheetBlock[]): SheetBlock => ({ kind: "sheetTogether", blocks });

/** A written procedure states what it needs, and so that it needs nothing. */
export const orNone = (label: string, blocks: readonly SheetBlock[]): readonly SheetBlock[] =>
  blocks.length === 0 ? [words(label, SAY.carry.noneOfIts)] : blocks;
