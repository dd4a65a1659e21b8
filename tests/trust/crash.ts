import { crashed, type Tally, wordsOf } from "./crash/rounds.ts";
import { both, NOTHING_WRONG } from "./crash/verdict.ts";

/**
 * `npm run crash -- [--sqlite 200] [--postgres 50] [--at-once 4] [--seed N]`: kills the program while people write, round after round, and looks for what they
 * wrote. Some offices are tried at once, each with a program of its own: most of a round is waiting until mails that were cut off go out by themselves.
 */

const numberAfter = (name: string, otherwise: number): number => {
  const place = process.argv.indexOf(name);
  if (place < 0) return otherwise;
  const given = Number(process.argv[place + 1]);
  if (Number.isInteger(given) && given >= 0) return given;
  process.stderr.write(`${name}: given "${process.argv[place + 1] ?? ""}"; wanted a whole number\n`);
  process.exit(2);
};

const median = (numbers: readonly number[]): number => [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? 0;

const listed = (counts: ReadonlyMap<string, number>): string => [...counts].map(([name, count]) => `${name} ${count}`).join(", ");

/** So many rounds divided among so many offices; none is left without. */
const shares = (rounds: number, offices: number): readonly number[] =>
  Array.from({ length: offices }, (_, place) => Math.floor(rounds / offices) + (place < rounds % offices ? 1 : 0)).filter((one) => one > 0);

const summed = <Name>(all: readonly ReadonlyMap<Name, number>[]): ReadonlyMap<Name, number> => {
  const sums = new Map<Name, number>();
  for (const counts of all) for (const [name, count] of counts) sums.set(name, (sums.get(name) ?? 0) + count);
  return sums;
};

const together = (all: readonly Tally[]): Tally => ({
  verdict: all.map(({ verdict }) => verdict).reduce(both, NOTHING_WRONG),
  kills: summed(all.map(({ kills }) => kills)),
  kept: summed(all.map(({ kept }) => kept)),
  cutOff: all.reduce((sum, one) => sum + one.cutOff, 0),
  restarts: all.flatMap(({ restarts }) => restarts),
  rounds: all.reduce((sum, one) => sum + one.rounds, 0),
});

const told = (engine: string, { verdict, kills, kept, cutOff, restarts, rounds }: Tally): string => `
${engine}: ${rounds} rounds
  killed: ${listed(kills)}
  acknowledged: ${listed(kept)}; cut off: ${cutOff}
  lost ${verdict.lost.length}, torn ${verdict.torn.length}, doubled ${verdict.doubled.length}, refused ${verdict.refused.length}
  from start to first answer: median ${(median(restarts) / 1000).toFixed(1)} s, longest ${(Math.max(0, ...restarts) / 1000).toFixed(1)} s
${wordsOf(verdict)}
`;

const seed = numberAfter("--seed", Date.now() % 1_000_000);
const atOnce = Math.max(1, numberAfter("--at-once", 4));
const named = process.argv.some((one) => one === "--sqlite" || one === "--postgres");
const wanted = { sqlite: numberAfter("--sqlite", named ? 0 : 200), postgres: numberAfter("--postgres", named ? 0 : 50) };
process.stdout.write(`seed ${seed}\n`);
let wrong = 0;
for (const engine of ["sqlite", "postgres"] as const) {
  if (wanted[engine] === 0) continue;
  const tally = together(
    await Promise.all(
      shares(wanted[engine], atOnce).map((rounds, place) =>
        crashed({ engine, rounds, seed: seed + place, tell: (line) => process.stdout.write(`${engine} ${place + 1}, ${line}\n`) }),
      ),
    ),
  );
  process.stdout.write(told(engine, tally));
  wrong += Object.values(tally.verdict).flat().length;
}
process.exit(wrong === 0 ? 0 : 1);
