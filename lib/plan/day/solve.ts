import { attendanceBound, endBound } from "../../schedule/bounds.ts";
import { indexed } from "../../schedule/indexed.ts";
import type { DayProblem, Order, Wish } from "../../schedule/problem.ts";
import { type DayOrder, ordered, TRIES } from "../../schedule/search.ts";
import { faultsIn } from "../../schedule/sound.ts";

/** So many orders are tried with each sequence of sets before the best is gone on with. */
const FIRST_LOOK = 40;

/** The best order found, with bounds that hold whatever the sequence of sets. */
export interface Solved {
  readonly problem: DayProblem;
  readonly order: DayOrder;
  /** No order ends before this minute, or has less attendance. */
  readonly noneEndsBefore: number;
  readonly leastAttendance: number;
}

const compare = (one: DayOrder, other: DayOrder, wish: Wish): number => {
  const [first, second] = wish === "day first" ? (["length", "attendance"] as const) : (["attendance", "length"] as const);
  return one.unplaced.length - other.unplaced.length || one[first] - other[first] || one[second] - other[second];
};

/** Orders a problem with each sequence of sets that may be taken and keeps the best; deterministic. */
export const solved = (
  problem: DayProblem,
  sequences: readonly (readonly Order[])[],
  wish: Wish,
  tries = TRIES,
  untilPlaced = false,
): Solved => {
  const known = new Set(problem.tasks.map(({ id }) => id));
  const problems = sequences.map((orders) => ({
    ...problem,
    orders: [...problem.orders, ...orders.filter(({ before, after }) => known.has(before) && known.has(after))],
  }));
  let best = problems[0] ?? problem;
  if (problems.length > 1) {
    let found: DayOrder | undefined;
    for (const one of problems) {
      const order = ordered(one, wish, Math.min(tries, FIRST_LOOK));
      if (found === undefined || compare(order, found, wish) < 0) [found, best] = [order, one];
    }
  }
  const order = ordered(best, wish, tries, untilPlaced);
  // With one sequence its own bounds hold; with several only what holds without any.
  const day = indexed(problem);
  const own = problems.length <= 1;
  const from = day.from;
  return {
    problem: best,
    order,
    noneEndsBefore: own ? order.atLeast.length + from : endBound(day),
    leastAttendance: own ? order.atLeast.attendance : attendanceBound(day),
  };
};

/** So many orders are tried to see whether all finds a place. */
export const LOOK = 80;

/**
 * Whether all finds a place, as a whole search with at least as many tries will find it again. A bound tells at once of work that does not fit whatever its order.
 */
export const placesAll = (problem: DayProblem, sequences: readonly (readonly Order[])[], wish: Wish): boolean =>
  faultsIn(problem).length === 0 &&
  Number.isFinite(endBound(indexed(problem))) &&
  solved(problem, sequences, wish, LOOK, true).order.unplaced.length === 0;
