import { readFileSync } from "node:fs";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { openStore } from "../../lib/store/open.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { chanceOf, spoiled } from "../bad/nasty.ts";
import { PARSERS, type Parser } from "../bad/parsers.ts";
import { runsOf, type Tried, tried } from "../bad/try.ts";

const SEED = 20260302;
const EACH_HUNDRED = 1_001;
const HALF_SAVED = 200;

/** Below this no growth is measured, in milliseconds: it is the machine's own noise. */
const NOISE = 100;
/** Twice the text may take so many times as long; what looks at each sign for each sign takes four times. */
const MOST_GROWTH = 3.5;

const timed = (act: () => unknown): number => {
  const start = performance.now();
  act();
  return performance.now() - start;
};

/** The shortest of five: what the machine did meanwhile only ever makes it longer. */
const shortest = (act: () => unknown): number => Math.min(...Array.from({ length: 5 }, () => timed(act)));

/** Twice as long, and twice, and twice. */
const SHARES = [1, 2, 4, 8] as const;

/** The worst growth of a parser over three doublings of its texts, and the slowest run. */
const grown = ({ text, longest = 0 }: Parser): { readonly growth: number; readonly slowest: number } => {
  if (text === undefined) return { growth: 0, slowest: 0 };
  const length = Math.min(longest, 200_000);
  const runs = SHARES.map((share) => runsOf(length / share));
  let [growth, slowest] = [0, 0];
  for (const [place, run] of (runs[0] ?? []).entries()) {
    const once = timed(() => text(run));
    slowest = Math.max(slowest, once);
    if (once < NOISE) continue;
    const long = shortest(() => text(run));
    if (long < NOISE / 2) continue;
    // What looks at each sign for each sign grows so at every doubling; the machine, busy or clearing up, at one or two.
    let [least, longer] = [Number.POSITIVE_INFINITY, long];
    for (const some of runs.slice(1)) {
      if (least <= growth) break;
      const time = shortest(() => text(some[place] ?? ""));
      [least, longer] = [Math.min(least, longer / time), time];
    }
    growth = Math.max(growth, least);
  }
  return { growth, slowest };
};

/** How many spoiled visit files were kept in part: a refused one leaves nothing, a taken one is there. */
const halfSaved = async (seed: number): Promise<number> => {
  const opened = await openStore(":memory:");
  if (!opened.ok) throw new Error(opened.faults.join());
  const store = opened.value;
  const planner = newPlanner(rulebook);
  const good = JSON.parse(readFileSync("fixtures/visits/old-mechanical.json", "utf8")) as object;
  let [half, made] = [0, 0];
  for (let place = 0; place < HALF_SAVED; place += 1) {
    made += 1;
    const id = `bad-${made}`;
    const text = JSON.stringify(spoiled(good, chanceOf(seed + place))) ?? "";
    const kept = await importVisit({ store, planner, world: { now: () => "2026-03-02T08:00:00.000Z", newId: () => id } }, text, "anna");
    if (kept.ok !== ((await store.visit(id)) !== null)) half += 1;
  }
  await store.close();
  return half;
};

const cells = (row: readonly (string | number)[]): string =>
  row.map((cell, place) => (place === 0 ? String(cell).padEnd(30) : String(cell).padStart(10))).join("");

const rowOf = ({ name, count, refused, taken, slowest, crashes }: Tried, limit: number, growth: number, half: number): string =>
  cells([name, count, refused, taken, slowest.toFixed(1), limit, growth === 0 ? "-" : growth.toFixed(1), crashes.length, half]);

/**
 * Bad input to whatever reads what comes from outside: `npm run bench -- bad [seed]`, which also runs `badServed.ts`. Ends the process with 1 where anything
 * went wrong.
 */
export const bad = async (): Promise<void> => {
  const seed = Number(process.argv.slice(2).find((given) => /^\d+$/.test(given)) ?? SEED);
  const shares = PARSERS.reduce((sum, { share }) => sum + share, 0);
  console.log(`\nBad input, seed ${seed}`);
  console.log(cells(["parser", "inputs", "refused", "taken", "slowest ms", "limit ms", "growth", "crashes", "half-saved"]));
  let [all, wrong] = [0, 0];
  for (const parser of PARSERS) {
    const one = await tried(parser, seed, Math.ceil((parser.share * EACH_HUNDRED * 100) / shares));
    const { growth, slowest } = grown(parser);
    const half = parser.name === "visit file" ? await halfSaved(seed) : 0;
    const worst = { ...one, slowest: Math.max(one.slowest, slowest) };
    all += one.count;
    wrong += one.crashes.length + half + (worst.slowest > parser.limit ? 1 : 0) + (growth > MOST_GROWTH ? 1 : 0);
    console.log(rowOf(worst, parser.limit, growth, half));
    for (const crash of one.crashes.slice(0, 3)) console.log(crash);
  }
  console.log(`${all} inputs, ${wrong} wrong  wanted at least 100000 and 0`);
  if (wrong > 0) process.exitCode = 1;
};
