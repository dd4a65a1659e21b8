import { Line, Rect, Svg, Text, View } from "@react-pdf/renderer";
import type { ReactElement } from "react";
import type { Strip } from "../blocks.ts";
import { INK, styles } from "./style.ts";

const WIDTH = 121;
const HEIGHT = 7;
const GAP = 5;

const hatching = (): readonly number[] => Array.from({ length: Math.ceil((WIDTH + HEIGHT) / GAP) }, (_, place) => place * GAP);

/** Solid where proven, hatched where only seen at running value or to move, empty where open. */
const Segment = ({ state }: { readonly state: Strip["state"] }): ReactElement => (
  <Svg width={WIDTH} height={HEIGHT} viewBox={`0 0 ${WIDTH} ${HEIGHT}`}>
    <Rect
      x={0.8}
      y={0.4}
      width={WIDTH - 1.6}
      height={HEIGHT - 0.8}
      fill={state === "set point" ? INK : "#ffffff"}
      stroke={INK}
      strokeWidth={0.8}
    />
    {state === "running value" || state === "movement"
      ? hatching().map((x) => (
          <Line
            key={x}
            x1={Math.max(0.8, x - HEIGHT)}
            y1={x < HEIGHT ? x : HEIGHT - 0.8}
            x2={Math.min(WIDTH - 0.8, x)}
            y2={x > WIDTH ? x - WIDTH : 0.8}
            stroke={INK}
            strokeWidth={0.8}
          />
        ))
      : null}
  </Svg>
);

/** The loop strip: four joined segments, each with its name and state in words. */
export const LoopStrip = ({ strip }: { readonly strip: readonly Strip[] }): ReactElement => (
  <View style={styles.strip} wrap={false}>
    {strip.map(({ part, state, word }) => (
      <View key={part} style={{ width: WIDTH }}>
        <Segment state={state} />
        <Text style={styles.tiny}>{`${part}: ${word}`}</Text>
      </View>
    ))}
  </View>
);
