import type { Indexed } from "./indexed.ts";
import type { Minute } from "./problem.ts";

/** A task that cannot be put anywhere. */
export const NOWHERE = -1;

/** How much of a resource is taken over time: so much from each of these minutes to the next, nothing before the first. The last level is 0. */
interface Taken {
  readonly times: Minute[];
  readonly levels: number[];
}

interface Drawn {
  readonly at: Minute;
  readonly amount: number;
  readonly wants: number;
}

/** What is taken of resources and stores by the tasks that are placed. */
export interface Profile {
  readonly taken: readonly Taken[];
  readonly drawn: readonly Drawn[][];
}

export const emptyProfile = ({ capacity, stores }: Indexed): Profile => ({
  taken: capacity.map(() => ({ times: [], levels: [] })),
  drawn: stores.map(() => []),
});

/** What is left over for rounding: amounts are kW, starts and bars, times whole minutes. */
const SLIGHT = 1e-9;

const NO_SPANS: Indexed["open"][number] = [];

const NOTHING: Taken = { times: [], levels: [] };

/** The last place at which a list of minutes in order is not after one; −1 where all are. */
const placeOf = (times: readonly Minute[], at: Minute): number => {
  let [low, high] = [0, times.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] ?? 0) <= at) low = middle + 1;
    else high = middle;
  }
  return low - 1;
};

/** The first minute, from one on, from which so much of a resource is free for so long. Walks each level once, so that time grows with their number. */
const freeFrom = ({ times, levels }: Taken, capacity: number, amount: number, from: Minute, minutes: number): Minute => {
  let begins = from;
  for (let place = Math.max(0, placeOf(times, from)); place < times.length; place += 1) {
    if ((times[place] ?? 0) >= begins + minutes) break;
    const ends = times[place + 1] ?? Number.POSITIVE_INFINITY;
    if (ends > begins && (levels[place] ?? 0) + amount > capacity + SLIGHT) begins = ends;
  }
  return begins;
};

/** Puts a value in, or takes one out; done by hand since a list of what was cut out is made and thrown away otherwise, some thousand times a day that is tried. */
const putIn = (list: number[], place: number, value: number): void => {
  list.push(value);
  for (let at = list.length - 1; at > place; at -= 1) list[at] = list[at - 1] ?? 0;
  list[place] = value;
};

const takeOut = (list: number[], place: number): void => {
  for (let at = place; at < list.length - 1; at += 1) list[at] = list[at + 1] ?? 0;
  list.pop();
};

/** Where levels change at a minute, made to do so where they do not yet. */
const cutAt = ({ times, levels }: Taken, at: Minute): number => {
  const place = placeOf(times, at);
  if (times[place] === at) return place;
  putIn(times, place + 1, at);
  putIn(levels, place + 1, place < 0 ? 0 : (levels[place] ?? 0));
  return place + 1;
};

/** Takes out a place at which the level does not change. */
const joinAt = ({ times, levels }: Taken, place: number): void => {
  const before = place === 0 ? 0 : (levels[place - 1] ?? 0);
  if (Math.abs((levels[place] ?? 0) - before) > SLIGHT) return;
  takeOut(times, place);
  takeOut(levels, place);
};

/** Adds to what is taken from one minute to another, or takes away where it is below 0; levels that come to be alike are joined. */
const add = (taken: Taken, from: Minute, to: Minute, amount: number): void => {
  if (to <= from) return;
  const first = cutAt(taken, from);
  const last = cutAt(taken, to);
  for (let place = first; place < last; place += 1) taken.levels[place] = (taken.levels[place] ?? 0) + amount;
  joinAt(taken, last);
  joinAt(taken, first);
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
  const open = problem.open[task] ?? NO_SPANS;
  let at = Math.max(from, problem.earliest[task] ?? 0);
  for (;;) {
    let [span, which] = [open[0], 0];
    while (span !== undefined && at + minutes > span.to) {
      which += 1;
      span = open[which];
    }
    if (span === undefined) return NOWHERE;
    at = Math.max(at, span.from);
    if (at > latest || at + minutes > span.to) return NOWHERE;
    let next = at;
    for (const { resource, amount, after } of problem.uses[task] ?? [])
      next = Math.max(next, freeFrom(taken[resource] ?? NOTHING, problem.capacity[resource] ?? 0, amount, at, minutes + after));
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
    add(taken[resource] ?? NOTHING, at, at + (problem.minutes[task] ?? 0) + after, amount);
  for (const { store, amount, wants, offset } of problem.draws[task] ?? []) {
    const own = drawn[store];
    if (own !== undefined) own.splice(behind(own, at + offset), 0, { at: at + offset, amount, wants });
  }
};

/** Gives back what the task took that was placed last, at a minute. */
export const takeBack = (problem: Indexed, { taken, drawn }: Profile, task: number, at: Minute): void => {
  for (const { resource, amount, after } of problem.uses[task] ?? [])
    add(taken[resource] ?? NOTHING, at, at + (problem.minutes[task] ?? 0) + after, -amount);
  for (const { store, amount, offset } of problem.draws[task] ?? []) {
    const own = drawn[store] ?? [];
    const place = own.findLastIndex((one) => one.at === at + offset && one.amount === amount);
    if (place >= 0) own.splice(place, 1);
  }
};
