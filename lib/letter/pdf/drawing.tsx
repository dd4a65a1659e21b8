import { Line, Rect, Svg, Text, View } from "@react-pdf/renderer";
import type { ReactElement } from "react";
import type { Drawing as DrawingData, Shape } from "../../drawing/shapes.ts";
import { FAMILY, INK, styles } from "./style.ts";

/** Two drawings fit the width of the page. */
const SCALE = 0.85;

const ShapeView = ({ shape }: { readonly shape: Shape }): ReactElement => {
  if ("line" in shape) {
    const [x1, y1, x2, y2] = shape.line;
    return <Line x1={x1} y1={y1} x2={x2} y2={y2} stroke={INK} strokeWidth={shape.heavy === true ? 1.6 : 0.7} />;
  }
  if ("box" in shape) {
    const [x, y, width, height] = shape.box;
    return <Rect x={x} y={y} width={width} height={height} stroke={INK} strokeWidth={0.7} fill={shape.filled === true ? INK : "#ffffff"} />;
  }
  return (
    <Text x={shape.at[0]} y={shape.at[1]} style={{ fontFamily: FAMILY, fontSize: 8.5 }} fill={INK}>
      {shape.words}
    </Text>
  );
};

/** A drawing at a scale of its own. */
export const Drawn = ({ drawing, scale }: { readonly drawing: DrawingData; readonly scale: number }): ReactElement => (
  <Svg width={drawing.width * scale} height={drawing.height * scale} viewBox={`0 0 ${drawing.width} ${drawing.height}`}>
    {drawing.shapes.map((shape) => (
      <ShapeView key={JSON.stringify(shape)} shape={shape} />
    ))}
  </Svg>
);

/** Drawings side by side. */
export const Drawings = ({ drawings }: { readonly drawings: readonly DrawingData[] }): ReactElement => (
  <View style={styles.drawings} wrap={false}>
    {drawings.map((drawing) => (
      <Drawn key={drawing.says} drawing={drawing} scale={SCALE} />
    ))}
  </View>
);
