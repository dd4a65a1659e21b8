import type { DayProblem, Span } from "../../schedule/problem.ts";
import { TRIES } from "../../schedule/search.ts";
import type { AskedTimes } from "./asked.ts";
import { courseOf, loadCourseOf, takesAway } from "./courses.ts";
import { leftOutFor, leftOutOf, moreTime, type Trying, without, workBetween } from "./fewer.ts";
import { soundOf, withKeptPins } from "./kept.ts";
import type { DrawnUp } from "./setup.ts";
import { LOOK, placesAll, type Solved, solved } from "./solve.ts";
import { A_DAY, lengthWords } from "./times.ts";
import type { DayLine, DayPlan, DayQuality, LeftOut } from "./types.ts";

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

/** Whether a test is still to be put in order. */
const present = (problem: DayProblem, ref: string, { tasks }: DrawnUp): boolean =>
  tasks.some((told) => told.ref === ref && problem.tasks.some(({ id }) => id === told.id));

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
export const dayOf = (setup: DrawnUp, asked: AskedTimes = setup.asked, wanted = TRIES): DayPlan => {
  // What a look of fewer tries has placed must be found again: more tries go on where fewer ended.
  const tries = Math.max(wanted, LOOK);
  const trying: Trying = { setup, wish: setup.wish };
  const kept = withKeptPins(soundOf(setup, asked), trying);
  let { problem } = kept;
  let result = solved(problem, setup.sequences, setup.wish, tries);
  let late: readonly LeftOut[] = [];
  if (result.order.unplaced.length > 0) {
    const out = leftOutFor(problem, new Set(kept.pins.map(({ task }) => task.split(" ")[0] ?? "")), trying);
    const time = moreTime(problem, trying);
    const rest = without(problem, setup.tasks, out);
    const why = ["it does not fit into the time there is", ...(time === "" ? [] : [time])].join("; ");
    const fits = placesAll(rest, setup.sequences, setup.wish);
    // Where not even papers, brief and close-out fit, no test does.
    late = setup.leastFirst
      .filter((ref) => (fits ? out.has(ref) : present(problem, ref, setup)))
      .flatMap((ref) => leftOutOf(ref, setup, why));
    if (fits) problem = rest;
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
