import { Text, View } from "@react-pdf/renderer";
import type { ReactElement } from "react";
import type { Block } from "../blocks.ts";
import { LoopStrip } from "./strip.tsx";
import { ACT, cutForNarrow, DANGER, glued, INK, QUIET, styles } from "./style.ts";

type Of<Kind extends Block["kind"]> = Extract<Block, { readonly kind: Kind }>;

/** A row taller than this may break over pages; shorter ones stay whole. */
const LONG_TEXT = 900;
/** A column narrower than this share of the page has its long words cut shorter. */
const NARROW = 30;

const Asks = ({ lines }: Of<"asks">): ReactElement => (
  <View>
    {lines.map(({ who, what, by }) => (
      <View key={`${who}${what}`} style={styles.row} wrap={false}>
        <Text style={[styles.cell, styles.strong, { width: "17%" }]}>{who}</Text>
        <Text style={[styles.cell, { width: "62%" }]}>{what}</Text>
        <Text style={[styles.strong, { width: "21%", color: ACT }]}>{`by ${by}`}</Text>
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
          {glued(line)}
        </Text>
      ))}
    </View>
  );
};

const Table = ({ columns, rows, compact }: Of<"table">): ReactElement => (
  <View>
    <View style={styles.headRow} fixed>
      {columns.map(({ title, share }) => (
        <Cell key={title} text={title} share={share} strong />
      ))}
    </View>
    {rows.map((row) => (
      <View key={row.join("|")} style={compact === true ? styles.compactRow : styles.row} wrap={row.join("").length > LONG_TEXT}>
        {columns.map(({ title, share }, place) => (
          <Cell key={title} text={row[place] ?? ""} share={share} strong={place === 0} />
        ))}
      </View>
    ))}
  </View>
);

const Bullets = ({ items, tone }: Of<"bullets">): ReactElement => (
  <View style={{ paddingTop: 3 }}>
    {items.map((text) => (
      <View key={text} style={{ flexDirection: "row", paddingBottom: 2 }} wrap={text.length > LONG_TEXT}>
        <Text style={{ width: 12, color: tone === "danger" ? DANGER : INK }}>{tone === "danger" ? "×" : "–"}</Text>
        <Text style={{ flex: 1, color: tone === "danger" ? DANGER : INK }}>{glued(text)}</Text>
      </View>
    ))}
  </View>
);

const LabelledList = ({ items }: Of<"labelled">): ReactElement => (
  <View style={{ paddingTop: 3 }}>
    {items.map(({ label, text }) => (
      <View key={text} style={{ flexDirection: "row", paddingBottom: 2 }} wrap={false}>
        <Text style={styles.refs}>{label}</Text>
        <Text style={{ flex: 1 }}>{glued(text)}</Text>
      </View>
    ))}
  </View>
);

type Fact = Of<"facts">["facts"][number];

const pairs = (facts: readonly Fact[]): readonly (readonly Fact[])[] =>
  facts.flatMap((_, place) => (place % 2 === 0 ? [facts.slice(place, place + 2)] : []));

/** Facts two in a row, each with its value in bold. */
const Facts = ({ where, facts }: Of<"facts">): ReactElement => {
  const [first = [], ...rest] = pairs(facts);
  const row = (pair: readonly Fact[]): ReactElement => (
    <View key={pair[0]?.name ?? ""} style={styles.factRow} wrap={false}>
      {pair.map(({ name, value }) => (
        <Text key={name} style={styles.fact}>
          {`${name}: `}
          <Text style={styles.strong}>{glued(value)}</Text>
        </Text>
      ))}
    </View>
  );
  return (
    <View style={{ paddingTop: 5 }}>
      <View wrap={false}>
        <Text style={styles.strong}>{where}</Text>
        {row(first)}
      </View>
      {rest.map(row)}
    </View>
  );
};

const Protection = ({ refs, name, state, how, does, strip, lines }: Of<"protection">): ReactElement => (
  <View style={styles.protection}>
    <View wrap={false}>
      <Text style={{ fontSize: 10.5 }}>
        <Text style={styles.strong}>{`${refs}  ${name}`}</Text>
        <Text style={{ color: state === "settled" ? QUIET : ACT }}>{`   ${state}`}</Text>
      </Text>
      <Text style={styles.strong}>{how}</Text>
      {strip.length === 0 ? null : <LoopStrip strip={strip} />}
      {does.map((text) => (
        <Text key={text}>{glued(text)}</Text>
      ))}
    </View>
    {lines.map(({ label, text }) => (
      <View key={`${label}${text}`} style={styles.line} wrap={text.length > LONG_TEXT}>
        <Text style={styles.label}>{label}</Text>
        <Text style={{ flex: 1 }}>{glued(text)}</Text>
      </View>
    ))}
  </View>
);

/** So much of what follows must stand on the same page as its heading. */
const KEEP_WITH = { heading: 150, subheading: 90 } as const;

export const BlockView = ({ block }: { readonly block: Block }): ReactElement => {
  switch (block.kind) {
    case "heading":
      return (
        <View minPresenceAhead={KEEP_WITH.heading} wrap={false}>
          <Text style={styles.heading}>{block.text}</Text>
        </View>
      );
    case "subheading":
      return (
        <View minPresenceAhead={KEEP_WITH.subheading} wrap={false}>
          <Text style={styles.subheading}>{block.text}</Text>
          {block.note === undefined ? null : <Text style={styles.small}>{block.note}</Text>}
        </View>
      );
    case "paragraph":
      return <Text style={[styles.paragraph, block.tone === "quiet" ? styles.small : {}]}>{glued(block.text)}</Text>;
    case "asks":
      return <Asks {...block} />;
    case "table":
      return <Table {...block} />;
    case "bullets":
      return <Bullets {...block} />;
    case "labelled":
      return <LabelledList {...block} />;
    case "facts":
      return <Facts {...block} />;
    case "protection":
      return <Protection {...block} />;
  }
};
