import { ALWAYS, type Indexed } from "./indexed.ts";
import type { Minute } from "./problem.ts";

/** Earliest ends by precedence, opening times and earliest beginnings alone, and what must still follow each task. */
export interface Reach {
  /** The earliest beginning of each task were there nothing else. */
  readonly head: readonly Minute[];
  /** Minutes from a task's beginning to the end of all that must follow it, itself included. */
  readonly tail: readonly number[];
}

/** The first minute from one on at which a task of these minutes fits into an opening time; infinity where it never does. */
const opens = (problem: Indexed, task: number, from: Minute): Minute => {
  const minutes = problem.minutes[task] ?? 0;
  const span = (problem.open[task] ?? []).find(({ from: begins, to }) => Math.max(from, begins) + minutes <= to);
  return span === undefined ? Number.POSITIVE_INFINITY : Math.max(from, span.from);
};

export const reachOf = (problem: Indexed): Reach => {
  const head = new Array<Minute>(problem.count).fill(problem.from);
  const tail = new Array<number>(problem.count).fill(0);
  for (const task of problem.topological) {
    const ready = (problem.before[task] ?? []).reduce(
      (latest, { task: one, gap }) => Math.max(latest, (head[one] ?? 0) + (problem.minutes[one] ?? 0) + gap),
      Math.max(problem.from, problem.earliest[task] ?? 0),
    );
    head[task] = opens(problem, task, ready);
  }
  for (const task of [...problem.topological].reverse())
    tail[task] =
      (problem.minutes[task] ?? 0) +
      (problem.after[task] ?? []).reduce((most, { task: one, gap }) => Math.max(most, gap + (tail[one] ?? 0)), 0);
  return { head, tail };
};

/** The first minute at which so much work of a resource can be done, begun no earlier than a minute, in its opening times. */
const workedBy = (spans: Indexed["open"][number], from: Minute, minutes: number): Minute => {
  let left = minutes;
  for (const { from: begins, to } of spans) {
    const starts = Math.max(begins, from);
    if (starts >= to) continue;
    if (starts + left <= to) return starts + left;
    left -= to - starts;
  }
  return Number.POSITIVE_INFINITY;
};

/**
 * The earliest end that the tasks of one resource allow: all that have their heads from one on and their tails from one on, one after the other as far as
 * the capacity goes. A published bound of scheduling on one machine (heads, bodies and tails), kept for every pair of a head and a tail.
 */
const loadBound = (problem: Indexed, { head, tail }: Reach, resource: number): Minute => {
  const capacity = problem.capacity[resource] ?? 0;
  const users = problem.uses.flatMap((uses, task) => {
    const own = uses.find((use) => use.resource === resource);
    const minutes = problem.minutes[task] ?? 0;
    // What stays taken afterwards need not be over when the day is.
    return own === undefined || minutes === 0
      ? []
      : [{ head: head[task] ?? 0, after: (tail[task] ?? 0) - minutes, hold: own.after, minutes, amount: own.amount }];
  });
  if (capacity <= 0 || users.length === 0) return 0;
  // What stays taken afterwards passes while the resource is shut as well.
  const spans = users.some(({ hold }) => hold > 0) ? ALWAYS : (problem.openOf[resource] ?? []);
  const longestTailFirst = users.sort((one, other) => other.after - one.after);
  let bound = 0;
  for (const from of new Set(users.map(({ head: own }) => own))) {
    let [work, longest] = [0, 0];
    for (const { head: own, after, minutes, hold, amount } of longestTailFirst) {
      if (own < from) continue;
      work += ((minutes + hold) * amount) / capacity;
      longest = Math.max(longest, hold);
      if (work - longest > 0) bound = Math.max(bound, workedBy(spans, from, work - longest) + after);
    }
  }
  return bound;
};

/** The earliest end that the energy in a store allows: whatever is drawn beyond what is in it at first has to be recharged before the last draw. */
const energyBound = (problem: Indexed, { head, tail }: Reach, store: number): Minute => {
  const own = problem.stores[store];
  const draws = problem.draws.flatMap((list, task) => list.flatMap((draw) => (draw.store === store ? [{ ...draw, task }] : [])));
  if (own === undefined || draws.length === 0) return 0;
  const drawn = draws.reduce((sum, { amount }) => sum + amount, 0);
  // Whichever draw is the last, before it all the others are made.
  return Math.min(
    ...draws.map(({ amount, wants, offset, task }) => {
      const missing = drawn - amount + wants - own.first;
      const at = missing <= 1e-9 ? 0 : own.refill <= 0 ? Number.POSITIVE_INFINITY : problem.from + Math.ceil(missing / own.refill - 1e-9);
      return Math.max(at - offset, head[task] ?? 0) + (tail[task] ?? 0);
    }),
  );
};

/** No order of the tasks ends earlier than this. */
export const endBound = (problem: Indexed, reach = reachOf(problem)): Minute =>
  Math.max(
    problem.from,
    ...reach.head.map((head, task) => head + (reach.tail[task] ?? 0)),
    ...problem.capacity.map((_, resource) => loadBound(problem, reach, resource)),
    ...problem.stores.map((_, store) => energyBound(problem, reach, store)),
  );

/** The longest way by precedences from the beginning of one task to the end of another, without waits that may pass in a rest; none where they do not follow each other. */
const wayBetween = (problem: Indexed, from: number): readonly (number | undefined)[] => {
  const way = new Array<number | undefined>(problem.count).fill(undefined);
  way[from] = problem.minutes[from] ?? 0;
  for (const task of problem.topological) {
    const here = way[task];
    if (here === undefined) continue;
    for (const { task: next, gap } of problem.after[task] ?? [])
      way[next] = Math.max(way[next] ?? 0, here + (problem.rests.length > 0 ? 0 : gap) + (problem.minutes[next] ?? 0));
  }
  return way;
};

/** No order of the tasks has an attending resource there for less than this: its own work, and the longest way between two tasks of it. */
export const attendanceBound = (problem: Indexed): number =>
  problem.attending.reduce((sum, tasks, place) => {
    if (tasks.length === 0) return sum;
    const capacity = problem.capacity[problem.attendingAt[place] ?? -1] ?? 1;
    // Who is free again before a task is over can be at the next one meanwhile.
    const held = (task: number): number =>
      (problem.minutes[task] ?? 0) +
      Math.min(0, ...(problem.uses[task] ?? []).flatMap(({ resource, after }) => (resource === problem.attendingAt[place] ? [after] : [])));
    const work = tasks.reduce((total, task) => total + held(task), 0) / Math.max(1, capacity);
    const ways = tasks.flatMap((from) => {
      const way = wayBetween(problem, from);
      return tasks.map((to) => way[to] ?? 0);
    });
    return sum + Math.max(Math.ceil(work - 1e-9), ...ways);
  }, 0);
