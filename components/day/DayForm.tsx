import { type FormEventHandler, memo } from "react";
import { COMES, type DayFieldFault, type DayTexts, LEAVES, MINUTES, PIN, PIN_TIME } from "../../lib/flow/dayForm.ts";
import { PIN_KINDS } from "../../lib/model/daySettings.ts";
import type { DrawnUp } from "../../lib/plan/day/setup.ts";
import { clockOf } from "../../lib/plan/day/times.ts";
import type { DayPlan, DayTask } from "../../lib/plan/day/types.ts";
import { ChoiceField, ErrorSummary, Hidden, TextField } from "../form/Fields.tsx";

/** What the form that arranges a day shows. */
export interface DayFormProps {
  readonly action: string;
  readonly hidden: Readonly<Record<string, string>>;
  readonly setup: DrawnUp;
  readonly plan: DayPlan;
  readonly texts: DayTexts;
  readonly faults: readonly DayFieldFault[];
  /** What became of the last change. */
  readonly told: string;
  readonly onInput?: FormEventHandler<HTMLFormElement>;
}

const idOf = (field: string): string => `d-${field.replace(/[^\w-]+/g, "-")}`;

const setOf = ({ lanes }: DrawnUp, set: DayTask["set"]): string => lanes.find(({ id }) => id === `set ${set}`)?.label ?? "";

/** The tasks set by set, those of the whole visit first. */
const groupsOf = (setup: DrawnUp): readonly { readonly set: string; readonly tasks: readonly DayTask[] }[] =>
  [...new Set(setup.tasks.map(({ set }) => set))]
    .sort((one, other) => (one ?? -1) - (other ?? -1))
    .map((set) => ({
      set: setOf(setup, set),
      tasks: setup.tasks.filter((task) => task.set === set),
    }));

interface RowProps extends Pick<DayFormProps, "texts" | "faults"> {
  readonly task: DayTask;
  readonly set: string;
  /** When it is now. */
  readonly now: string;
}

const nowOf = (task: DayTask, plan: DayPlan): string => {
  const line = plan.lines.find(({ id }) => id === task.id);
  return line === undefined ? "not on it" : `${clockOf(line.begins)} to ${clockOf(line.ends)}`;
};

/** A task's own line: how long it takes, and when it is asked to be. Drawn anew only where something of it has changed. */
const TaskRow = memo(({ task, set, now, texts, faults }: RowProps) => {
  const name = [task.ref, task.what, set].filter((part) => part !== undefined && part !== "").join(", ");
  const wrong = (field: string) => (faults.some((fault) => fault.field === field) ? { "aria-invalid": true } : {});
  const [minutes, pin, time] = [`${MINUTES}${task.id}`, `${PIN}${task.id}`, `${PIN_TIME}${task.id}`];
  return (
    <tr>
      <th scope="row">
        {task.ref === undefined ? null : `${task.ref} `}
        {task.what}
        <span className="cell-way">{` ${task.how}`}</span>
      </th>
      <td data-label="Now">{now}</td>
      <td data-label="Minutes">
        <input
          id={idOf(minutes)}
          name={minutes}
          type="text"
          defaultValue={texts[minutes] ?? ""}
          placeholder={String(task.minutes)}
          inputMode="numeric"
          className="short"
          aria-label={`Minutes of ${name}, usually ${task.minutes}`}
          {...wrong(minutes)}
        />
      </td>
      <td data-label="Asked for">
        <select id={idOf(pin)} name={pin} defaultValue={texts[pin] ?? ""} aria-label={`What is asked for ${name}`} {...wrong(pin)}>
          <option value="">nothing</option>
          {PIN_KINDS.map((kind) => (
            <option key={kind} value={kind}>
              {kind}
            </option>
          ))}
        </select>{" "}
        <input
          id={idOf(time)}
          name={time}
          type="datetime-local"
          defaultValue={texts[time] ?? ""}
          aria-label={`Time asked for ${name}`}
          {...wrong(time)}
        />
      </td>
    </tr>
  );
});

const minutesHint = "Minutes from empty to full";

