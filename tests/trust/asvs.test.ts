import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { ROOT } from "../cli/cli.ts";
import { asvsTable, ITEMS } from "./asvs.ts";

/** The names of the tests of a file: the first text that a `test` or `test.each` is called with. */
const namesIn = (source: string): ReadonlySet<string> =>
  new Set(
    [...source.matchAll(/(?:\btest|\))\(\s*(?:"((?:[^"\\]|\\.)*)"|'((?:[^'\\]|\\.)*)'|`([^`]*)`)/g)].map(([, double, single, back]) =>
      (double ?? single ?? back ?? "").replaceAll(/\\(.)/g, "$1"),
    ),
  );

test("each requirement stands once, says how it is met, and what shows it or why it is accepted", () => {
  const ids = ITEMS.map(({ id }) => id);
  expect(ids.filter((id, place) => ids.indexOf(id) !== place)).toEqual([]);
  for (const { id, how, tests = [], accepted } of ITEMS) {
    expect(id).toMatch(/^(?:[1-9]|1[1-6])\.\d{1,2}\.\d{1,2}$/);
    expect(tests.length > 0 || accepted !== undefined, `${id} is shown by nothing`).toBe(true);
    if (how.startsWith("not met")) expect(accepted, `${id} is not met, and nobody says why that is borne`).toBeDefined();
  }
});

test("they stand in order", () => {
  const numbers = ITEMS.map(({ id }) => id.split(".").reduce((sum, part) => sum * 100 + Number(part), 0));
  expect(numbers).toEqual([...numbers].sort((one, other) => one - other));
});

test.each(ITEMS.flatMap(({ id, tests = [] }) => tests.map(([file, name]) => [id, file, name] as const)))(
  "%s: %s has “%s”",
  (_, file, name) => {
    expect(existsSync(join(ROOT, file)), `there is no ${file}`).toBe(true);
    expect([...namesIn(readFileSync(join(ROOT, file), "utf8"))]).toContain(name);
  },
);

test("DEVELOPERS.md has the table as it is here; `npx tsx tests/trust/asvs.ts` prints it", () => {
  const text = readFileSync(join(ROOT, "DEVELOPERS.md"), "utf8");
  expect(text.includes(asvsTable()), "the table under “Defence (OWASP ASVS 5.0, level 2)” is another").toBe(true);
});
