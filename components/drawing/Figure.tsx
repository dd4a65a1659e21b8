import type { Drawing, Shape } from "../../lib/drawing/shapes.ts";

const ShapeView = ({ shape }: { readonly shape: Shape }) => {
  if ("line" in shape) {
    const [x1, y1, x2, y2] = shape.line;
    return <line x1={x1} y1={y1} x2={x2} y2={y2} stroke="currentColor" strokeWidth={shape.heavy === true ? 1.6 : 0.7} />;
  }
  if ("box" in shape) {
    const [x, y, width, height] = shape.box;
    return (
      <rect
        x={x}
        y={y}
        width={width}
        height={height}
        stroke="currentColor"
        strokeWidth={0.7}
        fill={shape.filled === true ? "currentColor" : "none"}
      />
    );
  }
  return (
    <text x={shape.at[0]} y={shape.at[1]} fontSize={7.5} fill="currentColor">
      {shape.words}
    </text>
  );
};

interface Props {
  readonly title: string;
  readonly drawing: Drawing;
  /** The same in figures, for whoever would rather read. */
  readonly rows: readonly (readonly [what: string, amount: string])[];
}

/** A drawing with the table that says the same. */
export const Figure = ({ title, drawing: { width, height, says, shapes }, rows }: Props) => (
  <figure>
    <figcaption>{title}</figcaption>
    <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label={says}>
      {shapes.map((shape) => (
        <ShapeView key={JSON.stringify(shape)} shape={shape} />
      ))}
    </svg>
    <details>
      <summary>The same as a table</summary>
      <table>
        <caption className="unseen">{title}</caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col" className="number">
              How much
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(([what, amount]) => (
            <tr key={what}>
              <th scope="row">{what}</th>
              <td className="number">{amount}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  </figure>
);
