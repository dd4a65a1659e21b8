import type { ReactElement } from "react";
import { type Drawing as Drawn, isWide, type Leading, PENS, type Plain, pathOf, plainIn } from "../../drawing/shapes.ts";

const penOf = ({ heavy }: { readonly heavy?: true }) => (heavy === true ? PENS.heavy : PENS.usual);
/** The ground of the page, where it has one of its own. */
const PAPER = "var(--paper, #fff)";

const ShapeView = ({ shape }: { readonly shape: Plain }): ReactElement => {
  if ("line" in shape) {
    const [x1, y1, x2, y2] = shape.line;
    return <line x1={x1} y1={y1} x2={x2} y2={y2} stroke="currentColor" {...penOf(shape)} />;
  }
  if ("box" in shape) {
    const [x, y, width, height] = shape.box;
    const fill = shape.filled === true ? "currentColor" : shape.covering === true ? PAPER : "none";
    return <rect x={x} y={y} width={width} height={height} stroke="currentColor" {...penOf(shape)} fill={fill} />;
  }
  if ("strokes" in shape)
    return (
      <path
        d={pathOf(shape)}
        stroke="currentColor"
        {...PENS[shape.pen ?? "usual"]}
        fill={shape.filled === true ? "currentColor" : "none"}
      />
    );
  const { words, at, size = 7.5, anchor, strong, turned } = shape;
  return (
    <text
      x={at[0]}
      y={at[1]}
      fontSize={size}
      fill="currentColor"
      {...(anchor === undefined ? {} : { textAnchor: anchor })}
      {...(strong === true ? { fontWeight: 600 } : {})}
      {...(turned === true ? { transform: `rotate(-90 ${at[0]} ${at[1]})` } : {})}
    >
      {words}
    </text>
  );
};

const Shapes = ({ shapes }: { readonly shapes: readonly Plain[] }): ReactElement => (
  <>
    {shapes.map((shape) => (
      <ShapeView key={JSON.stringify(shape)} shape={shape} />
    ))}
  </>
);

export const Drawing = ({ drawing }: { readonly drawing: Drawn }): ReactElement => {
  const { width, height, says } = drawing;
  return (
    <svg className={isWide(drawing) ? "drawing wide" : "drawing"} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={says}>
      <title>{says}</title>
      <Shapes shapes={plainIn(drawing)} />
    </svg>
  );
};

/** What is drawn in several places is reached by the keyboard in one. */
const Link = ({ leading: { to, says, again, shapes } }: { readonly leading: Leading }): ReactElement => (
  <a href={`#${to}`} {...(again === true ? { tabIndex: -1, "aria-hidden": true } : { "aria-label": says })}>
    <title>{says}</title>
    <Shapes shapes={shapes} />
  </a>
);

/** A drawing on a page that tells the same elsewhere: what leads there is a link. It is no image then, whose inside nobody would be let into. */
export const LinkedDrawing = ({ drawing }: { readonly drawing: Drawn }): ReactElement => {
  const { width, height, name, says, shapes } = drawing;
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset is no part of an SVG
    <svg className="drawing" viewBox={`0 0 ${width} ${height}`} role="group" aria-label={name ?? says}>
      {name === undefined ? null : <desc>{says}</desc>}
      {shapes.map((shape) =>
        "shapes" in shape ? <Link key={JSON.stringify(shape)} leading={shape} /> : <ShapeView key={JSON.stringify(shape)} shape={shape} />,
      )}
    </svg>
  );
};
