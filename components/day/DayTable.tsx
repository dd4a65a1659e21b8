import { clockSpan } from "../../lib/drawing/dayAxis.ts";
import { lanesOf, refsOf, rowOf, setNamesOf, withNotes } from "../../lib/drawing/dayLanes.ts";
import { longDate } from "../../lib/letter/words.ts";
import { clockOf } from "../../lib/plan/day/times.ts";
import type { DayLine, DayNote, DayPlan } from "../../lib/plan/day/types.ts";
import { DayCourses } from "./DayCourses.tsx";

interface Props {
  readonly plan: DayPlan;
  /** By its place among the days of the plan. */
  readonly day: number;
}

/** Who takes part in a task; until when, where that is before its end. */
const whoOf = (plan: DayPlan, line: DayLine): string =>
  lanesOf(plan, line, "inspector", "technician", "crew")
    .map(({ id, label }) => {
      const to = line.takes.find(({ lane }) => lane === id)?.to ?? line.ends;
      return to < line.ends ? `${label} until ${clockOf(to)}` : label;
    })
    .join("; ");

const counted = (count: number, one: string, many: string): readonly string[] =>
  count === 0 ? [] : [`${count} ${count === 1 ? one : many}`];

const startsOf = ({ starts, hotStops }: DayLine): string =>
  [...counted(starts, "start", "starts"), ...counted(hotStops, "hot stop", "hot stops")].join(", ");

/** What somebody must know of a task before it begins. */
const heedOf = ({ grave, blind }: DayLine): readonly string[] => [
  ...(grave === true ? ["It wants the inspector’s consent."] : []),
  ...(blind === true ? ["The channel is blind meanwhile."] : []),
];

const Row = ({ plan, line }: { readonly plan: DayPlan; readonly line: DayLine }) => (
  <tr id={rowOf(line.id)}>
    <th scope="row">{clockSpan(line.begins, line.ends)}</th>
    <td data-label="Reference">{refsOf(line).join(", ")}</td>
    <td data-label="Set">{setNamesOf(plan, line)}</td>
    <td data-label="What and how">
      {line.what}
      <span className="cell-way">{line.how}</span>
      {heedOf(line).map((heed) => (
        <strong key={heed} className="heed">
          {heed}
        </strong>
      ))}
    </td>
    <td data-label="Who">{whoOf(plan, line)}</td>
    <td data-label="Restart and reinstatement">{line.restart > 0 ? clockSpan(line.ends - line.restart, line.ends) : ""}</td>
    <td data-label="Starts and hot stops">{startsOf(line)}</td>
  </tr>
);

const Note = ({ from, to, says }: DayNote) => (
  <tr className="wait">
    <th scope="row">{to > from ? clockSpan(from, to) : `after ${clockOf(from)}`}</th>
    <td colSpan={6} data-label="Between">
      {says}
    </td>
  </tr>
);

/** One day in words: a row for each task, to which its bar in the drawing leads, and beneath it what the courses show. */
export const DayTable = ({ plan, day }: Props) => (
  <>
    <table className="cards day-table">
      <caption>{`The order of ${longDate(plan.days[day]?.date ?? "")} as a table`}</caption>
      <thead>
        <tr>
          <th scope="col">Time</th>
          <th scope="col">Reference</th>
          <th scope="col">Set</th>
          <th scope="col">What and how</th>
          <th scope="col">Who</th>
          <th scope="col">Restart and reinstatement</th>
          <th scope="col">Starts and hot stops</th>
        </tr>
      </thead>
      <tbody>
        {withNotes(plan, day).map((one) =>
          "says" in one ? <Note key={one.says + one.from} {...one} /> : <Row key={one.id} plan={plan} line={one} />,
        )}
      </tbody>
    </table>
    <DayCourses plan={plan} day={day} />
  </>
);
