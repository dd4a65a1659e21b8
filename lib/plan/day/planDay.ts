import type { DayProblem, Span } from "../../schedule/problem.ts";
import type { AskedTimes } from "./asked.ts";
import { briefedOnTheirDay, withLateBriefs } from "./briefs.ts";
import { courseOf, loadCourseOf, takesAway } from "./courses.ts";
import { leftOutFor, leftOutOf, whyShort, workBetween } from "./fewer.ts";
import { type Sound, soundOf, withKeptPins } from "./kept.ts";
import { idOf, joinedMornings, type Morning, morningsOf, toldOf, withMornings } from "./mornings.ts";
import { notesOf } from "./notes.ts";
import type { DrawnUp } from "./setup.ts";
import { allPlaced, type Placed, type Solved, solved } from "./solve.ts";
import { A_DAY, lengthWords } from "./times.ts";
import type { DayLine, DayPlan, DayQuality, LeftOut, StoreCourse } from "./types.ts";

const linesOf = (setup: DrawnUp, { problem, order }: Solved): readonly DayLine[] => {
  const lanes = new Set(setup.lanes.map(({ id }) => id));
  const times = withLateBriefs(order.begins, problem, setup);
  return problem.tasks
    .flatMap((task): readonly DayLine[] => {
      const [begins, told] = [times.get(task.id), setup.tasks.find(({ id }) => id === task.id)];
      if (begins === undefined || told === undefined) return [];
      const ends = begins + task.minutes;
      const takes = task.uses.flatMap(({ resource, after = 0 }) =>
        lanes.has(resource) ? [{ lane: resource, to: Math.min(ends, ends + after) }] : [],
      );
      return [{ ...told, minutes: task.minutes, begins, ends, takes }];
    })
    .sort((one, other) => one.begins - other.begins || one.ends - other.ends);
};

/** Minutes that technicians are there, each from his first to his last task of every day, pauses not counted. */
const attendanceOf = (lines: readonly DayLine[], { lanes, work }: DrawnUp): number =>
  lanes
    .filter(({ kind }) => kind === "technician")
    .reduce((sum, { id }) => {
      const own = lines.filter(({ takes }) => takes.some(({ lane }) => lane === id));
      const days = [...new Set(own.map(({ begins }) => Math.floor(begins / A_DAY)))];
      return (
        sum +
        days.reduce((total, day) => {
          const here = own.filter(({ begins }) => Math.floor(begins / A_DAY) === day);
          return total + workBetween(Math.min(...here.map(({ begins }) => begins)), Math.max(...here.map(({ ends }) => ends)), work);
        }, 0)
      );
    }, 0);

const qualityOf = (lines: readonly DayLine[], setup: DrawnUp, { order, noneEndsBefore, leastAttendance }: Solved): DayQuality => {
  const ends = Math.max(setup.days[0]?.from ?? 0, ...lines.map((line) => line.ends));
  const attendance = attendanceOf(lines, setup);
  return {
    ends,
    noneEndsBefore,
    lengthGap: workBetween(noneEndsBefore, ends, setup.work),
    attendance,
    attendanceGap: Math.max(0, Math.min(order.attendance, attendance) - leastAttendance),
  };
};

/** Whether a test is still to be put in order. */
const present = (problem: DayProblem, ref: string, { tasks }: DrawnUp): boolean =>
  tasks.some((told) => told.ref === ref && problem.tasks.some(({ id }) => id === told.id));

/** What there is to be said of a window in which nothing fits. */
const nothingFits = (setup: DrawnUp): string => {
  const least = setup.problem.tasks
    .filter(({ id }) => ["papers", "brief", "close-out"].includes(id))
    .reduce((sum, { minutes }) => sum + minutes, 0);
  return `papers, hazard brief and close-out alone take ${lengthWords(least)}; the hours give ${lengthWords(setup.work.reduce((sum, { from, to }) => sum + to - from, 0))}`;
};

/** So many orders are tried of a day: what is shown while somebody changes it is what is kept. More of them (200, 500) made no demo day shorter. */
const TRIES = 80;

/** What fits of a problem, with an order in which it does and what is left out so that it does. */
interface Fitting {
  readonly problem: DayProblem;
  readonly placed: Placed | undefined;
  readonly late: readonly LeftOut[];
}

const fitting = (problem: DayProblem, setup: DrawnUp): Fitting => {
  const placed = allPlaced(problem, setup.sequences);
  if (placed !== undefined) return { problem, placed, late: [] };
  const fewer = leftOutFor(problem, setup);
  const fits = fewer.placed !== undefined;
  const why = whyShort(problem, setup);
  // Where not even papers, brief and close-out fit, no test does.
  const late = setup.leastFirst
    .filter((ref) => (fits ? fewer.out.has(ref) : present(problem, ref, setup)))
    .flatMap((ref) => leftOutOf(ref, setup, why));
  if (fits) return { problem: fewer.problem, placed: fewer.placed, late };
  return {
    problem: { ...problem, tasks: [], orders: [] },
    placed: undefined,
    late: [...late, { what: "The day itself", why: nothingFits(setup) }],
  };
};

/** Whether all these sets are started again on these mornings. */
const covers = (planned: readonly Morning[], needed: readonly Morning[]): boolean =>
  needed.every(({ day, sets }) => sets.every((set) => planned.some((one) => one.day === day && one.sets.includes(set))));

