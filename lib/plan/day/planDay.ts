import { LONGEST_DAY_HOURS } from "../../model/daySettings.ts";
import type { DayProblem, Minute, Span, Task } from "../../schedule/problem.ts";
import { TRIES } from "../../schedule/search.ts";
import { type DayFault, faultsIn } from "../../schedule/sound.ts";
import { type AskedTimes, fewestMinutes, type Pin, withMinutes, withPins } from "./asked.ts";
import { courseOf, loadCourseOf, takesAway } from "./courses.ts";
import type { DrawnUp } from "./setup.ts";
import { type Solved, solved } from "./solve.ts";
import { A_DAY, lengthWords } from "./times.ts";
import type { DayLine, DayPlan, DayQuality, DayTask, LeftOut } from "./types.ts";
import { faultWords, momentWords, taskWords } from "./words.ts";

/** A problem without some of its tests, and without what stands around sets and technicians that then have none. */
const without = (problem: DayProblem, tasks: readonly DayTask[], dropped: ReadonlySet<string>): DayProblem => {
  if (dropped.size === 0) return problem;
  const kept = tasks.filter(({ ref, id }) => !(ref !== undefined && dropped.has(ref)) && !dropped.has(id));
  const tested = new Set(kept.flatMap(({ ref, set }) => (ref === undefined || set === null ? [] : [set])));
  const attending = (id: string): readonly string[] =>
    problem.tasks
      .find((task) => task.id === id)
      ?.uses.flatMap(({ resource }) => (problem.attending.includes(resource) ? [resource] : [])) ?? [];
  const wanted = (id: string): boolean => problem.tasks.some((task) => task.id === id);
  /** Whether a test that is kept takes somebody, on one set or on any. */
  const uses = (resource: string, on?: number | null): boolean =>
    kept.some(
      ({ id, ref, set }) =>
        ref !== undefined &&
        (on === undefined || set === on) &&
        problem.tasks.some((task) => task.id === id && task.uses.some((use) => use.resource === resource)),
    );
  const runs = new Set(
    kept.flatMap(({ ref, set, phase }) => (ref === undefined || set === null || phase === "at rest" || phase === "recovery" ? [] : [set])),
  );
  const ids = new Set(
    kept
      .filter(({ id, ref, set, phase }) => {
        if (!wanted(id)) return false;
        if (ref !== undefined) return true;
        if (phase === "codes cleared") return attending(id).some((resource) => uses(resource, set));
        if (set !== null) return tested.has(set) && (phase !== "start" || runs.has(set));
        if (id === "get under way" || id === "alongside again")
          return kept.some((one) => one.ref !== undefined && one.phase === "under way");
        const technician = /^brief (.+)$/.exec(id)?.[1];
        return technician === undefined || uses(technician);
      })
      .map(({ id }) => id),
  );
  // What followed a task that is left out follows what came before that.
  const heirs = (id: string): readonly string[] =>
    ids.has(id) ? [id] : problem.orders.filter(({ after }) => after === id).flatMap(({ before }) => heirs(before));
  return {
    ...problem,
    tasks: problem.tasks.filter(({ id }) => ids.has(id)),
    orders: problem.orders.flatMap((order) =>
      ids.has(order.after) ? [...new Set(heirs(order.before))].map((before) => ({ ...order, before })) : [],
    ),
  };
};

/** A problem in which all that is there to the end of the last day is there for longer, by what `extend` makes of its times. */
const lengthened = (problem: DayProblem, { work, days }: DrawnUp, extend: (open: readonly Span[]) => readonly Span[]): DayProblem => {
  const [end, morning] = [work.at(-1)?.to, days.at(-1)?.from];
  const lasts = (open: readonly Span[]): boolean => open.some(({ from, to }) => to === end || from === morning);
  return { ...problem, resources: problem.resources.map((one) => (lasts(one.open) ? { ...one, open: extend(one.open) } : one)) };
};

/** Minutes of work between two moments. */
const workBetween = (from: Minute, to: Minute, work: readonly Span[]): number =>
  work.reduce((sum, span) => sum + Math.max(0, Math.min(to, span.to) - Math.max(from, span.from)), 0);

interface Trying {
  readonly setup: DrawnUp;
  readonly wish: DayPlan["wish"];
  readonly tries: number;
}

const LOOK = 120;

const placesAll = (problem: DayProblem, { setup, wish }: Trying): boolean =>
  faultsIn(problem).length === 0 && solved(problem, setup.sequences, wish, LOOK).order.unplaced.length === 0;

