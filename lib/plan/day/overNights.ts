import type { DayProblem } from "../../schedule/problem.ts";
import type { AskedTimes } from "./asked.ts";
import { briefedOnTheirDay } from "./briefs.ts";
import { leftOutFor, leftOutOf, whyShort } from "./fewer.ts";
import { type Sound, withKeptPins } from "./kept.ts";
import { idOf, joinedMornings, type Morning, morningsOf, toldOf, withMornings } from "./mornings.ts";
import type { DrawnUp } from "./setup.ts";
import { allPlaced, type Placed, type Solved, solved } from "./solve.ts";
import { lengthWords } from "./times.ts";
import type { LeftOut } from "./types.ts";

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
export const overNights = ({ problem, leftOut }: Sound, drawn: DrawnUp, pins: AskedTimes["pins"], tries: number): OverNights => {
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
