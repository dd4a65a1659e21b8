import { attendanceBound, endBound, type Reach, reachOf } from "./bounds.ts";
import { type Indexed, indexed } from "./indexed.ts";
import { emptyProfile, firstPlace, NOWHERE, place, takeBack } from "./placing.ts";
import type { DayProblem, Minute, Wish } from "./problem.ts";
import { provenEnd } from "./prove.ts";

/** Tasks with their beginnings, and how good the order is. */
export interface DayOrder {
  /** Beginning of each task, by its id; what is not in it could not be placed. */
  readonly begins: ReadonlyMap<string, Minute>;
  /** Tasks that find no place, and those that wait for them. */
  readonly unplaced: readonly string[];
  /** When the first day begins. */
  readonly from: Minute;
  /** Minutes from the beginning of the first day to the end of the last task. */
  readonly length: number;
  /** Minutes that all attending resources are there, together. */
  readonly attendance: number;
  /** No order is shorter than this, or has less attendance. */
  readonly atLeast: { readonly length: number; readonly attendance: number };
}

interface Tried {
  readonly begins: Float64Array;
  readonly missing: number;
  readonly end: Minute;
  readonly attendance: number;
  /** Minutes from the first to the last task of each group that had better lie together, summed. */
  readonly spread: number;
}

/** Numbers that look drawn by lot and are the same in every run (a linear congruential generator, constants of Numerical Recipes). */
const lot = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296;
  };
};

const endOf = (problem: Indexed, begins: Tried["begins"]): Minute =>
  begins.reduce((latest, at, task) => (at < 0 ? latest : Math.max(latest, at + (problem.minutes[task] ?? 0))), problem.from);

const attendanceOf = (problem: Indexed, begins: Tried["begins"]): number =>
  problem.attending.reduce((sum, tasks) => {
    const own = tasks.filter((task) => (begins[task] ?? NOWHERE) >= 0);
    if (own.length === 0) return sum;
    const to = Math.max(...own.map((task) => (begins[task] ?? 0) + (problem.minutes[task] ?? 0)));
    const from = Math.min(...own.map((task) => begins[task] ?? 0));
    return problem.rests.reduce((rest, span) => rest - Math.max(0, Math.min(to, span.to) - Math.max(from, span.from)), sum + to - from);
  }, 0);

/**
 * Places one task after the other, each as early as it can be, always the one with the smallest key of those that wait for none (serial schedule
 * generation); first of all what can begin at one minute only. Attending resources come no earlier than they are called. Nothing once more tasks than so many find no place.
 */
const generated = (problem: Indexed, keys: Float64Array, called: readonly Minute[], mostMissing: number): Float64Array | undefined => {
  let missing = 0;
  const begins = new Float64Array(problem.count).fill(NOWHERE);
  const waits = problem.before.map((own) => own.length);
  const profile = emptyProfile(problem);
  const reserved = new Set<number>();
  for (const task of problem.fixed) {
    const at = firstPlace(problem, profile, task, 0);
    if (at < 0) continue;
    place(problem, profile, task, at);
    begins[task] = at;
    reserved.add(task);
  }
  const ready = problem.topological.filter((task) => (waits[task] ?? 0) === 0);
  const comes = new Float64Array(problem.count).fill(problem.from);
  problem.attending.forEach((tasks, one) => {
    for (const task of tasks) comes[task] = Math.max(comes[task] ?? 0, called[one] ?? 0);
  });
  /** The first minute, from one on, at which a task can begin so that all that follows it directly comes directly. */
  const placeOfChain = (task: number, from: Minute): Minute => {
    const [next, minutes] = [problem.follower[task], problem.minutes[task] ?? 0];
    if (next === undefined) return firstPlace(problem, profile, task, from);
    if (reserved.has(next)) {
      // What follows has its time already.
      const wanted = (begins[next] ?? NOWHERE) - minutes;
      return firstPlace(problem, profile, task, Math.max(from, wanted)) === wanted ? wanted : NOWHERE;
    }
    let at = firstPlace(problem, profile, task, from);
    while (at >= 0) {
      // What follows draws from the same store, perhaps.
      place(problem, profile, task, at);
      const then = placeOfChain(next, at + minutes);
      takeBack(problem, profile, task, at);
      if (then === at + minutes) return at;
      at = then < 0 ? NOWHERE : firstPlace(problem, profile, task, then - minutes);
    }
    return NOWHERE;
  };
  while (ready.length > 0) {
    let best = 0;
    for (let at = 1; at < ready.length; at += 1) if ((keys[ready[at] ?? 0] ?? 0) < (keys[ready[best] ?? 0] ?? 0)) best = at;
    const [task = 0] = ready.splice(best, 1);
    let from = comes[task] ?? 0;
    let possible = true;
    for (const { task: one, gap } of problem.before[task] ?? []) {
      const at = begins[one] ?? NOWHERE;
      if (at < 0) possible = false;
      else from = Math.max(from, at + (problem.minutes[one] ?? 0) + gap);
    }
    const kept = reserved.has(task);
    const own = begins[task] ?? NOWHERE;
    const at = !possible || (kept && own < from) ? NOWHERE : kept ? own : placeOfChain(task, from);
    begins[task] = at;
    if (at < 0 && ++missing > mostMissing) return undefined;
    if (at >= 0 && !kept) {
      place(problem, profile, task, at);
      let ends = at + (problem.minutes[task] ?? 0);
      for (let next = problem.follower[task]; next !== undefined && !reserved.has(next); next = problem.follower[next]) {
        place(problem, profile, next, ends);
        begins[next] = ends;
        reserved.add(next);
        ends += problem.minutes[next] ?? 0;
      }
    }
    for (const { task: next } of problem.after[task] ?? []) {
      waits[next] = (waits[next] ?? 0) - 1;
      if (waits[next] === 0) ready.push(next);
    }
  }
  return begins;
};