/** The least important tests that must be left out so that the others fit: as few from the end of the list as do, then what fits all the same put back. */
const leftOutFor = (problem: DayProblem, trying: Trying): ReadonlySet<string> => {
  const { setup } = trying;
  const present = new Set(setup.tasks.filter(({ id }) => problem.tasks.some((task) => task.id === id)).flatMap(({ ref }) => ref ?? []));
  const list = setup.leastFirst.filter((ref) => present.has(ref));
  const fits = (refs: readonly string[]): boolean => placesAll(without(problem, setup.tasks, new Set(refs)), trying);
  let [low, high] = [1, list.length];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (fits(list.slice(0, middle))) high = middle;
    else low = middle + 1;
  }
  let dropped = list.slice(0, high);
  // Long ones may have kept out short ones that come before them.
  for (const ref of [...dropped].reverse()) {
    const fewer = dropped.filter((one) => one !== ref);
    if (fits(fewer)) dropped = fewer;
  }
  return new Set(dropped);
};

/** With what more time all would fit, in words; empty where not even that helps. */
const moreTime = (problem: DayProblem, trying: Trying): string => {
  const { setup, wish } = trying;
  const last = setup.days.at(-1);
  if (last === undefined) return "";
  const until = last.from + LONGEST_DAY_HOURS * 60;
  const end = setup.work.at(-1)?.to;
  const longer = lengthened(problem, setup, (open) =>
    open.map((span) => (span.to === end ? { ...span, to: Math.max(span.to, until) } : span)),
  );
  const order = faultsIn(longer).length === 0 ? solved(longer, setup.sequences, wish, LOOK).order : null;
  if (order !== null && order.unplaced.length === 0) {
    const ends = Math.max(...[...order.begins].map(([id, at]) => at + (problem.tasks.find((task) => task.id === id)?.minutes ?? 0)));
    return `all would fit if the work went on until ${momentWords(ends, setup.days)}`;
  }
  for (const days of [1, 2, 3, 4, 5, 6]) {
    const midnight = Math.floor(last.from / A_DAY) * A_DAY;
    const more = lengthened(problem, setup, (open) => [
      ...open,
      ...Array.from({ length: days }, (_, day) => (day + 1) * A_DAY).flatMap((later) =>
        open.filter(({ from }) => from >= midnight).map(({ from, to }) => ({ from: from + later, to: to + later })),
      ),
    ]);
    if (placesAll(more, trying)) return `all would fit with ${days} ${days === 1 ? "day" : "days"} more`;
  }
  return "";
};

interface Sound {
  readonly problem: DayProblem;
  readonly leftOut: readonly LeftOut[];
  readonly refused: readonly string[];
  readonly pins: readonly Pin[];
}

const PIN_WORDS: Readonly<Record<Pin["is"], string>> = {
  "begins at": "begin at",
  "not before": "begin no earlier than",
  "done by": "be done by",
};

const pinWords = (pin: Pin, setup: DrawnUp): string => {
  const task = setup.tasks.find(({ id }) => id === pin.task);
  return `${task === undefined ? pin.task : taskWords(task)} cannot ${PIN_WORDS[pin.is]} ${momentWords(pin.at, setup.days)}`;
};

const isTimeFault = (fault: DayFault): fault is Extract<DayFault, { readonly nearest: number }> => "nearest" in fault;

