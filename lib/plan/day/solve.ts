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

/** A problem with each sequence of sets that may be taken. */
const inSequence = (problem: DayProblem, sequences: readonly (readonly Order[])[]): readonly DayProblem[] => {
  const known = new Set(problem.tasks.map(({ id }) => id));
  return sequences.length === 0
    ? [problem]
    : sequences.map((orders) => ({
        ...problem,
        orders: [...problem.orders, ...orders.filter(({ before, after }) => known.has(before) && known.has(after))],
      }));
};

/** The best order found, going on with the sequence that looked best, then with the others where that does not place all. */
const bestOf = (problems: readonly DayProblem[], wish: Wish, tries: number): readonly [DayProblem, DayOrder] => {
  const looked = problems
    .map((problem) => [problem, ordered(problem, wish, problems.length === 1 ? tries : Math.min(tries, FIRST_LOOK))] as const)
    .sort(([, one], [, other]) => compare(one, other, wish));
  let best = looked[0];
  if (problems.length > 1)
    for (const [problem] of looked) {
      const found = [problem, ordered(problem, wish, tries)] as const;
      if (best === undefined || compare(found[1], best[1], wish) <= 0) best = found;
      if (best[1].unplaced.length === 0) break;
    }
  if (best === undefined) throw new RangeError("a day without a sequence to be ordered in");
  return best;
};

/** Orders a problem with each sequence of sets that may be taken and keeps the best; deterministic. */
export const solved = (problem: DayProblem, sequences: readonly (readonly Order[])[], wish: Wish, tries = TRIES): Solved => {
  const problems = inSequence(problem, sequences);
  const [best, order] = bestOf(problems, wish, tries);
  // With one sequence its own bounds hold; with several only what holds without any.
  const day = indexed(problem);
  const own = problems.length === 1;
  return {
    problem: best,
    order,
    noneEndsBefore: own ? order.atLeast.length + day.from : endBound(day),
    leastAttendance: own ? order.atLeast.attendance : attendanceBound(day),
  };
};

/** So many orders of each sequence are tried to see whether all finds a place. */
export const LOOK = 40;

/** An order in which all finds a place, which a whole search with at least as many tries finds too; undefined where none was found. A bound tells at once of work that does not fit whatever its order. */
export const allPlaced = (problem: DayProblem, sequences: readonly (readonly Order[])[], wish: Wish): DayOrder | undefined => {
  if (faultsIn(problem).length > 0 || !Number.isFinite(endBound(indexed(problem)))) return undefined;
  for (const one of inSequence(problem, sequences)) {
    const order = ordered(one, wish, LOOK, true);
    if (order.unplaced.length === 0) return order;
  }
  return undefined;
};

/** Whether all finds a place. */
export const placesAll = (problem: DayProblem, sequences: readonly (readonly Order[])[], wish: Wish): boolean =>
  allPlaced(problem, sequences, wish) !== undefined;
