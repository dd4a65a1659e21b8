import { chanceOf, PUMPS } from "./nasty.ts";
import type { Parser } from "./parsers.ts";

/** What came of trying one parser. */
export interface Tried {
  readonly name: string;
  readonly count: number;
  readonly taken: number;
  readonly refused: number;
  readonly slowest: number;
  /** What threw, by the seed that makes it again. */
  readonly crashes: readonly string[];
}

/** Tries a parser with so many inputs. Each has a seed of its own, so that one can be made again alone. */
export const tried = async ({ name, input }: Parser, seed: number, count: number): Promise<Tried> => {
  let [taken, slowest] = [0, 0];
  const crashes: string[] = [];
  for (let place = 0; place < count; place += 1) {
    const own = seed * 1_000_003 + place;
    const read = input(chanceOf(own));
    const start = performance.now();
    try {
      if (await read()) taken += 1;
    } catch (error) {
      crashes.push(`${name}, seed ${own}: ${error instanceof Error ? error.stack?.slice(0, 400) : String(error)}`);
    }
    slowest = Math.max(slowest, performance.now() - start);
  }
  return { name, count, taken, refused: count - taken - crashes.length, slowest, crashes };
};

/** Runs of one piece, of a length, as slow expressions want them: with something before, and something behind on which they fail. */
export const runsOf = (length: number): readonly string[] =>
  PUMPS.flatMap((pump) =>
    (["", "a", "Q3: ", '"', '{"a":"'] as const).flatMap((before) =>
      ["", "@", "x", "\u0000"].map((behind) => `${before}${pump.repeat(Math.max(1, Math.floor(length / pump.length)))}${behind}`),
    ),
  );
