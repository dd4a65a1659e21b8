import { Link, Text, View } from "@react-pdf/renderer";
import { createContext, type ReactElement, useContext } from "react";
import { type Anchors, bearsAny, followed, placeOf, wholeWords } from "../anchors.ts";
import type { Block } from "../blocks.ts";
import { unbroken } from "../words.ts";
import { Drawings } from "./drawing.tsx";
import { Form, FormMark } from "./form.tsx";
import { Sheet } from "./sheet.tsx";
import { LoopStrip } from "./strip.tsx";
import { ACT, cutForNarrow, glued, QUIET, styles } from "./style.ts";

type Of<Kind extends Block["kind"]> = Extract<Block, { readonly kind: Kind }>;

/** A row taller than this may break over pages; shorter ones stay whole. */
const LONG_TEXT = 900;
/** A column narrower than this share of the page has its long words cut shorter. */
const NARROW = 30;

/** So much of what follows must stand on the same page. */
const HEAD = 24;
/** What is taller than this may break anyway. */
const MOST_KEPT = 400;
const KEEP_WITH = { heading: 100, subheading: 58, tableHead: 76 } as const;

/** Where each reference of the paper is told in full. */
export const AnchorsOf = createContext<Anchors>(new Map());

/** The references that changed since the paper before. */
export const ChangedOf = createContext<ReadonlySet<string>>(new Set());

/** The bar in the margin beside what changed. */
const ChangeBar = ({ refs }: { readonly refs: string }): ReactElement | null =>
  bearsAny(refs, useContext(ChangedOf)) ? <View style={styles.changeBar} /> : null;

