import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { SAY } from "../../lib/letter/catalogue.ts";
import { ROOT } from "../cli/cli.ts";

const folder = join(ROOT, "lib/letter");
const sources = readdirSync(folder, { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".ts") && !name.endsWith("catalogue.ts"))
  .map((name) => readFileSync(join(folder, name), "utf8"))
  .join("\n");
const entries = Object.entries(SAY).flatMap(([group, own]) =>
  Object.entries(own).map(([id, value]) => ({ at: `SAY.${group}.${id}`, value })),
);

test("every sentence of the catalogue is said somewhere, and none is written a second time", () => {
  expect(entries.length).toBeGreaterThan(80);
  expect(entries.filter(({ at }) => !sources.includes(at)).map(({ at }) => at)).toEqual([]);
  const again = entries.filter(({ value }) => typeof value === "string" && value.length > 12 && sources.includes(`"${value}"`));
  expect(again.map(({ at }) => at)).toEqual([]);
});

test("notes are plain short sentences: none of more than thirty words", () => {
  const long = Object.values(SAY.notes).flatMap((note) =>
    note.split(/(?<=[.?!])\s/).filter((sentence) => sentence.split(/\s+/).length > 30),
  );
  expect(long).toEqual([]);
  for (const { at, value } of entries) if (typeof value === "string") expect(value, at).not.toMatch(/ {2}|^\s|\s$/);
});

test("counts choose their form", () => {
  expect(SAY.with.hours(0)).toBe("not at all");
  expect(SAY.with.hours(5)).toBe("about 2.5 h");
  expect(SAY.with.minutes(30, 1)).toBe("about 30");
  expect(SAY.with.minutes(30, 3)).toBe("about 30 a set");
  expect(SAY.with.outOfUse("4 March 2026", true, 1, "A about 2 h")).toBe(
    "Out of use on 4 March 2026, restarts and warming up not counted: A about 2 h.",
  );
});
