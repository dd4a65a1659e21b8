import type { Drawing as Drawn } from "../../lib/drawing/shapes.ts";
import { Drawing } from "../../lib/letter/html/drawing.tsx";

interface Props {
  readonly title: string;
  readonly drawing: Drawn;
  /** The same in figures, for whoever would rather read. */
  readonly rows: readonly (readonly [what: string, amount: string])[];
}

/** A drawing with the table that says the same. */
export const Figure = ({ title, drawing, rows }: Props) => (
  <figure>
    <figcaption>{title}</figcaption>
    <Drawing drawing={drawing} />
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
