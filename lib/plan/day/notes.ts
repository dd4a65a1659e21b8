import type { DayProblem, Draw, Minute, Span } from "../../schedule/problem.ts";
import { small } from "../say.ts";
import type { Pin } from "./asked.ts";
import { COLD } from "./drafted.ts";
import { isMorning } from "./mornings.ts";
import type { DrawnUp } from "./setup.ts";
import { A_DAY, lengthWords } from "./times.ts";
import type { DayLine, DayNote, StoreCourse } from "./types.ts";

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

/** What a store must hold for the draws of a task, where so much would not do for one that began now; undefined where it would. */
const wantedOf = ({ id, holds, floor }: StoreCourse, refill: number, draws: readonly Draw[], level: number): number | undefined => {
  let [now, then, drawn] = [level, 0, 0];
  for (const { store, amount, wants = 0, at = 0 } of draws) {
    if (store !== id) continue;
    now = Math.min(holds, now + (at - then) * refill);
    then = at;
    const wanted = Math.max(wants, amount + floor);
    if (now < wanted - 1e-6) return wanted + drawn;
    now -= amount;
    drawn += amount;
  }
  return undefined;
};

/** Why nothing is done until a task begins: the first reason that holds of those that keep a task from beginning earlier. */
const reasonFor = (wait: Span, next: DayLine, stores: readonly StoreCourse[], pins: readonly Pin[], setup: DrawnUp): string | null => {
  if (pins.some(({ task, is }) => task === next.id && is !== "done by")) return "until the time asked for";
  const draws = setup.problem.tasks.find(({ id }) => id === next.id)?.draws ?? [];
  for (const store of stores) {
    const refill = setup.problem.stores.find(({ id }) => id === store.id)?.refill ?? 0;
    const wanted = wantedOf(store, refill, draws, levelAt(store, wait.from));
    if (wanted !== undefined) return `until there are ${Math.round(wanted * 10) / 10} starts in ${store.label} again`;
  }
  const technician = setup.lanes.find(({ id, kind }) => kind === "technician" && next.takes.some(({ lane }) => lane === id));
  if (technician === undefined) return null;
  const called = `until the ${small(technician.label)} is called for`;
  return setup.wish === "attendance first" ? `${called}, since attendance is made short first` : called;
};

/** Minutes of a task with those that follow it directly. */
const chainOf = (task: string, problem: DayProblem): number => {
  const minutes = problem.tasks.find(({ id }) => id === task)?.minutes ?? 0;
  const next = problem.orders.find(({ before, directly }) => before === task && directly === true);
  return minutes + (next === undefined ? 0 : chainOf(next.after, problem));
};

/** Whether a set that else carries the ship is measured cold. */
const isCold = ({ id }: DayLine, { tasks }: DayProblem): boolean =>
  tasks.some((task) => task.id === id && task.uses.some(({ resource }) => resource === COLD));

/** Times in which nobody has anything to do, with why. */
const waitsOf = (lines: readonly DayLine[], stores: readonly StoreCourse[], pins: readonly Pin[], setup: DrawnUp): readonly DayNote[] =>
  emptyIn(lines, setup.work).map((wait) => {
    // Tasks that begin next: for a wait before a pause or a night those that come after it, and after the sets are started again.
    const begins = Math.min(...lines.filter((line) => line.begins >= wait.to && !isMorning(line)).map((line) => line.begins));
    const next = lines.filter((line) => line.begins === begins);
    const reason = next.map((line) => reasonFor(wait, line, stores, pins, setup)).find((why) => why !== null);
    const tooLong =
      setup.work.some(({ to }) => to === wait.to) && next.every((line) => chainOf(line.id, setup.problem) > wait.to - wait.from);
    const overNight = Math.floor(begins / A_DAY) > Math.floor(wait.from / A_DAY);
    const cold = next.every((line) => isCold(line, setup.problem));
    const why =
      reason ??
      (tooLong
        ? `since what comes next, all in one, does not fit before the ${overNight ? "end of the day" : "pause"}`
        : cold && overNight
          ? "since what comes next wants a machine that is cold in the morning"
          : "since what comes next begins later in the order that was found");
    return { ...wait, says: `Nothing, ${why}` };
  });

