import { LONGEST_DAY_HOURS } from "../../model/daySettings.ts";
import type { DayProblem, Minute, Span } from "../../schedule/problem.ts";
import type { DrawnUp } from "./setup.ts";
import { allPlaced, type Near, type Placed } from "./solve.ts";
import { A_DAY } from "./times.ts";
import type { DayTask, LeftOut } from "./types.ts";
import { momentWords } from "./words.ts";

/** A problem without some of its tests, and without what stands around sets and technicians that then have none. */
export const without = (problem: DayProblem, tasks: readonly DayTask[], dropped: ReadonlySet<string>): DayProblem => {
  if (dropped.size === 0) return problem;
  const kept = tasks.filter(({ ref, id }) => !(ref !== undefined && dropped.has(ref)) && !dropped.has(id));
  const tested = new Set(kept.flatMap(({ ref, set }) => (ref === undefined || set === null ? [] : [set])));
  const attending = (id: string): readonly string[] =>
    problem.tasks
      .find((task) => task.id === id)
      ?.uses.flatMap(({ resource }) => (problem.attending.includes(resource) ? [resource] : [])) ?? [];
  const wanted = (id: string): boolean => problem.tasks.some((task) => task.id === id);
  /** Whether a test that is kept takes somebody, on one set or on any. */
  const uses = (resource: string, on?: number | null): boolean =>
    kept.some(
      ({ id, ref, set }) =>
        ref !== undefined &&
        (on === undefined || set === on) &&
        problem.tasks.some((task) => task.id === id && task.uses.some((use) => use.resource === resource)),
    );
  const runs = new Set(
    kept.flatMap(({ ref, set, phase }) => (ref === undefined || set === null || phase === "at rest" || phase === "recovery" ? [] : [set])),
  );
  const ids = new Set(
    kept
      .filter(({ id, ref, set, phase }) => {
        if (!wanted(id)) return false;
        if (ref !== undefined) return true;
        if (phase === "codes cleared") return attending(id).some((resource) => uses(resource, set));
        if (set !== null) return tested.has(set) && (phase !== "start" || runs.has(set));
        if (id === "get under way" || id === "alongside again")
          return kept.some((one) => one.ref !== undefined && one.phase === "under way");
        const technician = /^brief (.+)$/.exec(id)?.[1];
        return technician === undefined || uses(technician);
      })
      .map(({ id }) => id),
  );
  // What followed a task that is left out follows what came before that; one act for several sets alone binds them to one another.
  const joint = new Set(tasks.flatMap(({ id, also }) => (also === undefined ? [] : [id])));
  const found = new Map<string, readonly string[]>();
  const heirs = (id: string): readonly string[] => {
    if (ids.has(id)) return [id];
    if (joint.has(id)) return [];
    const known = found.get(id) ?? [...new Set(problem.orders.filter(({ after }) => after === id).flatMap(({ before }) => heirs(before)))];
    found.set(id, known);
    return known;
  };
  return {
    ...problem,
    tasks: problem.tasks.filter(({ id }) => ids.has(id)),
    orders: problem.orders.flatMap((order) =>
      ids.has(order.after) ? heirs(order.before).map((before) => (before === order.before ? order : { before, after: order.after })) : [],
    ),
  };
};

/** A problem in which all that is there to the end of the last day is there for longer, by what `extend` makes of its times. */
const lengthened = (problem: DayProblem, { work, days }: DrawnUp, extend: (open: readonly Span[]) => readonly Span[]): DayProblem => {
  const [end, morning] = [work.at(-1)?.to, days.at(-1)?.from];
  const lasts = (open: readonly Span[]): boolean => open.some(({ from, to }) => to === end || from === morning);
  return { ...problem, resources: problem.resources.map((one) => (lasts(one.open) ? { ...one, open: extend(one.open) } : one)) };
};

/** Minutes of work between two moments. */
export const workBetween = (from: Minute, to: Minute, work: readonly Span[]): number =>
  work.reduce((sum, span) => sum + Math.max(0, Math.min(to, span.to) - Math.max(from, span.from)), 0);

/** Tests that are left out, with those that lean on one of them: no running test without the hand stop proven before it. */
const withLeaning = (refs: Iterable<string>, { leaning }: Pick<DrawnUp, "leaning">): ReadonlySet<string> =>
  new Set([...refs].flatMap((ref) => [ref, ...(leaning[ref] ?? [])]));

/** A problem without the least important tests, so that the others fit. */
export interface Fewer {
  readonly out: ReadonlySet<string>;
  readonly problem: DayProblem;
  readonly placed: Placed | undefined;
}