const triedOf = (problem: Indexed, begins: Float64Array): Tried => ({
  begins,
  missing: begins.reduce((count, at) => (at < 0 ? count + 1 : count), 0),
  end: endOf(problem, begins),
  attendance: attendanceOf(problem, begins),
  spread: problem.together.reduce((sum, tasks) => {
    let [from, to] = [Number.POSITIVE_INFINITY, 0];
    for (const task of tasks) {
      const at = begins[task] ?? NOWHERE;
      if (at < 0) continue;
      from = Math.min(from, at);
      to = Math.max(to, at + (problem.minutes[task] ?? 0));
    }
    return to > 0 ? sum + to - from : sum;
  }, 0),
});

/** Negative where the first is better: what is left out counts before all else. */
const compare = (one: Tried, other: Tried, wish: Wish): number => {
  const [first, second] = wish === "day first" ? (["end", "attendance"] as const) : (["attendance", "end"] as const);
  return one.missing - other.missing || one[first] - other[first] || one[second] - other[second] || one.spread - other.spread;
};

/** So many orders are tried; the same for every size, so that time grows with the square of the tasks that one order takes. */
export const TRIES = 1500;

/** Keys of tasks in the given order lie so far apart, in minutes, that small changes leave most of it. */
const GIVEN_APART = 20;

/** Up to so many tasks it is tried to prove the end by walking all orders. */
const MOST_PROVEN = 16;

/**
 * Keys by which tasks are often taken first in the trade of scheduling: what much must follow; what can begin soon; much of a resource; and as they are given,
 * which whoever makes a problem does in an order that is natural to it.
 */
const rulesOf = (problem: Indexed, { head, tail }: Reach): readonly Float64Array[] => [
  Float64Array.from(tail, (minutes) => -minutes),
  Float64Array.from(head, (from, task) => from + (tail[task] ?? 0) * -1e-3),
  Float64Array.from(tail, (minutes, task) => -minutes - (problem.minutes[task] ?? 0) * (problem.uses[task]?.length ?? 0)),
  Float64Array.from(tail, (_, task) => task * GIVEN_APART),
];

/** In the end each technician is called this much earlier and less, in such steps, to see whether all the rest gains by it; minutes. */
const EARLIEST_CALL = 360;
const CALL_STEP = 15;

export interface Search {
  /** So many orders are tried at most. */
  readonly tries?: number;
  /** An order in which all is placed, to go on from. */
  readonly start?: DayOrder["begins"];
  /** An order of a problem much like this one, by which tasks are first taken; those that are not in it come as soon as they can. */
  readonly near?: DayOrder["begins"];
  /** The search ends with the first order in which all is placed and over by this minute, or where it is far from one. */
  readonly overBy?: Minute;
}

/** An order that lies over a wanted end by more than this part of the time there is after so many tries is taken to be far from it. */
const FAR = { tries: 12, part: 0.12 };

/**
 * Puts the tasks of a day in order: several keys of the trade, then better ones by changing the best a little, the same in every run. It ends early where
 * a bound says that nothing is better. The problem must be sound (`faultsIn`). Pure.
 */
