import type { DaySettings } from "../../model/daySettings.ts";
import type { Minute, Task } from "../../schedule/problem.ts";
import { minuteOf } from "./times.ts";
import type { DayTask } from "./types.ts";

/** A time asked for a task. */
export interface Pin {
  readonly task: string;
  readonly is: DaySettings["pins"][number]["is"];
  readonly at: Minute;
}

/** What is asked of times otherwise than usual. */
export interface AskedTimes {
  readonly pins: readonly Pin[];
  readonly minutes: readonly { readonly task: string; readonly minutes: number }[];
}

/** The times asked for in settings, from midnight before the first day. */
export const askedOf = ({ pins, minutes }: Pick<DaySettings, "pins" | "minutes">, first: string): AskedTimes => ({
  pins: pins.map(({ task, is, time }) => ({ task, is, at: minuteOf(time, first) })),
  minutes,
});

/** A task with the times asked for it: of several the strictest. */
export const withPins = (task: Task, pins: readonly Pin[]): Task => {
  const own = pins.filter((pin) => pin.task === task.id);
  const earliest = Math.max(task.earliest ?? 0, ...own.filter(({ is }) => is !== "done by").map(({ at }) => at));
  const latest = Math.min(
    task.latest ?? Number.POSITIVE_INFINITY,
    ...own.filter(({ is }) => is !== "not before").map(({ is, at }) => (is === "begins at" ? at + task.minutes : at)),
  );
  return own.length === 0 ? task : { ...task, earliest, ...(Number.isFinite(latest) ? { latest } : {}) };
};

/** A task of other length: who is free before its end is so still, and no start comes after it. */
export const withMinutes = (task: Task, minutes: number): Task => ({
  ...task,
  minutes,
  ...(task.draws === undefined ? {} : { draws: task.draws.map((draw) => ({ ...draw, at: Math.min(draw.at ?? 0, minutes) })) }),
});

/** The fewest minutes that a task can be given: more than the restart at its end. */
export const fewestMinutes = ({ restart }: Pick<DayTask, "restart">): number => restart + 1;