interface OverNights {
  readonly setup: DrawnUp;
  readonly result: Solved;
  readonly refused: readonly string[];
  readonly late: readonly LeftOut[];
}

/**
 * An order with the mornings on which sets are started again. Which sets go on over a night is seen only in an order, and the morning may move what comes after it: more are
 * added until all are there; those that turn out not to be needed are taken out again, or at least not shown.
 */
const overNights = ({ problem, leftOut }: Sound, drawn: DrawnUp, pins: AskedTimes["pins"], tries: number): OverNights => {
  const out = [...drawn.leftOut, ...leftOut];
  const toldWith = (mornings: readonly Morning[]): DrawnUp => ({
    ...drawn,
    tasks: [...drawn.tasks, ...mornings.map((morning) => toldOf(morning, drawn))],
  });
  const bare = fitting(problem, drawn);
  const withThese = (mornings: readonly Morning[]): OverNights & { readonly problem: DayProblem; readonly needed: readonly Morning[] } => {
    const setup = toldWith(mornings);
    // The mornings take their time, so that something else may have to be left out.
    const rest = mornings.length === 0 ? bare : fitting(withMornings(problem, mornings, drawn), setup);
    const kept = withKeptPins({ problem: rest.problem, out: [...out, ...rest.late], setup }, rest.placed, pins);
    const first = solved(kept.problem, setup.sequences, setup.wish, tries, kept.placed);
    const moved = briefedOnTheirDay(kept.problem, first.order.begins);
    const placed = moved === kept.problem ? undefined : allPlaced(moved, setup.sequences, { placed: first });
    const result = placed === undefined ? first : solved(moved, setup.sequences, setup.wish, tries, placed);
    const needed = morningsOf(result.order.begins, drawn);
    return { setup: toldWith(needed), result, refused: kept.refused, late: rest.late, problem: kept.problem, needed };
  };
  let mornings = morningsOf(bare.placed?.order.begins ?? new Map(), drawn);
  let found = withThese(mornings);
  while (!covers(mornings, found.needed)) {
    mornings = joinedMornings(mornings, found.needed);
    found = withThese(mornings);
  }
  if (covers(found.needed, mornings)) return found;
  // Fewer are needed than time was kept for: that time is given back where the fewer do, or where the rest of the same order can move up.
  const fewer = withThese(found.needed);
  if (covers(found.needed, fewer.needed)) return fewer;
  const planned = new Set(mornings.map(({ day }) => idOf(day)));
  const base = { ...found.problem, tasks: found.problem.tasks.filter(({ id }) => !planned.has(id)) };
  const result = solved(withMornings(base, found.needed, drawn), drawn.sequences, drawn.wish, 0, found.result);
  const last = morningsOf(result.order.begins, drawn);
  return covers(found.needed, last) && result.order.unplaced.length === 0 ? { ...found, setup: toldWith(last), result } : found;
};

/** Tests for which a time is asked are the last to be left out. */
const withWantedLast = (drawn: DrawnUp, { pins }: AskedTimes): DrawnUp => {
  const wanted = new Set(drawn.tasks.flatMap(({ id, ref }) => (ref !== undefined && pins.some(({ task }) => task === id) ? [ref] : [])));
  const isWanted = (ref: string): boolean => wanted.has(ref);
  return {
    ...drawn,
    leastFirst: [...drawn.leastFirst.filter((ref) => !isWanted(ref)), ...drawn.leastFirst.filter(isWanted)],
  };
};

/**
 * The order of a day: what does not fit is named, the least important first; the times asked for are kept or refused with the reason; and how good the order is is
 * said. The same input gives the same day. Pure.
 */
export const dayOf = (setUp: DrawnUp, asked: AskedTimes = setUp.asked, tries = TRIES): DayPlan => {
  const drawn = withWantedLast(setUp, asked);
  const sound = soundOf(drawn, asked);
  const { setup, result, refused, late } = overNights(sound, drawn, asked.pins, tries);
  const kept = { leftOut: sound.leftOut, refused: [...sound.refused, ...refused] };
  const lines = linesOf(setup, result);
  const [first, last] = [setup.days[0]?.from ?? 0, setup.days.at(-1)?.to ?? 0];
  const tasks = new Map(result.problem.tasks.map((task) => [task.id, task]));
  const placed = lines.map(({ id, begins }) => ({ begins, draws: tasks.get(id)?.draws ?? [] }));
  const used = new Set(lines.flatMap(({ takes }) => takes.map(({ lane }) => lane)));
  const whole: Span = { from: first, to: Math.max(last, ...lines.map(({ ends }) => ends)) };
  const stores = setup.stores.flatMap((shown): readonly StoreCourse[] => {
    const store = setup.problem.stores.find(({ id }) => id === shown.id);
    return store === undefined ? [] : [{ ...shown, holds: store.holds, floor: store.floor, points: courseOf(store, placed, whole) }];
  });
  return {
    days: setup.days,
    wish: setup.wish,
    lines,
    notes: notesOf(lines, stores, asked.pins, { ...setup, problem: result.problem }),
    lanes: setup.lanes.filter(({ id }) => used.has(id)),
    stores,
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
