import type { ReactElement } from "react";
import type { Drawing as Drawn, Shape } from "../../drawing/shapes.ts";

const ShapeView = ({ shape }: { readonly shape: Shape }): ReactElement => {
  if ("line" in shape) {
    const [x1, y1, x2, y2] = shape.line;
    return <line x1={x1} y1={y1} x2={x2} y2={y2} stroke="currentColor" strokeWidth={shape.heavy === true ? 1.6 : 0.7} />;
  }
  if ("box" in shape) {
    const [x, y, width, height] = shape.box;
    const fill = shape.filled === true ? "currentColor" : "none";
    return <rect x={x} y={y} width={width} height={height} stroke="currentColor" strokeWidth={0.7} fill={fill} />;
  }
  return (
    <text x={shape.at[0]} y={shape.at[1]} fontSize={7.5} fill="currentColor">
      {shape.words}
    </text>
  );
};

export const Drawing = ({ drawing }: { readonly drawing: Drawn }): ReactElement => {
  const { width, height, says, shapes } = drawing;
  return (
    <svg className="drawing" viewBox={`0 0 ${width} ${height}`} role="img" aria-label={says}>
      <title>{says}</title>
      {shapes.map((shape) => (
        <ShapeView key={JSON.stringify(shape)} shape={shape} />
      ))}
    </svg>
  );
};