/** A problem with the times asked for, without what cannot be on any day and without pins that cannot be kept; each with its reason. */
const soundOf = (setup: DrawnUp, asked: AskedTimes): Sound => {
  const naming = { setup };
  const refused: string[] = [];
  const leftOut: LeftOut[] = [];
  const there = new Set(setup.problem.tasks.map(({ id }) => id));
  for (const { task } of [...asked.pins, ...asked.minutes])
    if (!there.has(task)) refused.push(`There is no “${task}” in this day; what was asked for it is passed over.`);
  const lengths = new Map(asked.minutes.map(({ task, minutes }) => [task, minutes]));
  const tasks = setup.problem.tasks.map((task): Task => {
    const minutes = lengths.get(task.id);
    if (minutes === undefined) return task;
    const fewest = fewestMinutes(task);
    if (Number.isInteger(minutes) && minutes >= fewest) return withMinutes(task, minutes);
    const told = setup.tasks.find(({ id }) => id === task.id);
    refused.push(
      `${told === undefined ? task.id : taskWords(told)} cannot take ${minutes} min; at least ${fewest} min, its restart included.`,
    );
    return task;
  });
  let pins = asked.pins.filter(({ task }) => there.has(task));
  let problem: DayProblem = { ...setup.problem, tasks };
  const dropped = new Set<string>();
  for (let round = 0; round < 200; round += 1) {
    const now = without({ ...problem, tasks: problem.tasks.map((task) => withPins(task, pins)) }, setup.tasks, dropped);
    const [fault] = faultsIn(now);
    if (fault === undefined) return { problem: now, leftOut, refused, pins };
    const task = "task" in fault ? fault.task : (fault.tasks[0] ?? "");
    const own = pins.filter((pin) => pin.task === task);
    const pin = own.at(-1);
    if (pin !== undefined && (isTimeFault(fault) || own.length > 1)) {
      refused.push(`${pinWords(pin, setup)}: ${faultWords(fault, naming)}.`);
      pins = pins.filter((one) => one !== pin);
      continue;
    }
    const told = setup.tasks.find(({ id }) => id === task);
    // A whole test goes, not half of it.
    dropped.add(told?.ref ?? task);
    const why = faultWords(fault, naming);
    leftOut.push(...(told?.ref === undefined ? [{ what: whatOf(told, setup, task), why }] : leftOutOf(told.ref, setup, why)));
    if (told === undefined) problem = { ...problem, tasks: problem.tasks.filter(({ id }) => id !== task) };
  }
  return { problem: { ...problem, tasks: [], orders: [] }, leftOut, refused, pins };
};

/** A test that is left out, with those that would be done in the same act. */
const leftOutOf = (ref: string, setup: DrawnUp, why: string): readonly LeftOut[] => {
  const told = setup.tasks.find((task) => task.ref === ref);
  return [ref, ...(told?.also ?? [])].map((one) => ({ ref: one, what: whatOf(told, setup, ref), why }));
};

const whatOf = (told: DayTask | undefined, setup: DrawnUp, id: string): string => {
  if (told === undefined) return id;
  const set = setup.lanes.find((lane) => lane.id === `set ${told.set}`)?.label;
  return set === undefined ? told.what : `${set}: ${told.what}`;
};

/** Pins that keep others from the day are given up one by one, the last first, as long as that places more. */
const withKeptPins = (sound: Sound, trying: Trying): Sound => {
  const { setup, wish } = trying;
  const missing = (problem: DayProblem): number => solved(problem, setup.sequences, wish, LOOK).order.unplaced.length;
  let [now, least] = [sound, sound.pins.length === 0 ? 0 : missing(sound.problem)];
  for (const pin of [...sound.pins].reverse()) {
    if (least === 0) break;
    const pins = now.pins.filter((one) => one !== pin);
    const bare = setup.problem.tasks.map((task) => ({ id: task.id, earliest: task.earliest, latest: task.latest }));
    const problem: DayProblem = {
      ...now.problem,
      tasks: now.problem.tasks.map((task) => {
        const base = bare.find(({ id }) => id === task.id);
        const { earliest: _, latest: __, ...rest } = task;
        return withPins(
          {
            ...rest,
            ...(base?.earliest === undefined ? {} : { earliest: base.earliest }),
            ...(base?.latest === undefined ? {} : { latest: base.latest }),
          },
          pins,
        );
      }),
    };
    const count = missing(problem);
    if (count >= least) continue;
    const at = solved(problem, setup.sequences, wish, LOOK).order.begins.get(pin.task);
    const nearest = at === undefined ? "" : `; it could begin at ${momentWords(at, setup.days)}`;
    now = { ...now, problem, pins, refused: [...now.refused, `${pinWords(pin, setup)}: not all else would fit then${nearest}.`] };
    least = count;
  }
  return now;
};

const linesOf = (setup: DrawnUp, { problem, order }: Solved): readonly DayLine[] => {
  const lanes = new Set(setup.lanes.map(({ id }) => id));
  return problem.tasks
    .flatMap((task): readonly DayLine[] => {
      const [begins, told] = [order.begins.get(task.id), setup.tasks.find(({ id }) => id === task.id)];
      if (begins === undefined || told === undefined) return [];
      const ends = begins + task.minutes;
      const takes = task.uses.flatMap(({ resource, after = 0 }) =>
        lanes.has(resource) ? [{ lane: resource, to: Math.min(ends, ends + after) }] : [],
      );
      return [{ ...told, minutes: task.minutes, begins, ends, takes }];
    })
    .sort((one, other) => one.begins - other.begins || one.ends - other.ends);
};

