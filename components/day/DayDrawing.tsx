import { dayDrawing } from "../../lib/drawing/day.ts";
import { LinkedDrawing } from "../../lib/letter/html/drawing.tsx";
import { longDate } from "../../lib/letter/words.ts";
import type { DayPlan } from "../../lib/plan/day/types.ts";

interface Props {
  readonly plan: DayPlan;
  /** By its place among the days of the plan. */
  readonly day: number;
}

/** One day as lanes and courses, every task a link to its row of the `DayTable` of the same day: over the whole day, on a telephone a few hours at a time. */
export const DayDrawing = ({ plan, day }: Props) => (
  <figure className="day">
    <figcaption>{`The order of ${longDate(plan.days[day]?.date ?? "")}. Each task leads to its line in the table.`}</figcaption>
    {(["page", "telephone"] as const).map((format) => (
      <div key={format} className={format}>
        {dayDrawing(plan, day, format).map((drawing) => (
          <LinkedDrawing key={drawing.says} drawing={drawing} />
        ))}
      </div>
    ))}
  </figure>
);
