import { createContext, type ReactElement, useContext } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { type Anchors, anchorsIn, bearsAny, followed, placeOf } from "../anchors.ts";
import type { Block, Letter } from "../blocks.ts";
import { Drawing } from "./drawing.tsx";
import { Form } from "./form.tsx";
import { Sheet } from "./sheet.tsx";
import { STYLE } from "./style.ts";

type Of<Kind extends Block["kind"]> = Extract<Block, { readonly kind: Kind }>;

/** Where each reference of the paper is told in full. */
const AnchorsOf = createContext<Anchors>(new Map());

/** The references that changed since the paper before. */
const ChangedOf = createContext<ReadonlySet<string>>(new Set());

/** Says that something changed, where it did: a bar for the eye, a word for the ear. */
const ChangeBar = ({ refs }: { readonly refs: string }): ReactElement | null =>
  bearsAny(refs, useContext(ChangedOf)) ? <em className="changed">changed</em> : null;

/** A text whose references lead to where they are told. */
const Linked = ({ text }: { readonly text: string }): ReactElement => {
  let at = 0;
  return (
    <>
      {followed(text, useContext(AnchorsOf)).map((piece) => {
        at += typeof piece === "string" ? piece.length : piece.ref.length;
        return typeof piece === "string" ? (
          piece
        ) : (
          <a key={at} href={`#${piece.to}`}>
            {piece.ref}
          </a>
        );
      })}
    </>
  );
};

/** The mark that links to a place find; nothing where it is no such place. */
const usePlace = (text: string): { readonly id?: string } => {
  const id = placeOf(text, useContext(AnchorsOf));
  return id === undefined ? {} : { id };
};

const Lines = ({ text, own = false }: { readonly text: string; readonly own?: boolean }): ReactElement => (
  <>
    {text.split("\n").map((line) => (
      <div key={line}>{own ? line : <Linked text={line} />}</div>
    ))}
  </>
);

const Row = ({ columns, row }: Pick<Of<"table">, "columns"> & { readonly row: readonly string[] }): ReactElement => (
  <tr {...usePlace(row[0] ?? "")}>
    {columns.map(({ title }, place) =>
      place === 0 ? (
        <th key={title} scope="row">
          <Lines text={row[place] ?? ""} own />
          <ChangeBar refs={row[0] ?? ""} />
        </th>
      ) : (
        <td key={title}>
          <Lines text={row[place] ?? ""} />
        </td>
      ),
    )}
  </tr>
);

const Table = ({ columns, rows }: Of<"table">): ReactElement => (
  <table>
    <thead>
      <tr>
        {columns.map(({ title }) => (
          <th key={title} scope="col">
            {title}
          </th>
        ))}
      </tr>
    </thead>
    <tbody>
      {rows.map((row) => (
        <Row key={row.join("|")} columns={columns} row={row} />
      ))}
    </tbody>
  </table>
);

const Asks = ({ lines }: Of<"asks">): ReactElement => (
  <table>
    <thead>
      <tr>
        <th scope="col">Who</th>
        <th scope="col">What</th>
        <th scope="col">When</th>
      </tr>
    </thead>
    <tbody>
      {lines.map(({ who, what, by }) => (
        <tr key={`${who}${what}`}>
          <th scope="row">{who}</th>
          <td>
            <Linked text={what} />
          </td>
          <td className="date">{by}</td>
        </tr>
      ))}
    </tbody>
  </table>
);

const Facts = ({ where, groups }: Of<"facts">): ReactElement => (
  <section>
    <h3>{where}</h3>
    {groups.map(({ label, facts }) => (
      <div key={label}>
        {label === "" ? null : <h4>{label}</h4>}
        <dl className="facts">
          {facts.map(({ name, value, refs }) => (
            <div key={name}>
              <dt>{name}</dt> <dd>{value}</dd>
              {refs === "" ? null : <dd className="ref">{` ${refs}`}</dd>}
            </div>
          ))}
        </dl>
      </div>
    ))}
  </section>
);

const Labelled = ({ items }: Of<"labelled">): ReactElement => (
  <dl>
    {items.map(({ label, text }) => (
      <div key={`${label}${text}`}>
        <dt>{label}</dt>
        <dd>
          <Linked text={text} />
        </dd>
      </div>
    ))}
  </dl>
);