/** A text whose references lead to where they are told; it looks like any other. */
const Linked = ({ text }: { readonly text: string }): ReactElement => {
  const pieces = wholeWords(followed(glued(text), useContext(AnchorsOf)));
  let at = 0;
  return (
    <>
      {pieces.map((piece) => {
        at += typeof piece === "string" ? piece.length : piece.ref.length;
        return typeof piece === "string" ? (
          piece
        ) : (
          <Link key={at} src={`#${piece.to}`} style={styles.inside}>
            {piece.ref}
          </Link>
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

const Asks = ({ lines }: Of<"asks">): ReactElement => (
  <View style={styles.asks}>
    {lines.map(({ who, what, by }) => (
      <View key={`${who}${what}`} style={styles.row} wrap={false}>
        <Text style={[styles.cell, styles.strong, { width: "14.5%" }]}>{who}</Text>
        <Text style={[styles.cell, { width: "66%" }]}>
          <Linked text={what} />
        </Text>
        <Text style={[styles.strong, { width: "19.5%", color: ACT }]}>{by}</Text>
      </View>
    ))}
  </View>
);

const Cell = ({ text, share, strong }: { readonly text: string; readonly share: number; readonly strong: boolean }): ReactElement => {
  const narrow = share < NARROW ? { hyphenationCallback: cutForNarrow } : {};
  // A line feed inside Text would fall back to another typeface: each line is a Text of its own.
  return (
    <View style={[styles.cell, { width: `${share}%` }]}>
      {text.split("\n").map((line) => (
        <Text key={line} {...narrow} style={strong ? styles.strong : {}}>
          {strong ? glued(line) : <Linked text={line} />}
        </Text>
      ))}
    </View>
  );
};

const Row = ({ columns, row, compact }: Pick<Of<"table">, "columns" | "compact"> & { readonly row: readonly string[] }): ReactElement => (
  <View {...usePlace(row[0] ?? "")} style={compact === true ? styles.compactRow : styles.row} wrap={heightOf(columns, row) > MOST_KEPT}>
    <ChangeBar refs={row[0] ?? ""} />
    {columns.map(({ title, share }, place) => (
      <Cell key={title} text={row[place] ?? ""} share={share} strong={place === 0} />
    ))}
  </View>
);

/** Signs that fit a line over the whole width, and the height of a line, in a table. */
const LINE = { signs: 126, height: 11 } as const;

/** About how high a row will be, in points. */
const heightOf = (columns: Of<"table">["columns"], row: readonly string[]): number =>
  LINE.height *
  Math.max(
    ...columns.map(({ share }, place) =>
      (row[place] ?? "").split("\n").reduce((lines, line) => lines + Math.max(1, Math.ceil(line.length / ((LINE.signs * share) / 100))), 0),
    ),
  );

/** The head of a table never stands alone at the foot of a page: what comes before it keeps room for the whole first row. */
const Table = ({ columns, rows, compact }: Of<"table">): ReactElement => (
  <>
    <View minPresenceAhead={Math.max(KEEP_WITH.tableHead, Math.min(MOST_KEPT, HEAD + heightOf(columns, rows[0] ?? [])))} />
    <View>
      <View style={styles.headRow} fixed>
        {columns.map(({ title, share }) => (
          <Cell key={title} text={title} share={share} strong />
        ))}
      </View>
      {rows.map((row) => (
        <Row key={row.join("|")} columns={columns} row={row} {...(compact === true ? { compact } : {})} />
      ))}
    </View>
  </>
);

const Bullets = ({ items }: Of<"bullets">): ReactElement => (
  <View style={{ paddingTop: 3 }}>
    {items.map((text) => (
      <View key={text} style={{ flexDirection: "row", paddingBottom: 1 }} wrap={text.length > LONG_TEXT}>
        <Text style={{ width: 12 }}>–</Text>
        <Text style={{ flex: 1 }}>{glued(text)}</Text>
      </View>
    ))}
  </View>
);

/** Each act for itself, so that none is cut at the end of a line. */
const Never = ({ acts }: Of<"never">): ReactElement => (
  <View style={styles.never}>
    {acts.map((act) => (
      <Text key={act} style={styles.act}>{`×\u00a0${glued(act)}`}</Text>
    ))}
  </View>
);

const LabelledList = ({ items }: Of<"labelled">): ReactElement => (
  <View style={{ paddingTop: 3 }}>
    {items.map(({ label, text }) => (
      <Text key={text} style={{ paddingBottom: 2 }} wrap={text.length > LONG_TEXT}>
        <Text style={styles.strong}>{`${label}  `}</Text>
        {glued(text)}
      </Text>
    ))}
  </View>
);

/** Facts run in, those of one thing after its name, each value in bold and its reference small behind it. */
const Facts = ({ where, groups }: Of<"facts">): ReactElement => (
  <View style={styles.facts}>
    <Text style={styles.factsOf}>{where}</Text>
    <View style={{ flex: 1 }}>
      {groups.map(({ label, facts }) => (
        <Text key={label} style={{ paddingBottom: 1 }}>
          {label === "" ? "" : `${label}: `}
          {facts.flatMap(({ name, value, refs }, number) => [
            `${number === 0 ? "" : "; "}${name} `,
            <Text key={name} style={styles.strong}>
              {glued(value)}
            </Text>,
            refs === "" ? (
              ""
            ) : (
              <Text key={refs} style={styles.factRef}>
                {` ${unbroken(refs)}`}
              </Text>
            ),
          ])}
        </Text>
      ))}
    </View>
  </View>
);

/** A protection: on the left which, on which sets and what of its loop is proven, on the right how. */
const Protection = ({ refs, name, where, state, how, does, strip, proves, lines, drawings }: Of<"protection">): ReactElement => (
  <View {...usePlace(refs)} style={styles.protection} wrap={[...does, ...lines.map(({ text }) => text)].join("").length > LONG_TEXT}>
    <ChangeBar refs={refs} />
    <View style={styles.which}>
      <Text style={styles.strong}>{`${refs}  ${name}`}</Text>
      <Text style={styles.small}>
        {where === "" ? "" : `${where} · `}
        <Text style={{ color: state === "settled" ? QUIET : ACT }}>{state}</Text>
      </Text>
      {strip.length === 0 ? null : <LoopStrip strip={strip} />}
      {proves === "" ? null : <Text style={styles.proves}>{proves}</Text>}
    </View>
    <View style={{ flex: 1 }}>
      <Text style={styles.strong}>{how}</Text>
      {does.map((text) => (
        <Text key={text}>{glued(text)}</Text>
      ))}
      {lines.map(({ label, text }) => (
        <Text key={`${label}${text}`} style={styles.line}>
          <Text style={styles.label}>{`${label}: `}</Text>
          <Linked text={text} />
        </Text>
      ))}
      {drawings.length === 0 ? null : <Drawings drawings={drawings} />}
    </View>
  </View>
);

/** A mark in the outline; the layout knows it on every element, its types only on the page. */
const bookmarked = (title: string): object => ({ bookmark: title });

export const BlockView = ({ block }: { readonly block: Block }): ReactElement | null => {
  switch (block.kind) {
    case "heading":
      return (
        <View minPresenceAhead={KEEP_WITH.heading} wrap={false} {...bookmarked(block.text)}>
          <Text style={styles.heading}>{block.text}</Text>
        </View>
      );
    case "subheading":
      return (
        <View minPresenceAhead={KEEP_WITH.subheading} wrap={false} style={styles.under}>
          <Text style={styles.small}>
            <Text style={styles.subheading}>{block.note === undefined || block.note === "" ? block.text : `${block.text}   `}</Text>
            {block.note}
          </Text>
        </View>
      );
    case "paragraph":
      return (
        <Text style={[styles.paragraph, block.tone === "quiet" ? styles.small : block.tone === "fine" ? styles.fine : {}]}>
          {glued(block.text)}
        </Text>
      );
    case "asks":
      return <Asks {...block} />;
    case "table":
      return <Table {...block} />;
    case "bullets":
      return <Bullets {...block} />;
    case "drawings":
      return <Drawings drawings={block.drawings} />;
    case "signature":
      return (
        <View style={styles.signature} wrap={false}>
          <Text style={styles.signed}>{block.text}</Text>
        </View>
      );
    case "newPage":
      return null;
    case "never":
      return <Never {...block} />;
    case "labelled":
      return <LabelledList {...block} />;
    case "facts":
      return <Facts {...block} />;
    case "protection":
      return <Protection {...block} />;
    case "form":
      return <Form {...block} />;
    case "formMark":
      return <FormMark {...block} />;
    default:
      return <Sheet block={block} />;
  }
};
