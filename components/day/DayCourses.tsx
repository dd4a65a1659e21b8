import { daySpan } from "../../lib/drawing/dayAxis.ts";
import { loadTold } from "../../lib/drawing/dayLoad.ts";
import { storeTold } from "../../lib/drawing/dayStores.ts";
import { longDate } from "../../lib/letter/words.ts";
import type { DayPlan } from "../../lib/plan/day/types.ts";

interface Props {
  readonly plan: DayPlan;
  readonly day: number;
}

const Stores = ({ plan, day }: Props) => (
  <table className="cards">
    <caption>{`Starting energy on ${longDate(plan.days[day]?.date ?? "")}`}</caption>
    <thead>
      <tr>
        <th scope="col">Store</th>
        <th scope="col">Full</th>
        <th scope="col">Floor</th>
        <th scope="col">Lowest</th>
        <th scope="col">Highest</th>
      </tr>
    </thead>
    <tbody>
      {plan.stores.map((store) => {
        const { full, floor, lowest, highest } = storeTold(store, daySpan(plan, day));
        return (
          <tr key={store.id}>
            <th scope="row">{store.label}</th>
            <td data-label="Full">{full}</td>
            <td data-label="Floor">{floor}</td>
            <td data-label="Lowest">{lowest}</td>
            <td data-label="Highest">{highest}</td>
          </tr>
        );
      })}
    </tbody>
  </table>
);

/** What the courses of a day show, in figures: each store against its floor, and the load against what is on the board. */
export const DayCourses = ({ plan, day }: Props) => {
  const load = plan.load === null ? null : loadTold(plan.load, daySpan(plan, day));
  return (
    <>
      {plan.stores.length === 0 ? null : <Stores plan={plan} day={day} />}
      {load === null ? null : (
        <table className="cards">
          <caption>{`Load and running capacity on ${longDate(plan.days[day]?.date ?? "")}`}</caption>
          <thead>
            <tr>
              <th scope="col">Needed</th>
              <th scope="col">Least rated on the board</th>
              <th scope="col">Limit then</th>
            </tr>
          </thead>
          <tbody>
            <tr>
              <td data-label="Needed">{load.needed}</td>
              <td data-label="Least rated on the board">{load.least}</td>
              <td data-label="Limit then">{load.limit}</td>
            </tr>
          </tbody>
        </table>
      )}
    </>
  );
};
