import type { PolicyChange } from "../../lib/compare/policies.ts";
import { Scroll } from "../frame/Scroll.tsx";

interface Props {
  readonly label: string;
  readonly changes: readonly PolicyChange[];
  readonly was: string;
  readonly now: string;
}

/** In what two policies differ: field, was, now. */
export const PolicyChanges = ({ label, changes, was, now }: Props) => (
  <Scroll label={label}>
    <table className="cards">
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col">{was}</th>
          <th scope="col">{now}</th>
        </tr>
      </thead>
      <tbody>
        {changes.map((change) => (
          <tr key={change.id}>
            <th scope="row">{change.label}</th>
            <td data-label={was}>{change.was}</td>
            <td data-label={now}>{change.now}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </Scroll>
);