/** When the last of the tasks that begin before a minute ends; undefined where none does. */
const lastBefore = (lines: readonly DayLine[], minute: Minute): Minute | undefined => {
  const ends = lines.filter(({ begins }) => begins < minute).map((line) => line.ends);
  return ends.length === 0 ? undefined : Math.max(...ends);
};

/** When the last task of a day ends; undefined where nothing is done on it. */
const eveningOf = (lines: readonly DayLine[], day: number): Minute | undefined => {
  const at = lastBefore(lines, (day + 1) * A_DAY);
  return at !== undefined && Math.floor(at / A_DAY) === day ? at : undefined;
};

const noteAt = (at: Minute, says: string): DayNote => ({ from: at, to: at, says });

/** Sets that are begun and not left as a day ends: how they stand through the night. */
const nightsOf = (lines: readonly DayLine[], { days, lanes }: DrawnUp): readonly DayNote[] =>
  days.slice(0, -1).flatMap((_, day): readonly DayNote[] => {
    const [night, at] = [(day + 1) * A_DAY, eveningOf(lines, day)];
    const open = lanes.filter(({ id, kind }) => {
      const own = lines.filter(({ phase, set }) => phase !== "recovery" && id === `set ${set}`);
      return kind === "set" && own.some(({ begins }) => begins < night) && own.some(({ begins }) => begins >= night);
    });
    if (open.length === 0 || at === undefined) return [];
    return [noteAt(at, `Made safe for the night: ${open.map(({ label }) => label).join(", ")}; nothing left open, bridged or blocked`)];
  });

/** What a reader may not take as ready: a store that holds too little as people leave, for the night or for good. */
const lowStores = (lines: readonly DayLine[], stores: readonly StoreCourse[], { days, problem }: DrawnUp): readonly DayNote[] =>
  days.flatMap((_, day): readonly DayNote[] => {
    const at = eveningOf(lines, day);
    if (at === undefined) return [];
    return stores.flatMap((store): readonly DayNote[] => {
      const level = levelAt(store, at);
      const refill = problem.stores.find(({ id }) => id === store.id)?.refill ?? 0;
      const minutes = (store.ready - level) / refill;
      if (level >= store.ready - 1e-6 || minutes < SHORTEST) return [];
      const ready = Number.isFinite(minutes) ? `, in about ${lengthWords(Math.ceil(minutes))}` : "";
      return [
        noteAt(
          at,
          `${store.label} holds ${Math.floor(level * 10) / 10} of ${store.holds} starts: it is charged until there are ${store.ready} again${ready}, and its set is not counted on before`,
        ),
      ];
    });
  });

/** Sets that stand through a night to be measured cold in the morning: the others carry the ship meanwhile. */
const coldNights = (lines: readonly DayLine[], { problem, lanes }: DrawnUp): readonly DayNote[] =>
  lines
    .filter((line) => isCold(line, problem))
    .flatMap((line): readonly DayNote[] => {
      const at = lastBefore(lines, Math.floor(line.begins / A_DAY) * A_DAY);
      const name = lanes.find(({ id }) => id === `set ${line.set}`)?.label ?? "";
      return at === undefined
        ? []
        : [noteAt(at, `${name} stays stopped through the night, to be measured cold; the others carry the ship`)];
    });

/** What is told between the tasks of the days, in its order. Pure. */
export const notesOf = (
  lines: readonly DayLine[],
  stores: readonly StoreCourse[],
  pins: readonly Pin[],
  setup: DrawnUp,
): readonly DayNote[] =>
  [...waitsOf(lines, stores, pins, setup), ...nightsOf(lines, setup), ...coldNights(lines, setup), ...lowStores(lines, stores, setup)].sort(
    (one, other) => one.from - other.from,
  );
