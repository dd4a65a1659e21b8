import type { EnergyStore, Minute, Span } from "../../schedule/problem.ts";
import { LOAD } from "./load.ts";
import type { DayLine, DayLoad, LoadCourse } from "./types.ts";

interface Placed {
  readonly begins: Minute;
  readonly draws: readonly { readonly store: string; readonly amount: number; readonly at?: number }[];
}

/** What is in a store over time, with a point where it is full again. Pure. */
export const courseOf = (store: EnergyStore, placed: readonly Placed[], { from, to }: Span): readonly (readonly [Minute, number])[] => {
  const draws = placed
    .flatMap(({ begins, draws: own }) =>
      own.filter((draw) => draw.store === store.id && draw.amount > 0).map(({ amount, at = 0 }) => ({ amount, at: begins + at })),
    )
    .sort((one, other) => one.at - other.at);
  const points: (readonly [Minute, number])[] = [[from, store.first]];
  let [level, then] = [store.first, from];
  const until = (at: Minute): void => {
    const full = store.refill > 0 ? then + (store.holds - level) / store.refill : Number.POSITIVE_INFINITY;
    if (full > then && full < at) points.push([full, store.holds]);
    level = Math.min(store.holds, level + (at - then) * store.refill);
    then = at;
    points.push([at, level]);
  };
  for (const { at, amount } of draws) {
    until(at);
    level -= amount;
    points.push([at, level]);
  }
  until(to);
  return points;
};

/** Sets that come back to the board between two tests for less than this stay away. */
const STAYS_AWAY = 60;

type Away = Span & { readonly set: number };

const joined = (spans: readonly Away[]): readonly Away[] => {
  const out: Away[] = [];
  for (const span of [...spans].sort((one, other) => one.set - other.set || one.from - other.from)) {
    const last = out.at(-1);
    if (last !== undefined && last.set === span.set && span.from - last.to <= STAYS_AWAY)
      out[out.length - 1] = { ...last, to: Math.max(last.to, span.to) };
    else out.push(span);
  }
  return out;
};

const stepsOf = (away: readonly Away[], { ratedKw }: DayLoad, from: Minute): LoadCourse["steps"] => {
  const all = [...ratedKw.values()].reduce((sum, kw) => sum + kw, 0);
  const times = [...new Set([from, ...away.flatMap((one) => [one.from, one.to])])].sort((a, b) => a - b);
  return times.map((at) => [at, away.reduce((sum, one) => (one.from <= at && at < one.to ? sum - (ratedKw.get(one.set) ?? 0) : sum), all)]);
};

/** Rated kW on the board over time; a set stays away between tests that follow soon, where the others carry the ship so. Pure. */
export const loadCourseOf = (load: DayLoad, lines: readonly (DayLine & { readonly away: boolean })[], from: Minute): LoadCourse => {
  const away = lines.flatMap(({ away: isAway, set, begins, ends }): readonly Away[] =>
    isAway && set !== null && load.ratedKw.has(set) ? [{ set, from: begins, to: ends }] : [],
  );
  const least = (load.neededKw * 100) / load.limitPercent;
  const together = stepsOf(joined(away), load, from);
  const steps = together.every(([, kw]) => kw >= least - 1e-6) ? together : stepsOf(away, load, from);
  return { neededKw: load.neededKw, limitPercent: load.limitPercent, steps };
};

/** Whether a task takes its set from the board. */
export const takesAway = (uses: readonly { readonly resource: string }[]): boolean => uses.some(({ resource }) => resource === LOAD);