/** How the day is arranged: hours, people, stores, technicians, and the times of single tasks. */
export const DayForm = ({ action, hidden, setup, plan, texts, faults, told, onInput }: DayFormProps) => {
  const field = (name: string) => ({
    id: idOf(name),
    name,
    value: texts[name] ?? "",
    fault: faults.find((fault) => fault.field === name)?.says,
  });
  const technicians = setup.lanes.filter(({ kind }) => kind === "technician");
  const touched = (prefixes: readonly string[]): boolean =>
    [...Object.entries(texts).filter(([, text]) => text !== ""), ...faults.map((fault) => [fault.field, ""] as const)].some(([name]) =>
      prefixes.some((prefix) => name.startsWith(prefix)),
    );
  const several = setup.days.length > 1;
  return (
    <form method="post" action={action} noValidate onInput={onInput} className="day-form">
      <ErrorSummary faults={faults.map((fault) => ({ id: fault.field === "" ? "" : idOf(fault.field), says: fault.says }))} />
      <Hidden values={hidden} />
      <details open={faults.length > 0} className="group">
        <summary>Arrange the day: hours, people, stores</summary>
        <div className="day-fields">
          <TextField
            {...field("from")}
            label={several ? "Work begins each day" : "Work begins"}
            hint="By the ship’s clock, such as 08:00"
            width="short"
          />
          <TextField {...field("to")} label="Work ends" hint="At most 14 hours later, for the hours of rest" width="short" />
          <TextField {...field("pauseFrom")} label="Pause from" hint="Empty for no pause" width="short" />
          <TextField {...field("pauseTo")} label="Pause to" width="short" />
          <TextField {...field("engineers")} label="Ship’s engineers who take part" hint="A blind channel wants two" width="short" />
          <TextField {...field("electricians")} label="Ship’s electricians who take part" width="short" />
          <ChoiceField
            {...field("wish")}
            label="Made short first"
            choices={[
              { value: "attendance first", label: "technicians’ attendance, then the day" },
              { value: "day first", label: "the day, then technicians’ attendance" },
            ]}
          />
          <TextField {...field("keepStarts")} label="Starts kept in each store" hint="No store is drawn below" width="short" />
          <TextField {...field("air")} label="Air receivers recharged in" hint={minutesHint} width="short" />
          <TextField {...field("battery")} label="Batteries recharged in" hint={minutesHint} width="short" />
          <TextField {...field("accumulator")} label="Accumulators recharged in" hint={minutesHint} width="short" />
        </div>
        {technicians.length === 0 ? null : (
          <>
            <h3>When technicians can be there</h3>
            {technicians.map(({ id, label }) => (
              <div key={id} className="day-fields">
                {([COMES, LEAVES] as const).map((prefix) => (
                  <div key={prefix} className="field">
                    <label htmlFor={idOf(prefix + id)}>{`${label} ${prefix === COMES ? "comes" : "leaves"}`}</label>
                    <input id={idOf(prefix + id)} name={prefix + id} type="datetime-local" defaultValue={texts[prefix + id] ?? ""} />
                  </div>
                ))}
              </div>
            ))}
          </>
        )}
      </details>
      <details open={touched([MINUTES, PIN, PIN_TIME])} className="group">
        <summary>Change a duration, or ask for a time</summary>
        <table className="cards">
          <caption>Tasks of the day, with what is asked of their times</caption>
          <thead>
            <tr>
              <th scope="col">Task</th>
              <th scope="col">Now</th>
              <th scope="col">Minutes</th>
              <th scope="col">Asked for</th>
            </tr>
          </thead>
          {groupsOf(setup).map(({ set, tasks }) => (
            <tbody key={set}>
              <tr className="group-row">
                <th scope="rowgroup" colSpan={4}>
                  {set === "" ? "The whole visit" : set}
                </th>
              </tr>
              {tasks.map((task) => (
                <TaskRow key={task.id} task={task} set={set} now={nowOf(task, plan)} texts={texts} faults={faults} />
              ))}
            </tbody>
          ))}
        </table>
      </details>
      <div className="acts">
        <button type="submit" name="act" value="keep">
          Keep the day so
        </button>
        <button type="submit" name="act" value="usual" className="second">
          Put all back to the usual
        </button>
        <p className="saved" role="status">
          {told}
        </p>
      </div>
    </form>
  );
};
