import { Text, View } from "@react-pdf/renderer";
import type { ReactElement } from "react";
import { cellsOf, type SheetBlock, type SheetCell, type SheetColumn } from "../sheets/blocks.ts";
import { isLong } from "../sheets/height.ts";
import { DrawingView } from "./drawing.tsx";
import { sheet } from "./sheetStyle.ts";
import { LoopStrip } from "./strip.tsx";
import { cutForNarrow, glued } from "./style.ts";

type Of<Kind extends SheetBlock["kind"]> = Extract<SheetBlock, { readonly kind: Kind }>;

/** A column narrower than this share of the page has its long words cut shorter. */
const NARROW = 26;
/** So much of what follows must stand on the page of a heading or of a table's head. */
const KEEP = 60;
const PAGE = 505;
/** A table of more rows may go on over the page. */
const MOST_ON_A_PAGE = 8;

const Cell = ({ cell, column }: { readonly cell: SheetCell; readonly column: SheetColumn }): ReactElement => {
  const width = `${column.share}%`;
  if (typeof cell === "string") {
    const narrow = column.share < NARROW ? { hyphenationCallback: cutForNarrow } : {};
    return (
      <Text {...narrow} style={[sheet.cell, { width }, column.strong === true ? sheet.strong : {}]}>
        {glued(cell)}
      </Text>
    );
  }
  if ("box" in cell)
    return (
      <View style={[sheet.cell, sheet.ticked, { width }]}>
        <View style={sheet.box} />
        {cell.box === "" ? null : <Text style={{ flex: 1 }}>{cell.box}</Text>}
      </View>
    );
  return (
    <View style={[sheet.cell, sheet.blank, { width }]}>
      <View style={sheet.line} />
      {cell.blank.trim() === "" ? null : <Text style={sheet.unit}>{cell.blank}</Text>}
    </View>
  );
};

/** The head is repeated where a table goes on over the page, and never stands alone at a page's foot. */
const Table = ({ columns, rows }: Of<"sheetTable">): ReactElement => (
  <>
    <View minPresenceAhead={KEEP} />
    <View>
      {columns.every(({ title }) => title === "") ? null : (
        <View style={sheet.headRow} fixed={rows.length > MOST_ON_A_PAGE}>
          {cellsOf(columns).map(({ id, ...own }) => (
            <Cell key={id} {...own} />
          ))}
        </View>
      )}
      {rows.map((row) => (
        <View key={JSON.stringify(row)} style={sheet.row} wrap={false}>
          {cellsOf(columns, row).map(({ id, ...own }) => (
            <Cell key={id} {...own} />
          ))}
        </View>
      ))}
    </View>
  </>
);

/** A mark in the outline; the layout knows it on every element, its types only on the page. */
const bookmarked = (title: string): object => ({ bookmark: title });

const Heading = ({ text, note }: Of<"sheetHeading">): ReactElement => (
  <View style={sheet.heading} minPresenceAhead={KEEP} wrap={false} {...bookmarked(text)}>
    <Text style={sheet.headingText}>{text}</Text>
    <Text style={sheet.headingNote}>{note}</Text>
  </View>
);

const Together = (block: Of<"sheetTogether">): ReactElement => (
  <View wrap={isLong(block)}>
    {block.blocks.map((own) => (
      <Sheet key={JSON.stringify(own)} block={own} />
    ))}
  </View>
);

export const Sheet = ({ block }: { readonly block: SheetBlock }): ReactElement => {
  switch (block.kind) {
    case "sheetHeading":
      return <Heading {...block} />;
    case "sheetText":
      return (
        <Text style={[sheet.text, block.strong === true ? sheet.strong : {}]}>
          {block.label === "" ? "" : <Text style={sheet.strong}>{`${block.label}  `}</Text>}
          {glued(block.text)}
        </Text>
      );
    case "sheetTable":
      return <Table {...block} />;
    case "sheetStrip":
      return (
        <View style={sheet.strip} wrap={false}>
          <Text style={sheet.beside}>{glued(block.text)}</Text>
          <LoopStrip strip={block.strip} scale={1.6} />
        </View>
      );
    case "sheetDrawings":
      return (
        <View style={sheet.drawings}>
          {block.drawings.map((drawing) => (
            <DrawingView key={drawing.says} drawing={drawing} scale={Math.min(1.35, PAGE / drawing.width)} />
          ))}
        </View>
      );
    case "sheetTogether":
      return <Together {...block} />;
  }
};
