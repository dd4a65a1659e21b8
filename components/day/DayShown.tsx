import { A_DAY } from "../../lib/plan/day/times.ts";
import type { DayPlan, LeftOut } from "../../lib/plan/day/types.ts";
import { qualityWords } from "../../lib/plan/day/words.ts";
import { longDate } from "../../lib/plan/longDate.ts";
import { capital } from "../../lib/plan/say.ts";
import { DayDrawing, type Unseen } from "./DayDrawing.tsx";
import { DayTable } from "./DayTable.tsx";

/** What is left out for the same reason stands together. */
const byReason = (leftOut: readonly LeftOut[]): readonly (readonly [why: string, items: readonly LeftOut[]])[] => {
  const alike = new Map<string, LeftOut[]>();
  for (const one of leftOut) alike.set(one.why, [...(alike.get(one.why) ?? []), one]);
  return [...alike];
};

/** The order of the day: how good it is, what cannot be kept, what is left out and why, each day drawn and as a table. */
export const DayShown = ({ plan, unseen }: { readonly plan: DayPlan; readonly unseen?: Unseen }) => (
  <>
    <div className="day-sum" aria-live="polite">
      {plan.lines.length === 0 ? (
        <p>Nothing can be put in order as things stand.</p>
      ) : (
        qualityWords(plan.quality, plan).map((words) => <p key={words}>{words}</p>)
      )}
      {plan.refused.length === 0 ? null : (
        <div className="note warn">
          <h2>Not kept of what was asked for</h2>
          <ul>
            {plan.refused.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </div>
      )}
    </div>
    {plan.leftOut.length === 0 ? null : (
      <section aria-labelledby="left-out">
        <h2 id="left-out">{`Not on ${plan.days.length > 1 ? "these days" : "this day"}`}</h2>
        {byReason(plan.leftOut).map(([why, items]) => (
          <div key={why}>
            <p>{`${capital(why)}. ${items.length > 1 ? "The least important first:" : ""}`}</p>
            <ul>
              {items.map(({ ref, what }) => (
                <li key={`${ref ?? ""}${what}`}>
                  {ref === undefined ? null : <strong>{ref} </strong>}
                  {what}
                </li>
              ))}
            </ul>
          </div>
        ))}
      </section>
    )}
    {plan.days.map(({ date }, day) =>
      plan.lines.some(({ begins }) => Math.floor(begins / A_DAY) === day) ? (
        <section key={date} aria-label={longDate(date)}>
          <h2>{longDate(date)}</h2>
          <DayDrawing plan={plan} day={day} unseen={unseen} />
          <DayTable plan={plan} day={day} />
        </section>
      ) : null,
    )}
    {plan.assumed.length === 0 ? null : (
      <section aria-labelledby="assumed">
        <h2 id="assumed">What the day takes for granted</h2>
        <ul>
          {plan.assumed.map(({ text, mark }) => (
            <li key={text}>{`${text} [${mark}]`}</li>
          ))}
        </ul>
      </section>
    )}
  </>
);
