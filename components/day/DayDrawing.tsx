import { memo } from "react";
import { dayDrawing } from "../../lib/drawing/day.ts";
import type { DayFormat } from "../../lib/drawing/dayAxis.ts";
import { LinkedDrawing } from "../../lib/letter/html/drawing.tsx";
import { longDate } from "../../lib/letter/words.ts";
import type { DayPlan } from "../../lib/plan/day/types.ts";

const FORMATS: readonly DayFormat[] = ["page", "telephone"];

/** The drawing that the screen has no room for, with the plan that it shows: it may follow a little later. */
export interface Unseen {
  readonly format: DayFormat;
  readonly plan: DayPlan;
}

interface Props {
  readonly plan: DayPlan;
  readonly unseen?: Unseen | undefined;
  /** By its place among the days of the plan. */
  readonly day: number;
}

const OneFormat = memo(({ plan, day, format }: { readonly plan: DayPlan; readonly day: number; readonly format: DayFormat }) => (
  <div className={format}>
    {dayDrawing(plan, day, format).map((drawing) => (
      <LinkedDrawing key={drawing.says} drawing={drawing} />
    ))}
  </div>
));

/** One day as lanes and courses, every task a link to its row of the `DayTable` of the same day: over the whole day, on a telephone a few hours at a time. */
export const DayDrawing = ({ plan, day, unseen }: Props) => (
  <figure className="day">
    <figcaption>{`The order of ${longDate(plan.days[day]?.date ?? "")}. Each task leads to its line in the table.`}</figcaption>
    {FORMATS.map((format) => (
      <OneFormat key={format} plan={format === unseen?.format ? unseen.plan : plan} day={day} format={format} />
    ))}
  </figure>
);
