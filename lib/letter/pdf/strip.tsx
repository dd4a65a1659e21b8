import { Line, Rect, Svg, Text, View } from "@react-pdf/renderer";
import type { ReactElement } from "react";
import type { Strip } from "../blocks.ts";
import { INK, styles } from "./style.ts";

/** Widths by the length of the names; together the strip's. */
const WIDTHS: Readonly<Record<string, number>> = { sensing: 34, wiring: 32, logic: 28, "final element": 52 };
const HEIGHT = 7;
const GAP = 4;
const NAME = 7;

const hatching = (width: number): readonly number[] => Array.from({ length: Math.ceil((width + HEIGHT) / GAP) }, (_, place) => place * GAP);

/** Solid where proven, hatched where only seen at running value or to move, empty where open. */
const Segment = ({
  state,
  width,
  scale,
}: {
  readonly state: Strip["state"];
  readonly width: number;
  readonly scale: number;
}): ReactElement => (
  <Svg width={width * scale} height={HEIGHT * scale} viewBox={`0 0 ${width} ${HEIGHT}`}>
    <Rect
      x={0.8}
      y={0.4}
      width={width - 1.6}
      height={HEIGHT - 0.8}
      fill={state === "set point" ? INK : "#ffffff"}
      stroke={INK}
      strokeWidth={0.8}
    />
    {state === "running value" || state === "movement"
      ? hatching(width).map((x) => (
          <Line
            key={x}
            x1={Math.max(0.8, x - HEIGHT)}
            y1={x < HEIGHT ? x : HEIGHT - 0.8}
            x2={Math.min(width - 0.8, x)}
            y2={x > width ? x - width : 0.8}
            stroke={INK}
            strokeWidth={0.8}
          />
        ))
      : null}
  </Svg>
);

/** The loop strip: four joined segments, under their names where they differ; what they say stands in words below. */
export const LoopStrip = ({ strip, scale = 1 }: { readonly strip: readonly Strip[]; readonly scale?: number }): ReactElement => {
  const differ = strip.some(({ state }) => state !== strip[0]?.state);
  return (
    <View style={styles.strip} wrap={false}>
      {strip.map(({ part, state }) => (
        <View key={part} style={{ width: (WIDTHS[part] ?? 0) * scale }}>
          {differ ? <Text style={[styles.segment, { fontSize: NAME * scale }, scale === 1 ? {} : styles.enlarged]}>{part}</Text> : null}
          <Segment state={state} width={WIDTHS[part] ?? 0} scale={scale} />
        </View>
      ))}
    </View>
  );
};
