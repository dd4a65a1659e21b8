import type { Minute } from "../../schedule/problem.ts";
import type { DayFault } from "../../schedule/sound.ts";
import { longDate } from "../longDate.ts";
import { small } from "../say.ts";
import { A_DAY, clockOf, dateOf, lengthWords } from "./times.ts";
import type { DayLane, DayLine, DayPlan, DayQuality, DaySetup, DayTask } from "./types.ts";

/** "13:05", with the day where the visit has several. */
export const momentWords = (minute: Minute, days: DaySetup["days"]): string =>
  days.length > 1 ? `${clockOf(minute)} on ${longDate(dateOf(minute, days[0]?.date ?? ""))}` : clockOf(minute);

/** "T3 Low lube-oil pressure" or "Papers". */
export const taskWords = ({ ref, what }: Pick<DayTask, "ref" | "what">): string => (ref === undefined ? what : `${ref} ${what}`);

interface Naming {
  readonly setup: Pick<DaySetup, "tasks" | "lanes" | "stores" | "days">;
}

const nameOf = (id: string, { setup }: Naming): string => {
  const task = setup.tasks.find((one) => one.id === id);
  return task === undefined ? id : taskWords(task);
};

const laneOf = (id: string, { setup }: Naming): string => setup.lanes.find((lane) => lane.id === id)?.label ?? id;

const round = (value: number): string => String(Math.round(value * 10) / 10);

/** Why a task cannot be on the day at all, in words, with the nearest that would work. */
export const faultWords = (fault: DayFault, naming: Naming): string => {
  switch (fault.kind) {
    case "not a time":
      return `${fault.given} is no number of minutes`;
    case "unknown":
      return `there is no “${fault.names}” in this day`;
    case "waits for itself":
      return `it waits for itself: ${fault.tasks.map((id) => nameOf(id, naming)).join(", ")}`;
    case "more than there is":
      return fault.resource === "load"
        ? `with this set away ${round(fault.wants)} kW of rating are off the board and only ${round(fault.has)} kW can be spared; with less load on the board it could be done`
        : `it wants ${round(fault.wants)} of ${small(laneOf(fault.resource, naming))} at once, there ${fault.has === 1 ? "is" : "are"} ${round(fault.has)}; with ${round(fault.wants)} it could be done`;
    case "not in store": {
      const store = naming.setup.stores.find(({ id }) => id === fault.store)?.label ?? fault.store;
      return `it wants ${round(fault.wants)} ${fault.wants === 1 ? "start" : "starts"} of ${store} above its floor and the store gives ${round(fault.gives)}; with a larger store, a second source or a lower floor it could be done`;
    }
    case "too long":
      return `it takes ${lengthWords(fault.minutes)} in one go and the longest time that all it needs are there is ${lengthWords(fault.longest)}; with longer hours or without the pause it could be done`;
    case "cannot begin so early":
    case "cannot end so early":
      return `the earliest that it can ${fault.kind === "cannot begin so early" ? "begin" : "end"} is ${momentWords(fault.nearest, naming.setup.days)}`;
  }
};

const gapWords = (gap: number): string => (gap <= 0 ? "proven shortest" : `at most ${lengthWords(gap)} longer than the shortest possible`);

/** On how many days a technician comes: a day costs more than its minutes. */
const comesOn = ({ id, kind, label }: DayLane, lines: readonly DayLine[]): readonly string[] => {
  const on = new Set(lines.flatMap(({ takes, begins }) => (takes.some(({ lane }) => lane === id) ? [Math.floor(begins / A_DAY)] : [])));
  return kind !== "technician" || on.size === 0 ? [] : [`${label}: on ${on.size} ${on.size === 1 ? "day" : "days"}`];
};

/** How good an order is, in words: the end of the day and the attendance of technicians. */
export const qualityWords = (
  { ends, lengthGap, attendance, attendanceGap }: DayQuality,
  { days, lanes, lines }: Pick<DayPlan, "days" | "lanes" | "lines">,
): readonly string[] => [
  `Ends ${momentWords(ends, days)}: ${gapWords(lengthGap)}.`,
  ...(lanes.some(({ kind }) => kind === "technician")
    ? [
        `Technicians attend ${lengthWords(attendance)}: ${gapWords(attendanceGap)}.`,
        ...(days.length > 1 ? [`${lanes.flatMap((lane) => comesOn(lane, lines)).join("; ")}.`] : []),
      ]
    : []),
];