export const ordered = (problem: DayProblem, wish: Wish, { tries = TRIES, start, near, overBy }: Search = {}): DayOrder => {
  const day = indexed(problem);
  const reach = reachOf(day);
  const [end, attendance] = [endBound(day, reach), attendanceBound(day)];
  const next = lot(20_26);
  const soonest = day.attending.map((tasks) => Math.min(...tasks.map((task) => reach.head[task] ?? 0)));
  const rules = rulesOf(day, reach);
  const nothing = new Float64Array(day.count).fill(NOWHERE);
  const keysOf = (order: DayOrder["begins"] | undefined) =>
    order === undefined ? undefined : Float64Array.from(day.ids, (id) => order.get(id) ?? NOWHERE);
  const given = keysOf(start);
  let keys = given ?? keysOf(near) ?? rules[0] ?? nothing;
  let called: readonly Minute[] = soonest;
  let found = triedOf(day, given ?? generated(day, keys, called, day.count) ?? nothing);
  const done = (tried: number): boolean =>
    overBy === undefined
      ? found.missing === 0 && found.end <= end && found.attendance <= attendance
      : (found.missing === 0 && found.end <= overBy) ||
        (tried > FAR.tries && found.missing === 0 && found.end - overBy > FAR.part * (overBy - day.from));
  const consider = (others: Float64Array, calls: readonly Minute[]): void => {
    // What leaves out more than the best is no better, whatever else it is.
    const begins = generated(day, others, calls, found.missing);
    if (begins === undefined) return;
    const tried = triedOf(day, begins);
    if (compare(tried, found, wish) <= 0) [keys, called, found] = [others, calls, tried];
  };
  for (const rule of rules) if (!done(0)) consider(rule, called);
  const spread = Math.max(1, ...reach.tail);
  for (let tried = 0; tried < tries && !done(tried); tried += 1) {
    const others = Float64Array.from(keys);
    const changes = 1 + Math.floor(next() * next() * Math.max(3, day.count / 4));
    for (let change = 0; change < changes; change += 1) {
      const task = Math.floor(next() * day.count);
      others[task] = (others[task] ?? 0) + (next() - 0.5) * spread;
    }
    const calls = called.map((from, one) => {
      if (next() < 0.6) return from;
      // Called for when one of his tasks began in the best order, or for when any other task ended there, or as soon as can be.
      const tasks = day.attending[one] ?? [];
      if (next() < 0.2) return soonest[one] ?? 0;
      const pick = next() < 0.5 ? (tasks[Math.floor(next() * tasks.length)] ?? 0) : Math.floor(next() * day.count);
      const at = found.begins[pick] ?? 0;
      return Math.max(soonest[one] ?? 0, at + (tasks.includes(pick) ? 0 : (day.minutes[pick] ?? 0)));
    });
    consider(others, calls);
  }
  // What can move up in the order found does: who attends comes as he did, or earlier where he need not be there longer for it.
  const cameIn = (begins: Float64Array): readonly Minute[] =>
    day.attending.map((tasks) => Math.max(0, Math.min(...tasks.map((task) => begins[task] ?? NOWHERE))));
  if (overBy === undefined && found.missing === 0) {
    for (const calls of [cameIn(found.begins), soonest]) consider(found.begins, calls);
    for (const place of day.attending.keys()) {
      const came = cameIn(found.begins);
      for (let earlier = EARLIEST_CALL; earlier > 0; earlier -= CALL_STEP)
        consider(
          found.begins,
          came.map((at, one) => (one === place ? Math.max(soonest[one] ?? 0, at - earlier) : at)),
        );
    }
  }
  // A short day is proven by walking all orders, where what is asked for is its end.
  const proof =
    overBy === undefined &&
    day.count <= MOST_PROVEN &&
    day.follower.every((next) => next === undefined) &&
    found.missing === 0 &&
    found.end > end
      ? provenEnd(day, reach, found.end, end)
      : null;
  if (proof?.begins !== undefined && wish === "day first") found = triedOf(day, proof.begins);
  const least = Math.max(end, proof?.end ?? end);
  const settled = [...day.ids.entries()];
  return {
    begins: new Map(settled.flatMap(([task, id]) => ((found.begins[task] ?? NOWHERE) < 0 ? [] : [[id, found.begins[task] ?? 0] as const]))),
    unplaced: settled.flatMap(([task, id]) => ((found.begins[task] ?? NOWHERE) < 0 ? [id] : [])),
    from: day.from,
    length: found.end - day.from,
    attendance: found.attendance,
    atLeast: { length: least - day.from, attendance },
  };
};
