import { G, Line, Path, Rect, Svg, Text, View } from "@react-pdf/renderer";
import type { ReactElement } from "react";
import { type Drawing as Drawn, isWide, PENS, type Plain, pathOf, plainIn } from "../../drawing/shapes.ts";
import { FAMILY, INK, styles } from "./style.ts";

/** Two drawings fit the width of the page. */
const SCALE = 0.85;

const PAPER = "#ffffff";
const penOf = ({ heavy }: { readonly heavy?: true }) => (heavy === true ? PENS.heavy : PENS.usual);

const ShapeView = ({ shape }: { readonly shape: Plain }): ReactElement => {
  if ("line" in shape) {
    const [x1, y1, x2, y2] = shape.line;
    return <Line x1={x1} y1={y1} x2={x2} y2={y2} stroke={INK} {...penOf(shape)} />;
  }
  if ("box" in shape) {
    const [x, y, width, height] = shape.box;
    return <Rect x={x} y={y} width={width} height={height} stroke={INK} {...penOf(shape)} fill={shape.filled === true ? INK : PAPER} />;
  }
  if ("strokes" in shape)
    return <Path d={pathOf(shape)} stroke={INK} {...PENS[shape.pen ?? "usual"]} fill={shape.filled === true ? INK : "none"} />;
  const { words, at, size = 8.5, anchor, strong, turned } = shape;
  const text = (
    <Text
      x={at[0]}
      y={at[1]}
      style={{ fontFamily: FAMILY, fontSize: size, fontWeight: strong === true ? 600 : 400 }}
      fill={INK}
      {...(anchor === undefined ? {} : { textAnchor: anchor })}
    >
      {words}
    </Text>
  );
  return turned === true ? <G transform={`rotate(-90 ${at[0]} ${at[1]})`}>{text}</G> : text;
};

export const DrawingView = ({ drawing, scale = SCALE }: { readonly drawing: Drawn; readonly scale?: number }): ReactElement => (
  <Svg width={drawing.width * scale} height={drawing.height * scale} viewBox={`0 0 ${drawing.width} ${drawing.height}`}>
    {plainIn(drawing).map((shape) => (
      <ShapeView key={JSON.stringify(shape)} shape={shape} />
    ))}
  </Svg>
);

/** Drawings side by side; wide ones beneath each other, each whole on its page. */
export const Drawings = ({ drawings }: { readonly drawings: readonly Drawn[] }): ReactElement => {
  const wide = drawings.some(isWide);
  return (
    <View style={wide ? styles.drawingsBeneath : styles.drawings} wrap={wide}>
      {drawings.map((drawing) => (
        <DrawingView key={drawing.says} drawing={drawing} />
      ))}
    </View>
  );
};
