import { Drawing } from "../../lib/letter/html/drawing.tsx";
import type { Bit, Block, Cell, Line, Sheet } from "../../lib/usecases/rulebook/sheet.ts";
import { Scroll } from "../frame/Scroll.tsx";
import { LoopStrip } from "../plan/LoopStrip.tsx";
import { VerdictMark } from "../plan/Verdicts.tsx";

const BitView = ({ bit }: { readonly bit: Bit }) => {
  if (typeof bit === "string") return bit;
  if ("to" in bit) return <a href={bit.to}>{bit.words}</a>;
  return "strip" in bit ? <LoopStrip proves={bit.strip} /> : <VerdictMark {...bit} />;
};

/** What tells one piece from another; pieces that say the same are the same. */
const keyed = <Item,>(items: readonly Item[]): readonly (readonly [string, Item])[] =>
  items.map((item, place) => [`${place} ${JSON.stringify(item)}`, item]);

const LineView = ({ line }: { readonly line: Line }) => keyed(line).map(([key, bit]) => <BitView key={key} bit={bit} />);

const ListView = ({ lines }: { readonly lines: readonly Line[] }) => (
  <ul>
    {keyed(lines).map(([key, line]) => (
      <li key={key}>
        <LineView line={line} />
      </li>
    ))}
  </ul>
);

const CellView = ({ cell: { lead, lines } }: { readonly cell: Cell }) => {
  const [only] = lines;
  if (lead === undefined && lines.length === 1 && only !== undefined) return <LineView line={only} />;
  return (
    <>
      {lead}
      <ListView lines={lines} />
    </>
  );
};

const Table = ({ block: { label, columns, rows, narrow } }: { readonly block: Extract<Block, { readonly kind: "table" }> }) => {
  const head = columns.findIndex(({ number }) => number !== true);
  return (
    <Scroll label={label}>
      <table className={narrow === true ? "book matrix" : "book cards"}>
        <caption className="unseen">{label}</caption>
        <thead>
          <tr>
            {columns.map(({ name, number }) => (
              <th scope="col" key={name} className={number === true ? "number" : undefined}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {keyed(rows).map(([key, row]) => (
            <tr key={key}>
              {row.map((cell, place) => {
                const column = columns[place];
                return place === head ? (
                  <th scope="row" key={column?.name}>
                    <CellView cell={cell} />
                  </th>
                ) : (
                  <td key={column?.name} className={column?.number === true ? "number" : undefined} data-label={column?.name}>
                    <CellView cell={cell} />
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  );
};

const BlockView = ({ block }: { readonly block: Block }) => {
  switch (block.kind) {
    case "text":
      return (
        <p className={block.quiet === true ? "quiet" : undefined}>
          <LineView line={block.line} />
        </p>
      );
    case "caution":
      return (
        <p className="caution">
          <strong>Caution. </strong>
          <LineView line={block.line} />
        </p>
      );
    case "list":
      return block.ordered === true ? (
        <ol>
          {keyed(block.lines).map(([key, line]) => (
            <li key={key}>
              <LineView line={line} />
            </li>
          ))}
        </ol>
      ) : (
        <ListView lines={block.lines} />
      );
    case "pairs":
      return (
        <dl className="told">
          {block.pairs.map(([name, cell]) => (
            <div className="told-pair" key={name}>
              <dt>{name}</dt>
              <dd>
                <CellView cell={cell} />
              </dd>
            </div>
          ))}
        </dl>
      );
    case "strip":
      return (
        <p>
          <LoopStrip proves={block.proves} full />
        </p>
      );
    case "drawing":
      return (
        <figure>
          <figcaption>{block.title}</figcaption>
          <Drawing drawing={block.drawing} />
        </figure>
      );
    case "table":
      return <Table block={block} />;
  }
};

/** A page of the rulebook below its heading. */
export const SheetView = ({ sheet: { lead, sections } }: { readonly sheet: Sheet }) => (
  <>
    {keyed(lead).map(([key, block]) => (
      <BlockView key={key} block={block} />
    ))}
    {sections.map(({ title, blocks }) => (
      <section key={title}>
        <h2>{title}</h2>
        {keyed(blocks).map(([key, block]) => (
          <BlockView key={key} block={block} />
        ))}
      </section>
    ))}
  </>
);
