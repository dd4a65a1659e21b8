import type { ReactElement } from "react";
import { cellsOf, type SheetBlock, type SheetCell } from "../sheets/blocks.ts";
import { Drawing } from "./drawing.tsx";

type Of<Kind extends SheetBlock["kind"]> = Extract<SheetBlock, { readonly kind: Kind }>;

const BLANK = "………………";

const shown = (cell: SheetCell): string => {
  if (typeof cell === "string") return cell;
  return "box" in cell ? `☐ ${cell.box}` : `${BLANK} ${cell.blank}`;
};

const Table = ({ columns, rows }: Of<"sheetTable">): ReactElement => (
  <table>
    {columns.every(({ title }) => title === "") ? null : (
      <thead>
        <tr>
          {cellsOf(columns).map(({ id, cell }) => (
            <th key={id} scope="col">
              {shown(cell)}
            </th>
          ))}
        </tr>
      </thead>
    )}
    <tbody>
      {rows.map((row) => (
        <tr key={JSON.stringify(row)}>
          {cellsOf(columns, row).map(({ id, cell }) => (
            <td key={id}>{shown(cell)}</td>
          ))}
        </tr>
      ))}
    </tbody>
  </table>
);

/** What is carried aboard, as it is read on a screen: boxes and lines stand for where it is written on paper. */
export const Sheet = ({ block }: { readonly block: SheetBlock }): ReactElement => {
  switch (block.kind) {
    case "sheetHeading":
      return <h2>{block.note === "" ? block.text : `${block.text} (${block.note})`}</h2>;
    case "sheetText":
      return (
        <p>
          {block.label === "" ? null : <strong>{`${block.label} `}</strong>}
          {block.strong === true ? <strong>{block.text}</strong> : block.text}
        </p>
      );
    case "sheetTable":
      return <Table {...block} />;
    case "sheetStrip":
      return <p>{block.text}</p>;
    case "sheetDrawings":
      return (
        <div>
          {block.drawings.map((drawing) => (
            <Drawing key={drawing.says} drawing={drawing} />
          ))}
        </div>
      );
    case "sheetTogether":
      return (
        <section>
          {block.blocks.map((own) => (
            <Sheet key={JSON.stringify(own)} block={own} />
          ))}
        </section>
      );
  }
};
