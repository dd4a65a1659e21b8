import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, describe, expect, test } from "vitest";
import { bundle } from "../../lib/cli/bundle.mjs";
import { success } from "../../lib/kernel/result.ts";
import type { Letter } from "../../lib/letter/blocks.ts";
import { letterOf } from "../../lib/letter/letter.ts";
import { openRenderer } from "../../lib/letter/render.ts";
import { refRange } from "../../lib/letter/words.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { planFile } from "../../lib/usecases/planFile.ts";
import { scratch, visit } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";

const planner = newPlanner(rulebook);
const worker = pathToFileURL(join(await bundle(), "worker.mjs"));
const renderer = openRenderer({ timeout: 30_000, memory: 512 }, worker);
afterAll(() => renderer.close());

type Json = Record<string, unknown>;

const planned = async (text: string) => {
  const result = await planFile(planner, { read: async () => success(text) }, "visit");
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  const { plan, read } = result.value;
  return { plan, letter: letterOf({ plan, read, rulebook, units: "metric" }) };
};

const textOf = (name: string): string => readFileSync(visit(name), "utf8");

/** References as a reader finds them: single ones and those inside a run, "Q2 to Q5". */
const referencesIn = (text: string): ReadonlySet<string> => {
  const found = new Set<string>();
  for (const [, letter = "", from = "", to = ""] of text.matchAll(/\b([TQR])(\d+)(?:\s+to\s+\1(\d+))?/g)) {
    for (let n = Number(from); n <= Number(to === "" ? from : to); n += 1) found.add(`${letter}${n}`);
  }
  return found;
};

const rendered = async (letter: Letter): Promise<string> => {
  const pdf = await renderer.render(letter);
  if (!pdf.ok) throw new Error(pdf.faults.join());
  const path = join(scratch(), "letter.pdf");
  writeFileSync(path, pdf.value);
  return path;
};

const read = (path: string): string => execFileSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8" });

describe.each(VISITS)("%s", (name) => {
  test("the letter holds every reference and the cautions of every planned method, in the order of its reader", async () => {
    const { plan, letter } = await planned(textOf(name));
    const text = JSON.stringify(letter.blocks);
    const found = referencesIn(text);
    const wanted = [...plan.questions, ...plan.requests, ...plan.sets.flatMap(({ protections }) => protections)].map(({ ref }) => ref);
    expect(wanted.filter((ref) => !found.has(ref))).toEqual([]);
    for (const { cautions } of plan.sets.flatMap(({ protections }) => protections)) {
      for (const id of cautions)
        expect(text).toContain(JSON.stringify(rulebook.cautions.find((caution) => caution.id === id)?.text).slice(1, 60));
    }
    expect(text).not.toMatch(/undefined|NaN|\[object/);
    const headings = letter.blocks.flatMap((block) => (block.kind === "heading" ? [block.text] : []));
    expect(headings.slice(0, 6)).toEqual([
      "What we ask of you",
      "What we have assumed",
      "How each protection will be proven",
      "Questions",
      "Requests",
      "Cautions",
    ]);
    const asks = letter.blocks.find((block) => block.kind === "asks");
    expect(asks?.lines.length).toBeLessThanOrEqual(7);
  });

  test("the PDF is sound, embeds its fonts, and says what the letter says", async () => {
    const { plan, letter } = await planned(textOf(name));
    const path = await rendered(letter);
    execFileSync("qpdf", ["--check", path]);
    const fonts = execFileSync("pdffonts", [path], { encoding: "utf8" }).trimEnd().split("\n").slice(2);
    expect(fonts.length).toBeGreaterThan(0);
    for (const font of fonts) expect(font).toMatch(/\byes yes (yes|no)\b/);
    const text = read(path);
    expect(text).toContain(plan.visit.vessel);
    expect(text).toMatch(/Page 1 of \d/);
    expect(text).toContain("the ship's people and qualified technicians perform, the inspector witnesses");
    expect(text).not.toMatch(/undefined|NaN|\[object/);
    const found = referencesIn(text.replace(/\s+/g, " "));
    const wanted = [...plan.questions, ...plan.requests, ...plan.sets.flatMap(({ protections }) => protections)].map(({ ref }) => ref);
    expect(wanted.filter((ref) => !found.has(ref))).toEqual([]);
  });

  test("the same letter is the same file", async () => {
    const { letter } = await planned(textOf(name));
    const [one, two] = [await renderer.render(letter), await renderer.render(letter)];
    if (!one.ok || !two.ok) throw new Error("not rendered");
    expect(Buffer.compare(Buffer.from(one.value), Buffer.from(two.value))).toBe(0);
  });
});

test("names with accents, Greek, Cyrillic, and words without an end print and run off no page", async () => {
  const document = JSON.parse(textOf("old-mechanical")) as Json;
  const about = document["visit"] as { vessel: Json; people: Json[] };
  const endless = "Unbroken".repeat(14);
  about.vessel["name"] = "Łódź Ñandú Ἑλλάς Заря";
  about.vessel["owner"] = endless;
  about.people = [{ name: "R. Dañobeitia", role: "superintendent", side: "vessel" }];
  const { letter } = await planned(JSON.stringify(document));
  const text = read(await rendered(letter));
  expect(text).toContain("Łódź Ñandú");
  expect(text).toContain("Ἑλλάς Заря");
  expect(text).toContain("Dañobeitia");
  // Cut where the column ends, but whole: every piece of it is on the paper.
  expect([text.match(/Unbr/g)?.length, text.match(/oken/g)?.length]).toEqual([14, 14]);
});

test("a letter that takes too long is given up, says so, and the next one is rendered", async () => {
  const { letter } = await planned(textOf("old-mechanical"));
  const hasty = openRenderer({ timeout: 30, memory: 512 }, worker);
  const late = await hasty.render(letter);
  expect(late).toMatchObject({ ok: false, faults: [expect.stringContaining("not laid out within 0.03 s")] });
  await hasty.close();
  expect((await renderer.render(letter)).ok).toBe(true);
});

test("references are joined into runs", () => {
  expect(refRange(["Q4", "Q1", "Q2", "Q3", "Q9", "Q7", "Q8"])).toBe("Q1 to Q4, Q7 to Q9");
  expect(refRange(["T1", "T2"])).toBe("T1, T2");
});
