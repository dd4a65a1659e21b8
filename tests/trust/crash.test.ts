import { expect, test } from "vitest";
import { crashed, wordsOf } from "./crash/rounds.ts";

// The same as `npm run crash`, in a few rounds: what was acknowledged is there after a kill, and nothing is there in part.
test.each([
  ["SQLite", "sqlite", 6],
  ["PostgreSQL", "postgres", 2],
] as const)(
  "killed while people write, an office on %s loses nothing that it acknowledged and keeps nothing by halves",
  async (_, engine, rounds) => {
    const { verdict, kept, kills } = await crashed({ engine, rounds, seed: 20261127 });
    expect(wordsOf(verdict)).toBe("");
    expect([...kept.values()].reduce((sum, count) => sum + count, 0)).toBeGreaterThan(rounds);
    expect([...kills.values()].reduce((sum, count) => sum + count, 0)).toBeGreaterThanOrEqual(rounds);
  },
  600_000,
);
