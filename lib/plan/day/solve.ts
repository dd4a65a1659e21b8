import { attendanceBound, endBound } from "../../schedule/bounds.ts";
import { indexed } from "../../schedule/indexed.ts";
import type { DayProblem, Minute, Wish } from "../../schedule/problem.ts";
import { type DayOrder, ordered, TRIES } from "../../schedule/search.ts";
import { faultsIn } from "../../schedule/sound.ts";
import type { SequenceOrder } from "./orders.ts";
import { A_DAY } from "./times.ts";

/** So many orders are tried with each sequence of sets before the best is gone on with. */
const FIRST_LOOK = 40;

/** A problem with a sequence of sets in which all was placed, and the order found. */
export interface Placed {
  readonly problem: DayProblem;
  /** Which of the sequences it is. */
  readonly sequence: number;
  readonly order: DayOrder;
}

/** The best order found, with bounds that hold whatever the sequence of sets. */
export interface Solved extends Placed {
  /** No order ends before this minute, or has less attendance. */
  readonly noneEndsBefore: number;
  readonly leastAttendance: number;
}

const compare = (one: DayOrder, other: DayOrder, wish: Wish): number => {
  const [first, second] = wish === "day first" ? (["length", "attendance"] as const) : (["attendance", "length"] as const);
  return one.unplaced.length - other.unplaced.length || one[first] - other[first] || one[second] - other[second];
};

/** A problem with each sequence of sets that may be taken. */
const inSequence = (problem: DayProblem, sequences: readonly (readonly SequenceOrder[])[]): readonly DayProblem[] => {
  const known = new Set(problem.tasks.map(({ id }) => id));
  return sequences.length === 0
    ? [problem]
    : sequences.map((orders) => ({
        ...problem,
        orders: [
          ...problem.orders,
          ...orders.filter(
            ({ before, after, unless }) => known.has(before) && known.has(after) && !(unless !== undefined && known.has(unless)),
          ),
        ],
      }));
};

/** The best order found, from one in which all is placed on: the sequence that looks best is gone on with. */
const bestOf = (problems: readonly DayProblem[], wish: Wish, tries: number, placed: Placed | undefined): Placed => {
  const startOf = (sequence: number) => (placed?.sequence === sequence ? { start: placed.order.begins } : {});
  const looked = problems.map((problem, sequence) => ({
    problem,
    sequence,
    order: ordered(problem, wish, { tries: Math.min(tries, FIRST_LOOK), ...startOf(sequence) }),
  }));
  const [best] = looked.sort((one, other) => compare(one.order, other.order, wish));
  if (best === undefined) throw new RangeError("a day without a sequence to be ordered in");
  return {
    ...best,
    order: ordered(best.problem, wish, { tries: Math.max(0, tries - FIRST_LOOK), start: best.order.begins }),
  };
};

/** Orders a problem with each sequence of sets that may be taken, from an order in which all is placed on, and keeps the best; deterministic. */
export const solved = (
  problem: DayProblem,
  sequences: readonly (readonly SequenceOrder[])[],
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

/** So many orders near a known one are tried. */
const LOOK_NEAR = 60;

/** Where an order in which all finds a place is looked for: near one of a problem much like it, and there only or everywhere else besides. */
export interface Near {
  readonly placed: Placed;
  readonly only?: true;
}

/** An order in which all finds a place; undefined where none was found. A bound tells at once of work that does not fit whatever its order. */
export const allPlaced = (problem: DayProblem, sequences: readonly (readonly SequenceOrder[])[], near?: Near): Placed | undefined => {
  if (faultsIn(problem).length > 0) return undefined;
  const day = indexed(problem);
  if (!Number.isFinite(endBound(day))) return undefined;
  const end = Math.max(...day.open.map((spans) => spans.at(-1)?.to ?? 0));
  const fits = (order: DayOrder): boolean => order.unplaced.length === 0 && order.length + order.from <= end;
  const problems = inSequence(problem, sequences);
  const known = near === undefined ? undefined : problems[near.placed.sequence];
  if (near !== undefined && known !== undefined) {
    const order = ordered(openEnded(known, end), "day first", { tries: LOOK_NEAR, overBy: end, near: near.placed.order.begins });
    if (fits(order)) return { problem: known, sequence: near.placed.sequence, order };
    if (near.only === true) return undefined;
  }
  for (const [sequence, own] of problems.entries()) {
    const order = ordered(openEnded(own, end), "day first", { tries: LOOK, overBy: end });
    if (fits(order)) return { problem: own, sequence, order };
  }
  return undefined;
};