/** The strip is drawn for the eye; what it says stands beside it in words. */
const Protection = ({ refs, name, where, state, how, does, strip, proves, lines, drawings }: Of<"protection">): ReactElement => (
  <section className="protection" {...usePlace(refs)}>
    <h3>{`${refs} ${name}`}</h3>
    <ChangeBar refs={refs} />
    <p className="quiet">{where === "" ? state : `${where}; ${state}`}</p>
    {strip.length === 0 ? null : (
      <div className="strip" aria-hidden="true">
        {strip.map(({ part, state: shown }) => (
          <span key={part} className={shown.replace(" ", "-")} />
        ))}
      </div>
    )}
    {proves === "" ? null : <p>{proves}</p>}
    <p>
      <strong>{how}</strong>
    </p>
    {does.map((text) => (
      <p key={text}>{text}</p>
    ))}
    {lines.length === 0 ? null : <Labelled kind="labelled" items={lines} />}
    {drawings.map((drawing) => (
      <Drawing key={drawing.says} drawing={drawing} />
    ))}
  </section>
);

const BlockView = ({ block }: { readonly block: Block }): ReactElement => {
  switch (block.kind) {
    case "heading":
      return <h2>{block.text}</h2>;
    case "subheading":
      return (
        <>
          <h3>{block.text}</h3>
          {block.note === undefined ? null : <p className="quiet">{block.note}</p>}
        </>
      );
    case "paragraph":
      return <p className={block.tone === undefined ? undefined : "quiet"}>{block.text}</p>;
    case "asks":
      return <Asks {...block} />;
    case "table":
      return <Table {...block} />;
    case "bullets":
      return (
        <ul>
          {block.items.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      );
    case "drawings":
      return (
        <div>
          {block.drawings.map((drawing) => (
            <Drawing key={drawing.says} drawing={drawing} />
          ))}
        </div>
      );
    case "signature":
      return <p className="signed">{block.text}</p>;
    case "newPage":
      return <hr />;
    case "never":
      return (
        <ul className="never">
          {block.acts.map((act) => (
            <li key={act}>{act}</li>
          ))}
        </ul>
      );
    case "labelled":
      return <Labelled {...block} />;
    case "facts":
      return <Facts {...block} />;
    case "protection":
      return <Protection {...block} />;
    case "form":
      return <Form {...block} />;
    case "formMark":
      return <p className="quiet">{block.text}</p>;
    default:
      return <Sheet block={block} />;
  }
};

const Page = ({ letter }: { readonly letter: Letter }): ReactElement => (
  <html lang="en">
    <head>
      <meta charSet="utf-8" />
      <meta name="viewport" content="width=device-width, initial-scale=1" />
      <title>{letter.title}</title>
      <style>{STYLE}</style>
    </head>
    <body>
      <header>
        <p>
          <strong>{letter.office.name}</strong>
        </p>
        <p className="quiet">{[...letter.office.address, letter.office.contact].filter((line) => line !== "").join(", ")}</p>
        {letter.to.length === 0 ? null : (
          <address>
            {letter.to.map((line) => (
              <div key={line}>{line}</div>
            ))}
          </address>
        )}
        <p>
          <time dateTime={letter.isoDate}>{letter.date}</time>
          {`, ${letter.reference}`}
        </p>
      </header>
      <main>
        <h1>{letter.subject}</h1>
        <AnchorsOf.Provider value={anchorsIn(letter.blocks)}>
          <ChangedOf.Provider value={new Set(letter.changed)}>
            {letter.blocks.map((block) => (
              <BlockView key={JSON.stringify(block)} block={block} />
            ))}
          </ChangedOf.Provider>
        </AnchorsOf.Provider>
      </main>
      <footer>
        <p className="quiet">{letter.statement}</p>
      </footer>
    </body>
  </html>
);

/** The letter as a page that stands alone: the accessible original, of which the PDF is the print copy. */
export const htmlOf = (letter: Letter): string => `<!doctype html>\n${renderToStaticMarkup(<Page letter={letter} />)}\n`;
