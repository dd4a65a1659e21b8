import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, describe, expect, test } from "vitest";
import { bundle } from "../../lib/cli/bundle.mjs";
import type { Letter } from "../../lib/letter/blocks.ts";
import { openPool, openRenderer, renderLetter } from "../../lib/letter/render.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { scratch } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";
import { namedIn, planned, referencesIn, visitText, withVisit } from "./letters.ts";

const worker = pathToFileURL(join(await bundle(), "worker.mjs"));
const LIMITS = { timeout: 60_000, memory: 512 } as const;
const renderer = openRenderer(LIMITS, worker);
afterAll(() => renderer.close());

const rendered = async (letter: Letter): Promise<string> => {
  const pdf = await renderer.render(letter);
  if (!pdf.ok) throw new Error(pdf.faults.join());
  const path = join(scratch(), "letter.pdf");
  writeFileSync(path, pdf.value);
  return path;
};

const told = (tool: string, ...args: readonly string[]): string =>
  execFileSync(tool, args, { encoding: "utf8", maxBuffer: 64 * 1024 * 1024 });
const read = (path: string): string => told("pdftotext", "-layout", path, "-");
const pagesOf = (path: string): number => Number(/Pages:\s+(\d+)/.exec(told("pdfinfo", path))?.[1]);

/** Where words stand beyond the margins of the paper, in points. */
const outside = (path: string): readonly string[] =>
  [...told("pdftotext", "-bbox", path, "-").matchAll(/xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)/g)]
    .filter(([, left, top, right, bottom]) => Number(left) < 44 || Number(top) < 20 || Number(right) > 551 || Number(bottom) > 830)
    .map(([, , , , , word = ""]) => word);

/** Four pages for two sets and nine for eight are wanted; where much is still asked, a letter is longer, and kept from growing here. */
const MOST_PAGES: Readonly<Record<string, number>> = {
  "almost-nothing-known": 14,
  "dual-fuel": 5,
  "mixed-channels": 8,
  "modern-electronic": 4,
  "offshore-vessel": 7,
  "old-mechanical": 4,
  "passenger-ship": 6,
  "shaft-generator": 5,
  "steam-turbines": 6,
  "too-near": 5,
};

