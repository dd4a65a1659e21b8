import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { goldenOf, goldenPath, VISITS } from "./golden.ts";

test.each(VISITS)(
  "the plan of %s is the one kept; a wanted change is kept with `npm run golden` and read in the difference",
  async (name) => {
    expect(await goldenOf(name)).toBe(readFileSync(goldenPath(name), "utf8"));
  },
);

test("every demo visit has a golden plan", () => {
  const visits = readdirSync(new URL("../../fixtures/visits", import.meta.url)).map((file) => file.replace(/\.json$/, ""));
  expect(visits.sort()).toEqual([...VISITS].sort());
});
