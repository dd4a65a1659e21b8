import { Text, View } from "@react-pdf/renderer";
import type { ReactElement } from "react";
import type { Block } from "../blocks.ts";
import { LoopStrip } from "./strip.tsx";
import { ACT, DANGER, INK, QUIET, styles } from "./style.ts";

type Of<Kind extends Block["kind"]> = Extract<Block, { readonly kind: Kind }>;

/** A row taller than this may break over pages; shorter ones stay whole. */
const LONG_TEXT = 900;

const Asks = ({ lines }: Of<"asks">): ReactElement => (
  <View>
    {lines.map(({ who, what, by }) => (
      <View key={`${who}${what}`} style={styles.row} wrap={false}>
        <Text style={[styles.cell, styles.strong, { width: "20%" }]}>{who}</Text>
        <Text style={[styles.cell, { width: "60%" }]}>{what}</Text>
        <Text style={[styles.strong, { width: "20%", color: ACT }]}>{`by ${by}`}</Text>
      </View>
    ))}
  </View>
);

const Table = ({ columns, rows, plain }: Of<"table">): ReactElement => (
  <View>
    <View style={styles.headRow} fixed>
      {columns.map(({ title, share }) => (
        <Text key={title} style={[styles.cell, styles.strong, { width: `${share}%`, fontSize: 8.5 }]}>
          {title}
        </Text>
      ))}
    </View>
    {rows.map((row) => (
      <View key={row.join("|")} style={plain === true ? styles.plainRow : styles.row} wrap={row.join("").length > LONG_TEXT}>
        {row.map((text, place) => (
          <Text
            key={columns[place]?.title ?? place}
            style={[styles.cell, { width: `${columns[place]?.share ?? 10}%` }, place === 0 && plain !== true ? styles.strong : {}]}
          >
            {text}
          </Text>
        ))}
      </View>
    ))}
  </View>
);

const Bullets = ({ items, tone }: Of<"bullets">): ReactElement => (
  <View style={{ paddingTop: 4 }}>
    {items.map((text) => (
      <View key={text} style={{ flexDirection: "row", paddingBottom: 2 }} wrap={text.length > LONG_TEXT}>
        <Text style={{ width: 12, color: tone === "danger" ? DANGER : INK }}>{tone === "danger" ? "×" : "–"}</Text>
        <Text style={{ flex: 1, color: tone === "danger" ? DANGER : INK }}>{text}</Text>
      </View>
    ))}
  </View>
);

const Protection = ({ refs, name, state, how, does, strip, lines }: Of<"protection">): ReactElement => (
  <View style={styles.protection} wrap={[...does, ...lines.map(({ text }) => text)].join("").length > 2 * LONG_TEXT}>
    <View wrap={false}>
      <Text style={{ fontSize: 10.5 }}>
        <Text style={styles.strong}>{`${refs}  ${name}`}</Text>
        <Text style={{ color: state === "settled" ? QUIET : ACT }}>{`   ${state}`}</Text>
      </Text>
      <Text style={styles.strong}>{how.charAt(0).toUpperCase() + how.slice(1)}</Text>
      {strip.length === 0 ? null : <LoopStrip strip={strip} />}
    </View>
    {does.map((text) => (
      <Text key={text}>{text}</Text>
    ))}
    {lines.map(({ label, text }) => (
      <View key={`${label}${text}`} style={styles.line} wrap={false}>
        <Text style={styles.label}>{label}</Text>
        <Text style={{ flex: 1 }}>{text}</Text>
      </View>
    ))}
  </View>
);

export const BlockView = ({ block }: { readonly block: Block }): ReactElement => {
  switch (block.kind) {
    case "heading":
      return (
        <Text style={styles.heading} minPresenceAhead={60}>
          {block.text}
        </Text>
      );
    case "subheading":
      return (
        <View minPresenceAhead={60} wrap={false}>
          <Text style={styles.subheading}>{block.text}</Text>
          {block.note === undefined ? null : <Text style={styles.small}>{block.note}</Text>}
        </View>
      );
    case "paragraph":
      return <Text style={[styles.paragraph, block.tone === "quiet" ? styles.small : {}]}>{block.text}</Text>;
    case "asks":
      return <Asks {...block} />;
    case "table":
      return <Table {...block} />;
    case "bullets":
      return <Bullets {...block} />;
    case "protection":
      return <Protection {...block} />;
  }
};
