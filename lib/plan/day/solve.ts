import { attendanceBound, endBound } from "../../schedule/bounds.ts";
import { indexed } from "../../schedule/indexed.ts";
import type { DayProblem, Minute, Order, Wish } from "../../schedule/problem.ts";
import { type DayOrder, ordered, TRIES } from "../../schedule/search.ts";
import { faultsIn } from "../../schedule/sound.ts";
import { A_DAY } from "./times.ts";

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

/** A problem with a sequence of sets in which all was placed, and the order found. */
export interface Placed {
  readonly problem: DayProblem;
  readonly order: DayOrder;
}

/** The best order found, from one in which all is placed on: the sequence that looks best is gone on with. */
const bestOf = (problems: readonly DayProblem[], wish: Wish, tries: number, placed: Placed | undefined): Placed => {
  const sequenceOf = ({ orders }: DayProblem): string => JSON.stringify(orders);
  const [known, begins] = [placed === undefined ? "" : sequenceOf(placed.problem), placed?.order.begins];
  const startOf = (problem: DayProblem) => (begins !== undefined && sequenceOf(problem) === known ? { start: begins } : {});
  const looked = problems.map((problem) => ({
    problem,
    order: ordered(problem, wish, { tries: Math.min(tries, FIRST_LOOK), ...startOf(problem) }),
  }));
  const [best] = looked.sort((one, other) => compare(one.order, other.order, wish));
  if (best === undefined) throw new RangeError("a day without a sequence to be ordered in");
  return {
    problem: best.problem,
    order: ordered(best.problem, wish, { tries: Math.max(0, tries - FIRST_LOOK), start: best.order.begins }),
  };
};

/** Orders a problem with each sequence of sets that may be taken, from an order in which all is placed on, and keeps the best; deterministic. */
export const solved = (
  problem: DayProblem,
  sequences: readonly (readonly Order[])[],
  wish: Wish,
  tries = TRIES,
  placed?: Placed,
): Solved => {
  const problems = inSequence(problem, sequences);
  const best = bestOf(problems, wish, tries, placed);
  // With one sequence its own bounds hold; with several only what holds without any.
  const day = indexed(problem);
  const own = problems.length === 1;
  return {
    ...best,
    noneEndsBefore: own ? best.order.atLeast.length + day.from : endBound(day),
    leastAttendance: own ? best.order.atLeast.attendance : attendanceBound(day),
  };
};

/** So many orders of each sequence are tried to see whether all finds a place. */
const LOOK = 60;

/** A problem whose last day, which ends at a minute, goes on for a day, which is as good as endless and yet lets what never finds its starts in a store come to an end: by how much an order is over says more than how much of it finds no place. */
const openEnded = (problem: DayProblem, end: Minute): DayProblem => {
  const resources = problem.resources.map((one) => ({
    ...one,
    open: one.open.map((span) => (span.to === end ? { ...span, to: end + A_DAY } : span)),
  }));
  return { ...problem, resources };
};

/** An order in which all finds a place; undefined where none was found. A bound tells at once of work that does not fit whatever its order. */
export const allPlaced = (problem: DayProblem, sequences: readonly (readonly Order[])[]): Placed | undefined => {
  if (faultsIn(problem).length > 0) return undefined;
  const day = indexed(problem);
  if (!Number.isFinite(endBound(day))) return undefined;
  const end = Math.max(...day.open.map((spans) => spans.at(-1)?.to ?? 0));
  for (const own of inSequence(problem, sequences)) {
    const order = ordered(openEnded(own, end), "day first", { tries: LOOK, overBy: end });
    if (order.unplaced.length === 0 && order.length + order.from <= end) return { problem: own, order };
  }
  return undefined;
};
