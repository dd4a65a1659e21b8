import type { Kept } from "../../lib/store/privacy/inventory.ts";
import { Scroll } from "../frame/Scroll.tsx";

/** What is kept about people, place by place. */
export const KeptTable = ({ kept }: { readonly kept: readonly Kept[] }) => (
  <Scroll label="What is kept about people">
    <table className="cards">
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col">Whose</th>
          <th scope="col">Why</th>
          <th scope="col">How long</th>
          <th scope="col">In a copy</th>
          <th scope="col">When erased</th>
        </tr>
      </thead>
      <tbody>
        {kept.map(({ table, called, whose, why, howLong, exported, erased }) => (
          <tr key={table}>
            <th scope="row">{called}</th>
            <td data-label="Whose">{whose}</td>
            <td data-label="Why">{why}</td>
            <td data-label="How long">{howLong}</td>
            <td data-label="In a copy">{exported}</td>
            <td data-label="When erased">{erased}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </Scroll>
);
