import { ordered } from "../../lib/schedule/search.ts";
import { provenByHighs } from "../schedule/exact.ts";
import { referenceDay } from "../schedule/problems.ts";

const SEEDS = [1, 2, 3, 4, 5] as const;

const timed = <Value>(act: () => Value): readonly [ms: number, value: Value] => {
  const start = performance.now();
  const value = act();
  return [performance.now() - start, value];
};

const middle = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

/** Orders of days of the reference type: time against the exact solver's at twelve tasks, against its own as the day grows, and how far from the bound. */
export const days = async (): Promise<void> => {
  ordered(referenceDay(3, 34, 9), "day first");
  let before: readonly [count: number, ms: number] | undefined;
  for (const [sets, count] of [
    [2, 12],
    [3, 34],
    [5, 54],
    [9, 108],
  ] as const) {
    const runs = SEEDS.map((seed) => timed(() => ordered(referenceDay(sets, count, seed), "day first")));
    const ms = middle(runs.map(([time]) => time));
    const gaps = runs.map(([, { length, atLeast }]) => 100 * (length / atLeast.length - 1));
    const growth =
      before === undefined ? "" : `, grows as n^${(Math.log(ms / before[1]) / Math.log(count / before[0])).toFixed(2)} (wanted 2 at most)`;
    console.log(
      `order of ${count} tasks on ${sets} sets: median ${ms.toFixed(0)} ms, worst ${Math.max(...runs.map(([time]) => time)).toFixed(0)} ms${count === 54 ? " (wanted 1000 ms)" : ""}, over the bound by ${middle(gaps).toFixed(1)} %, at most ${Math.max(...gaps).toFixed(1)} %${growth}`,
    );
    before = [count, ms];
  }
  const [seed] = SEEDS;
  const small = referenceDay(2, 12, seed);
  const [own, order] = timed(() => ordered(small, "day first"));
  const start = performance.now();
  const proven = await provenByHighs(small, order.length);
  console.log(
    `twelve tasks: ${order.length} min in ${own.toFixed(0)} ms, HiGHS ${proven} min in ${(performance.now() - start).toFixed(0)} ms`,
  );
};
