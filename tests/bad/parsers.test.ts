import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { chanceOf } from "./nasty.ts";
import { PARSERS } from "./parsers.ts";
import { runsOf, tried } from "./try.ts";

const SEED = 20260302;

describe.each(PARSERS.map((parser) => [parser.name, parser] as const))("%s", (_, parser) => {
  test("takes or refuses whatever comes, and never throws", async () => {
    const { crashes, taken, refused } = await tried(parser, SEED, 20 * parser.share);
    expect(crashes).toEqual([]);
    expect(taken + refused).toBe(20 * parser.share);
  });

  test("whatever the seed is", async () => {
    await fc.assert(
      fc.asyncProperty(fc.nat(), async (seed) => {
        expect(typeof (await parser.input(chanceOf(seed))())).toBe("boolean");
      }),
      { seed: SEED, numRuns: 12 },
    );
  });
});

describe.each(PARSERS.flatMap(({ name, text, longest = 0 }) => (text === undefined ? [] : [[name, text, longest] as const])))(
  "%s, as text",
  (_, text, longest) => {
    test("any text, down to the shortest that fails", () => {
      fc.assert(
        fc.property(
          fc.oneof(fc.string({ unit: "binary" }), fc.json({ maxDepth: 6 }), fc.string({ unit: "grapheme", maxLength: 400 })),
          (given) => {
            expect(typeof text(given)).toBe("boolean");
          },
        ),
        { seed: SEED, numRuns: 100 },
      );
    });

    test("long runs end", () => {
      for (const run of runsOf(Math.min(longest, 1_200))) expect(typeof text(run)).toBe("boolean");
    });
  },
);
