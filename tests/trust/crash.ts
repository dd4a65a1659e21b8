import { crashed, type Tally, wordsOf } from "./crash/rounds.ts";

/** `npm run crash -- [--sqlite 200] [--postgres 50] [--seed N]`: kills the program while people write, round after round, and looks for what they wrote. */

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

const told = (engine: string, { verdict, kills, kept, cutOff, restarts, rounds }: Tally): string => `
${engine}: ${rounds} rounds
  killed: ${listed(kills)}
  acknowledged: ${listed(kept)}; cut off: ${cutOff}
  lost ${verdict.lost.length}, torn ${verdict.torn.length}, doubled ${verdict.doubled.length}, refused ${verdict.refused.length}
  from start to first answer: median ${(median(restarts) / 1000).toFixed(1)} s, longest ${(Math.max(0, ...restarts) / 1000).toFixed(1)} s
${wordsOf(verdict)}
`;

const seed = numberAfter("--seed", Date.now() % 1_000_000);
const named = process.argv.some((one) => one === "--sqlite" || one === "--postgres");
const wanted = { sqlite: numberAfter("--sqlite", named ? 0 : 200), postgres: numberAfter("--postgres", named ? 0 : 50) };
process.stdout.write(`seed ${seed}\n`);
let wrong = 0;
for (const engine of ["sqlite", "postgres"] as const) {
  if (wanted[engine] === 0) continue;
  const tally = await crashed({ engine, rounds: wanted[engine], seed, tell: (line) => process.stdout.write(`${line}\n`) });
  process.stdout.write(told(engine, tally));
  wrong += Object.values(tally.verdict).flat().length;
}
process.exit(wrong === 0 ? 0 : 1);