/** Minutes that technicians are there, each from his first to his last task of every day. */
const attendanceOf = (lines: readonly DayLine[], lanes: DayPlan["lanes"]): number =>
  lanes
    .filter(({ kind }) => kind === "technician")
    .reduce((sum, { id }) => {
      const own = lines.filter(({ takes }) => takes.some(({ lane }) => lane === id));
      const days = [...new Set(own.map(({ begins }) => Math.floor(begins / A_DAY)))];
      return (
        sum +
        days.reduce((total, day) => {
          const here = own.filter(({ begins }) => Math.floor(begins / A_DAY) === day);
          return total + Math.max(...here.map(({ ends }) => ends)) - Math.min(...here.map(({ begins }) => begins));
        }, 0)
      );
    }, 0);

const qualityOf = (lines: readonly DayLine[], setup: DrawnUp, { order, noneEndsBefore, leastAttendance }: Solved): DayQuality => {
  const ends = Math.max(setup.days[0]?.from ?? 0, ...lines.map((line) => line.ends));
  return {
    ends,
    noneEndsBefore: Math.min(ends, noneEndsBefore),
    lengthGap: workBetween(noneEndsBefore, ends, setup.work),
    attendance: attendanceOf(lines, setup.lanes),
    attendanceGap: Math.max(0, Math.min(order.attendance, attendanceOf(lines, setup.lanes)) - leastAttendance),
  };
};

/** What there is to be said of a window in which nothing fits. */
const nothingFits = (problem: DayProblem, setup: DrawnUp): string => {
  const least = problem.tasks
    .filter(({ id }) => ["papers", "brief", "close-out"].includes(id))
    .reduce((sum, { minutes }) => sum + minutes, 0);
  return `papers, hazard brief and close-out alone take ${lengthWords(least)}; the hours give ${lengthWords(setup.work.reduce((sum, { from, to }) => sum + to - from, 0))}`;
};

/**
 * The order of a day: the times asked for are kept or refused with the reason, what does not fit is named, the least important first, and how good the order is is
 * said. The same input gives the same day. Pure.
 */
export const dayOf = (setup: DrawnUp, asked: AskedTimes = setup.asked, tries = TRIES): DayPlan => {
  const trying: Trying = { setup, wish: setup.wish, tries };
  const kept = withKeptPins(soundOf(setup, asked), trying);
  let { problem } = kept;
  let result = solved(problem, setup.sequences, setup.wish, tries);
  let late: readonly LeftOut[] = [];
  if (result.order.unplaced.length > 0) {
    const out = leftOutFor(problem, trying);
    const time = moreTime(problem, trying);
    const rest = without(problem, setup.tasks, out);
    const why = ["it does not fit into the time there is", ...(time === "" ? [] : [time])].join("; ");
    late = setup.leastFirst.filter((ref) => out.has(ref)).flatMap((ref) => leftOutOf(ref, setup, why));
    if (placesAll(rest, trying)) problem = rest;
    else {
      late = [...late, { what: "The day itself", why: nothingFits(problem, setup) }];
      problem = { ...problem, tasks: [], orders: [] };
    }
    result = solved(problem, setup.sequences, setup.wish, tries);
  }
  const lines = linesOf(setup, result);
  const [first, last] = [setup.days[0]?.from ?? 0, setup.days.at(-1)?.to ?? 0];
  const tasks = new Map(result.problem.tasks.map((task) => [task.id, task]));
  const placed = lines.map(({ id, begins }) => ({ begins, draws: tasks.get(id)?.draws ?? [] }));
  const used = new Set(lines.flatMap(({ takes }) => takes.map(({ lane }) => lane)));
  const whole: Span = { from: first, to: Math.max(last, ...lines.map(({ ends }) => ends)) };
  return {
    days: setup.days,
    wish: setup.wish,
    lines,
    lanes: setup.lanes.filter(({ id }) => used.has(id)),
    stores: setup.stores.flatMap((shown) => {
      const store = setup.problem.stores.find(({ id }) => id === shown.id);
      return store === undefined ? [] : [{ ...shown, holds: store.holds, floor: store.floor, points: courseOf(store, placed, whole) }];
    }),
    load:
      setup.load === null
        ? null
        : loadCourseOf(
            setup.load,
            lines.map((line) => ({ ...line, away: takesAway(tasks.get(line.id)?.uses ?? []) })),
            first,
          ),
    quality: qualityOf(lines, setup, result),
    assumed: setup.assumed,
    leftOut: [...setup.leftOut, ...kept.leftOut, ...late],
    refused: kept.refused,
  };
};
