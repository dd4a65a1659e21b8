import type { Draw, Minute, Span } from "../../schedule/problem.ts";
import type { Pin } from "./asked.ts";
import type { DrawnUp } from "./setup.ts";
import { A_DAY } from "./times.ts";
import type { DayLine, DayWait, StoreCourse } from "./types.ts";

/** Less than this is no wait that anybody asks about. */
const SHORTEST = 20;

/** What of the hours no task fills, from the first hour of a day to its end, on the last day to the last task. */
const emptyIn = (lines: readonly DayLine[], work: readonly Span[]): readonly Span[] => {
  const last = Math.max(0, ...lines.map(({ ends }) => ends));
  return work.flatMap(({ from, to: closes }): readonly Span[] => {
    const to = Math.min(closes, last);
    const empty: Span[] = [];
    let at = from;
    for (const { begins, ends } of lines) {
      if (ends <= at || begins >= to) continue;
      if (begins > at) empty.push({ from: at, to: begins });
      at = Math.max(at, ends);
    }
    if (at < to) empty.push({ from: at, to });
    return empty.filter((span) => span.to - span.from >= SHORTEST);
  });
};

const levelAt = ({ points }: StoreCourse, at: Minute): number => {
  const before = points.findLast(([minute]) => minute <= at);
  const after = points.find(([minute]) => minute > at);
  if (before === undefined) return after?.[1] ?? 0;
  if (after === undefined) return before[1];
  return before[1] + ((after[1] - before[1]) * (at - before[0])) / (after[0] - before[0]);
};

/** Whether a store that holds so much would not do for the draws of a task that began then. */
const isShort = ({ id, holds, floor }: StoreCourse, refill: number, draws: readonly Draw[], level: number): boolean => {
  let [now, then] = [level, 0];
  for (const { store, amount, wants = 0, at = 0 } of draws) {
    if (store !== id) continue;
    now = Math.min(holds, now + (at - then) * refill);
    then = at;
    if (now < Math.max(wants, amount + floor) - 1e-6) return true;
    now -= amount;
  }
  return false;
};

/** Why nothing is done until a task begins: the first reason that holds of those that keep a task from beginning earlier. */
const reasonFor = (wait: Span, next: DayLine, stores: readonly StoreCourse[], pins: readonly Pin[], setup: DrawnUp): string | null => {
  if (pins.some(({ task, is }) => task === next.id && is !== "done by")) return "until the time asked for";
  const draws = setup.problem.tasks.find(({ id }) => id === next.id)?.draws ?? [];
  const short = stores.find((store) => {
    const refill = setup.problem.stores.find(({ id }) => id === store.id)?.refill ?? 0;
    return isShort(store, refill, draws, levelAt(store, wait.from));
  });
  if (short !== undefined) return `until there is enough in ${short.label} again`;
  const technician = setup.lanes.find(({ id, kind }) => kind === "technician" && next.takes.some(({ lane }) => lane === id));
  if (technician === undefined) return null;
  const opens = setup.problem.resources
    .find(({ id }) => id === technician.id)
    ?.open.some(({ from }) => from >= wait.from && from === next.begins && !setup.work.some((span) => span.from === from));
  return opens === true
    ? `until the ${technician.label.toLowerCase()} comes`
    : `so that the ${technician.label.toLowerCase()} need not be there longer`;
};

/** Times in which nobody has anything to do, with why; in their order. Pure. */
export const waitsOf = (
  lines: readonly DayLine[],
  stores: readonly StoreCourse[],
  pins: readonly Pin[],
  setup: DrawnUp,
): readonly DayWait[] =>
  emptyIn(lines, setup.work).map((wait) => {
    // Tasks that begin next: for a wait before a pause or a night those that come after it.
    const begins = Math.min(...lines.filter((line) => line.begins >= wait.to).map((line) => line.begins));
    const reason = lines
      .filter((line) => line.begins === begins)
      .map((line) => reasonFor(wait, line, stores, pins, setup))
      .find((why) => why !== null);
    const atEnd = setup.work.some(({ to }) => to === wait.to);
    const overNight = Math.floor(begins / A_DAY) > Math.floor(wait.from / A_DAY);
    const why =
      reason ??
      (atEnd
        ? `since what comes next does not fit before the ${overNight ? "end of the day" : "pause"}`
        : "until what comes next can begin");
    return { ...wait, why };
  });