describe.each(VISITS)("%s", (name) => {
  test("the PDF is sound, embeds its fonts, keeps its margins, and says what the letter says", async () => {
    const { plan, letter } = await planned(visitText(name));
    const path = await rendered(letter);
    told("qpdf", "--check", path);
    const fonts = told("pdffonts", path).trimEnd().split("\n").slice(2);
    expect(fonts.length).toBeGreaterThan(0);
    for (const font of fonts) expect(font).toMatch(/SourceSans3.*\byes yes yes\b/);
    const text = read(path);
    expect(text).toContain(plan.visit.vessel);
    expect(text).toMatch(/Page 1 of \d/);
    expect(text).toContain("the ship's people and qualified technicians perform, the inspector witnesses");
    expect(text).not.toMatch(/undefined|NaN|\[object/);
    const found = referencesIn(text.replace(/\s+/g, " "));
    expect(namedIn(plan).filter((ref) => !found.has(ref))).toEqual([]);
    expect(outside(path)).toEqual([]);
    // Every link of the file leads to a place in it.
    const plain = told("qpdf", "--qdf", "--object-streams=disable", path, "-");
    const leads = [...plain.matchAll(/\/D \((\w+)\)\s+\/S \/GoTo/g)].map(([, place = ""]) => place);
    const places = /\/Dests <<.*?\/Names \[(.*?)\n {4}\]/s.exec(plain)?.[1] ?? "";
    expect(leads.length).toBeGreaterThan(10);
    expect(leads.filter((place) => !places.includes(`(${place})`))).toEqual([]);
    // The cautions of every chosen method, word for word, though lines and pages break in them.
    const flowing = told("pdftotext", path, "-")
      .replaceAll("\f", "")
      .replace(/^(Forehail plans;.*|Page \d+ of \d+|.*, letter \d+|Tallowmere Survey Office)$/gm, "")
      .replace(/[\s\u00a0]+/g, " ");
    const used = new Set(plan.sets.flatMap(({ protections }) => protections.flatMap(({ cautions }) => cautions)));
    expect(used.size).toBeGreaterThan(2);
    for (const { id, text: caution } of rulebook.cautions) if (used.has(id)) expect(flowing.includes(caution), caution).toBe(true);
    // More than header and footer stands on every page.
    for (let page = 1; page <= pagesOf(path); page += 1)
      expect(told("pdftotext", "-f", `${page}`, "-l", `${page}`, path, "-").split(/\s+/).length, `page ${page}`).toBeGreaterThan(50);
    expect(pagesOf(path)).toBeLessThanOrEqual(MOST_PAGES[name] ?? 0);
  });
});

test.each(["old-mechanical", "almost-nothing-known", "passenger-ship"])(
  "%s: the same letter is the same file, with title, language and archive profile",
  async (name) => {
    const { letter } = await planned(visitText(name));
    const [one, two] = [await renderer.render(letter), await renderer.render(letter)];
    if (!one.ok || !two.ok) throw new Error("not rendered");
    expect(Buffer.compare(Buffer.from(one.value), Buffer.from(two.value))).toBe(0);
    const raw = Buffer.from(one.value).toString("latin1");
    expect(raw).toContain("/Lang");
    expect(raw).toContain("pdfaid:part");
  },
);

test("headings stand on their own lines, above what they head", async () => {
  for (const name of VISITS) {
    const text = read(await rendered((await planned(visitText(name))).letter));
    for (const heading of ["What we ask of you", "Questions", "Requests", "Cautions", "How to answer"])
      expect(text).toMatch(new RegExp(`^\\f?\\s*${heading}$`, "m"));
  }
});

test("names with accents, Greek, Cyrillic, and words without an end print and run off no page", async () => {
  const endless = "Unbroken".repeat(14);
  const text = await withVisit("old-mechanical", ({ visit, sets }) => {
    visit.vessel["name"] = "Łódź Ñandú Ἑλλάς Заря";
    visit.vessel["owner"] = endless;
    visit.people = [{ name: "R. Dañobeitia", role: "superintendent", side: "vessel" }];
    if (sets[1] !== undefined) sets[1]["name"] = "Endless".repeat(8);
  });
  const path = await rendered((await planned(text)).letter);
  const printed = read(path);
  expect(printed).toContain("Łódź Ñandú");
  expect(printed).toContain("Ἑλλάς Заря");
  expect(printed).toContain("Dañobeitia");
  // Cut where the line ends, but whole: every piece of it is on the paper.
  expect(printed.match(/Unbroken/g)?.length).toBe(14);
  expect(outside(path)).toEqual([]);
});

test("every letter of the Latin, Greek and Cyrillic alphabets prints as itself", async () => {
  const run = (from: number, to: number): string =>
    String.fromCodePoint(...Array.from({ length: to - from + 1 }, (_, place) => from + place));
  const letters = (text: string): string => [...text].filter((sign) => /\p{L}/u.test(sign)).join("");
  const alphabets = [
    run(0xc0, 0xff),
    run(0x100, 0x13f),
    run(0x141, 0x148),
    run(0x14a, 0x17e),
    run(0x391, 0x3a1),
    run(0x3a3, 0x3c9),
    run(0x410, 0x44f),
    run(0x401, 0x40f),
  ].map(letters);
  const { letter } = await planned(visitText("old-mechanical"));
  const path = await rendered({
    ...letter,
    to: alphabets.flatMap((text) => text.match(/.{1,16}/gu) ?? []),
    blocks: letter.blocks.slice(0, 2),
  });
  const printed = read(path);
  // The Greek mu and the micro sign are one glyph; either may be read back.
  const missing = alphabets
    .flatMap((text) => [...text])
    .filter((sign) => !printed.includes(sign) && !printed.normalize("NFKC").includes(sign.normalize("NFKC")));
  expect(missing).toEqual([]);
});

test("a letter for twenty sets with long names is laid out within its margins", async () => {
  const text = await withVisit("almost-nothing-known", (file) => {
    file.sets = Array.from({ length: 20 }, (_, place) => ({ name: `Generating set of the forward engine room, number ${place + 1}` }));
  });
  const { plan, letter } = await planned(text);
  const path = await rendered(letter);
  const found = referencesIn(read(path).replace(/\s+/g, " "));
  expect(namedIn(plan).filter((ref) => !found.has(ref))).toEqual([]);
  expect(outside(path)).toEqual([]);
});

test("a letter that takes too long is given up, says so, and the next one gets a new worker", async () => {
  const { letter } = await planned(visitText("old-mechanical"));
  const rows = Array.from({ length: 20_000 }, (_, place) => [`Q${place}`, "What is asked here?"]);
  const columns = [
    { title: "Reference", share: 20 },
    { title: "Question", share: 80 },
  ];
  const long: Letter = { ...letter, blocks: [{ kind: "table", columns, rows }] };
  const short: Letter = { ...letter, blocks: letter.blocks.slice(0, 4) };
  const hasty = openRenderer({ timeout: 6_000, memory: 512 }, worker);
  const [late, next] = await Promise.all([hasty.render(long), hasty.render(short)]);
  await hasty.close();
  expect(late).toEqual({ ok: false, faults: ["the letter was not laid out within 6 s"] });
  expect(next.ok).toBe(true);
});

test("more letters than may wait are turned away; two workers take a letter each", async () => {
  const { letter } = await planned(visitText("old-mechanical"));
  const short: Letter = { ...letter, blocks: letter.blocks.slice(0, 4) };
  const small = openRenderer({ ...LIMITS, waiting: 1 }, worker);
  const results = await Promise.all([small.render(short), small.render(short), small.render(short)]);
  expect(results.map(({ ok }) => ok)).toEqual([true, true, false]);
  expect(results[2]).toEqual({ ok: false, faults: ["2 letters are waiting already; try again in a few minutes"] });
  expect(small.waiting()).toBe(0);
  expect((await small.render(short)).ok).toBe(true);
  await small.close();
  const pool = openPool(2, { ...LIMITS, waiting: 0 }, worker);
  const both = [pool.render(short), pool.render(short)];
  expect(pool.waiting()).toBe(2);
  expect((await Promise.all(both)).map(({ ok }) => ok)).toEqual([true, true]);
  await pool.close();
});

test("a renderer that runs out of memory says so, and takes the next letter", async () => {
  const { letter } = await planned(visitText("old-mechanical"));
  const rows = Array.from({ length: 60_000 }, (_, place) => [`Q${place}`, "What is asked here, with words enough to fill a heap?"]);
  const columns = [
    { title: "Reference", share: 20 },
    { title: "Question", share: 80 },
  ];
  const tight = openRenderer({ timeout: 60_000, memory: 128 }, worker);
  const [late, next] = await Promise.all([
    tight.render({ ...letter, blocks: [{ kind: "table", columns, rows }] }),
    tight.render({ ...letter, blocks: letter.blocks.slice(0, 4) }),
  ]);
  await tight.close();
  expect(late.ok).toBe(false);
  expect(late.ok ? "" : late.faults.join()).toMatch(/could not be rendered|ended before|memory/);
  expect(next.ok).toBe(true);
});

test.each(["A4", "Letter"] as const)("on %s paper nothing runs off the page", async (paper) => {
  const { letter } = await planned(visitText("modern-electronic"));
  const path = await rendered({ ...letter, paper });
  const [, width = "", height = ""] = /Page size:\s+([\d.]+) x ([\d.]+)/.exec(told("pdfinfo", path)) ?? [];
  expect([Math.round(Number(width)), Math.round(Number(height))]).toEqual(paper === "A4" ? [595, 842] : [612, 792]);
  const right = Number(width) - 44;
  const bottom = Number(height) - 12;
  const words = [...told("pdftotext", "-bbox", path, "-").matchAll(/xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)/g)];
  expect(words.length).toBeGreaterThan(500);
  expect(words.filter(([, x, y]) => Number(x) > right || Number(y) > bottom).map(([, , , word]) => word)).toEqual([]);
  // Every section is in the outline.
  const outline = told("qpdf", "--json", path);
  for (const block of letter.blocks) if (block.kind === "heading") expect(outline).toContain(`"title": "${block.text}"`);
});

test("a letter for eight sets stays within nine pages", async () => {
  const text = await withVisit("modern-electronic", ({ sets }) => {
    const [first, second] = [sets[0] ?? {}, sets[2] ?? {}];
    sets.splice(0, sets.length, ...Array.from({ length: 8 }, (_, place) => ({ ...(place < 6 ? first : second), name: `DG ${place + 1}` })));
  });
  const { plan, letter } = await planned(text);
  expect(plan.sets).toHaveLength(8);
  expect(pagesOf(await rendered(letter))).toBeLessThanOrEqual(9);
});

test("one letter alone, from the sources", async () => {
  const { letter } = await planned(visitText("old-mechanical"));
  const one = await renderLetter(letter, { timeoutMs: 60_000 });
  expect(one.ok).toBe(true);
  const hasty = await renderLetter(letter, { timeoutMs: 20 });
  expect(hasty).toEqual({ ok: false, faults: ["the letter was not laid out within 0.02 s"] });
});
