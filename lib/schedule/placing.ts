import type { Indexed } from "./indexed.ts";
import type { Minute } from "./problem.ts";

/** A task that cannot be put anywhere. */
export const NOWHERE = -1;

interface Taken {
  readonly from: Minute;
  readonly to: Minute;
  readonly amount: number;
}

interface Drawn {
  readonly at: Minute;
  readonly amount: number;
  readonly wants: number;
}

/** What is taken of resources and stores by the tasks that are placed. */
export interface Profile {
  readonly taken: readonly Taken[][];
  readonly drawn: readonly Drawn[][];
}

export const emptyProfile = ({ capacity, stores }: Indexed): Profile => ({ taken: capacity.map(() => []), drawn: stores.map(() => []) });

/** What is left over for rounding: amounts are kW, starts and bars, times whole minutes. */
const SLIGHT = 1e-9;

/** From when on a resource is free for a while, as far as one look tells; the same minute where it is. */
const freeFrom = (taken: readonly Taken[], capacity: number, amount: number, from: Minute, to: Minute): Minute => {
  // Whatever begins or is under way within the time counts from where it begins: the most at once is met at one of these.
  let next = from;
  for (const one of taken) {
    if (one.from >= to || one.to <= from) continue;
    const at = Math.max(one.from, from);
    let sum = amount;
    let ends = Number.POSITIVE_INFINITY;
    for (const other of taken)
      if (other.from <= at && other.to > at) {
        sum += other.amount;
        if (other.to < ends) ends = other.to;
      }
    if (sum > capacity + SLIGHT && ends > next) next = ends;
  }
  return next;
};

/** From when on a store can give an amount beside all that is drawn from it; the same minute where it can, infinity where it never can. */
const givesFrom = (
  { holds, first, floor, refill }: Indexed["stores"][number],
  drawn: readonly Drawn[],
  own: Drawn,
  begins: Minute,
): Minute => {
  let level = first;
  let last = begins;
  let put = false;
  let at = 0;
  while (at < drawn.length || !put) {
    const next = drawn[at];
    const mine = !put && (next === undefined || own.at < next.at);
    const one = mine || next === undefined ? own : next;
    level = Math.min(holds, level + (one.at - last) * refill);
    last = one.at;
    if (level < one.wants - SLIGHT) {
      // What is mine waits until there is enough; where it spoils a later one it goes behind that.
      if (!mine) return Math.max(one.at, own.at + 1);
      if (refill <= 0 || one.wants > holds + SLIGHT) return Number.POSITIVE_INFINITY;
      return one.at + Math.max(1, Math.ceil((one.wants - level) / refill - SLIGHT));
    }
    level -= one.amount;
    if (level < floor - SLIGHT) return Number.POSITIVE_INFINITY;
    if (mine) put = true;
    else at += 1;
  }
  return own.at;
};

/** Where a draw at a minute goes among those of a store, in the order of time. */
const behind = (drawn: readonly Drawn[], at: Minute): number => {
  const place = drawn.findIndex((one) => one.at > at);
  return place === -1 ? drawn.length : place;
};

/** Adds a draw of a task that begins at a minute to those of a store. */
const withDraw =
  (begins: Minute) =>
  (drawn: readonly Drawn[], { offset, amount, wants }: { readonly offset: number; readonly amount: number; readonly wants: number }) =>
    drawn.toSpliced(behind(drawn, begins + offset), 0, { at: begins + offset, amount, wants });

/** The first minute, from one on, at which a task can begin beside those that are placed; `NOWHERE` where there is none. */
export const firstPlace = (problem: Indexed, { taken, drawn }: Profile, task: number, from: Minute): Minute => {
  const minutes = problem.minutes[task] ?? 0;
  const latest = (problem.latest[task] ?? Number.POSITIVE_INFINITY) - minutes;
  let at = Math.max(from, problem.earliest[task] ?? 0);
  for (;;) {
    const span = (problem.open[task] ?? []).find(({ to }) => Math.max(at, 0) + minutes <= to);
    if (span === undefined) return NOWHERE;
    at = Math.max(at, span.from);
    if (at > latest || at + minutes > span.to) return NOWHERE;
    let next = at;
    for (const { resource, amount, after } of problem.uses[task] ?? [])
      next = Math.max(next, freeFrom(taken[resource] ?? [], problem.capacity[resource] ?? 0, amount, at, at + minutes + after));
    const draws = problem.draws[task] ?? [];
    for (const [place, { store, amount, wants, offset }] of draws.entries()) {
      const own = problem.stores[store];
      // Draws of the same task from the same store count against each other; they stand in the order of their times.
      if (own === undefined) continue;
      const earlier = draws.slice(0, place).filter((one) => one.store === store);
      const others = earlier.reduce(withDraw(at), drawn[store] ?? []);
      next = Math.max(next, givesFrom(own, others, { at: at + offset, amount, wants }, problem.from) - offset);
    }
    if (next === at) return at;
    if (next === Number.POSITIVE_INFINITY) return NOWHERE;
    at = next;
  }
};

/** Takes what a task takes when it begins at a minute. */
export const place = (problem: Indexed, { taken, drawn }: Profile, task: number, at: Minute): void => {
  for (const { resource, amount, after } of problem.uses[task] ?? [])
    taken[resource]?.push({ from: at, to: at + (problem.minutes[task] ?? 0) + after, amount });
  for (const { store, amount, wants, offset } of problem.draws[task] ?? []) {
    const own = drawn[store];
    if (own !== undefined) own.splice(behind(own, at + offset), 0, { at: at + offset, amount, wants });
  }
};

/** Gives back what the task took that was placed last, at a minute. */
export const takeBack = (problem: Indexed, { taken, drawn }: Profile, task: number, at: Minute): void => {
  for (const { resource } of problem.uses[task] ?? []) taken[resource]?.pop();
  for (const { store, amount, offset } of problem.draws[task] ?? []) {
    const own = drawn[store] ?? [];
    const place = own.findLastIndex((one) => one.at === at + offset && one.amount === amount);
    if (place >= 0) own.splice(place, 1);
  }
};