/** The least important tests that must be left out so that the others fit: as few from the end of the list as do, then what fits all the same put back. */
export const leftOutFor = (problem: DayProblem, setup: DrawnUp): Fewer => {
  const present = new Set(setup.tasks.filter(({ id }) => problem.tasks.some((task) => task.id === id)).flatMap(({ ref }) => ref ?? []));
  const list = setup.leastFirst.filter((ref) => present.has(ref));
  const rid = (refs: readonly string[], near?: Near): Fewer => {
    const out = withLeaning(refs, setup);
    const rest = without(problem, setup.tasks, out);
    return { out, problem: rest, placed: allPlaced(rest, setup.sequences, near) };
  };
  let found: Fewer | undefined;
  let [low, high] = [1, list.length];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    const tried = rid(list.slice(0, middle));
    if (tried.placed === undefined) low = middle + 1;
    else [high, found] = [middle, tried];
  }
  let best = found ?? rid(list.slice(0, high));
  // Long ones may have kept out short ones that come before them.
  for (const ref of [...best.out].reverse()) {
    const others = [...best.out].filter((one) => one !== ref);
    const tried: Fewer = best.placed === undefined ? rid(others) : rid(others, { placed: best.placed, only: true });
    if (tried.placed !== undefined) best = tried;
  }
  return best;
};

/** With what more time all would fit, in words; empty where not even that helps. */
const moreTime = (problem: DayProblem, setup: DrawnUp): string => {
  const last = setup.days.at(-1);
  if (last === undefined) return "";
  const until = last.from + LONGEST_DAY_HOURS * 60;
  const end = setup.work.at(-1)?.to;
  const longer = lengthened(problem, setup, (open) =>
    open.map((span) => (span.to === end ? { ...span, to: Math.max(span.to, until) } : span)),
  );
  const order = allPlaced(longer, setup.sequences)?.order;
  if (order !== undefined) {
    const ends = order.from + order.length;
    // Where no more time was wanted for it, it is not the time that keeps them apart.
    return ends > last.to ? `all would fit if the work went on until ${momentWords(ends, setup.days)}` : "";
  }
  for (const days of [1, 2, 3, 4, 5, 6]) {
    const midnight = Math.floor(last.from / A_DAY) * A_DAY;
    const more = lengthened(problem, setup, (open) => [
      ...open,
      ...Array.from({ length: days }, (_, day) => (day + 1) * A_DAY).flatMap((later) =>
        open.filter(({ from }) => from >= midnight).map(({ from, to }) => ({ from: from + later, to: to + later })),
      ),
    ]);
    if (allPlaced(more, setup.sequences) !== undefined) return `all would fit with ${days} ${days === 1 ? "day" : "days"} more`;
  }
  const hours = setup.days.map(({ to }) => to);
  for (const later of [1, 2, 3, 4, 5, 6].map((hour) => hour * 60)) {
    if (setup.days.some(({ from, to }) => to + later - from > LONGEST_DAY_HOURS * 60)) break;
    const resources = problem.resources.map((one) => ({
      ...one,
      open: one.open.map((span) => (hours.includes(span.to) ? { ...span, to: span.to + later } : span)),
    }));
    if (allPlaced({ ...problem, resources }, setup.sequences) !== undefined) return `all would fit with ${later / 60} h more each day`;
  }
  return "";
};

/** A store that, were it never empty, all would fit with; undefined where it is not the starts that keep them apart. */
const shortStore = (problem: DayProblem, { stores, sequences }: DrawnUp): string | undefined =>
  stores.find(({ id }) => {
    if (!problem.tasks.some(({ draws = [] }) => draws.some(({ store, amount }) => store === id && amount > 0))) return false;
    const endless = problem.stores.map((store) => (store.id === id ? { ...store, refill: store.holds } : store));
    return allPlaced({ ...problem, stores: endless }, sequences) !== undefined;
  })?.label;

/** Why not all of a problem fits, with the nearest that would do, in words. */
export const whyShort = (problem: DayProblem, setup: DrawnUp): string => {
  const [store, time] = [shortStore(problem, setup), moreTime(problem, setup)];
  const more = time === "" ? "" : `; ${time}`;
  if (store !== undefined)
    return `${store} does not hold enough starts, and is not recharged so soon${more === "" ? "" : `${more}, or sooner with a faster recharge`}`;
  return time === "" ? "no place was found for it beside the others in the time there is" : `it does not fit into the time there is${more}`;
};

/** A test that is left out, with those that would be done in the same act. */
export const leftOutOf = (ref: string, setup: DrawnUp, why: string): readonly LeftOut[] => {
  const told = setup.tasks.find((task) => task.ref === ref);
  return [ref, ...(told?.also ?? [])].map((one) => ({ ref: one, what: whatOf(told, setup, one), why }));
};

export const whatOf = (told: DayTask | undefined, { lanes, setOf }: DrawnUp, id: string): string => {
  if (told === undefined) return id;
  const set = setOf[id] ?? lanes.find((lane) => lane.id === `set ${told.set}`)?.label;
  return set === undefined ? told.what : `${set}: ${told.what}`;
};
