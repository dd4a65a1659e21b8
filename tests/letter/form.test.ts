import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { PDFDocument, PDFDropdown, PDFName, PDFTextField } from "pdf-lib";
import { afterAll, describe, expect, test } from "vitest";
import { digestOf } from "../../lib/kernel/digest.ts";
import { formBlocks } from "../../lib/letter/form.ts";
import { fieldNames, formDigest } from "../../lib/letter/formFields.ts";
import { htmlOf } from "../../lib/letter/html/document.tsx";
import { letterOf } from "../../lib/letter/letter.ts";
import { askedNow } from "../../lib/letter/questions.ts";
import { askedInLetter } from "../../lib/plan/asked.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { VISITS } from "../golden/golden.ts";
import { fileOf, formLetter, formRenderer } from "./forms.ts";
import { planned, referencesIn, visitText } from "./letters.ts";

const renderer = await formRenderer();
afterAll(() => renderer.close());

const told = (tool: string, ...args: readonly string[]): string =>
  execFileSync(tool, args, { encoding: "utf8", maxBuffer: 64 * 1024 * 1024 });

const flat = (text: string): string => text.replace(/[\s\u00a0]+/g, " ");

/** So many pages of the form that ask something at most; kept from growing here. */
const FORMS: readonly (readonly [name: string, paper: "A4" | "Letter", most: number])[] = [
  ["almost-nothing-known", "A4", 16],
  ["mixed-channels", "A4", 9],
  ["modern-electronic", "Letter", 6],
  ["old-mechanical", "A4", 4],
  ["old-mechanical", "Letter", 5],
];

/** So many pages more for what was taken as known. */
const MOST_KNOWN = 2;

describe("the form in the PDF", () => {
  test.each(FORMS)("%s on %s paper: every field once, named, within the margins, and in print what is asked", async (name, paper, most) => {
    const { letter, asked: everything, plan } = await formLetter(name);
    const asked = askedInLetter(everything);
    const path = await fileOf(renderer, { ...letter, paper });
    expect(told("pdfinfo", path)).toMatch(/Form: +AcroForm/);
    told("qpdf", "--check", path);
    const document = await PDFDocument.load(readFileSync(path));
    const fields = document.getForm().getFields();
    expect(fields.map((field) => field.getName()).sort()).toEqual([...fieldNames(asked)].sort());
    const widths = paper === "A4" ? [595, 842] : [612, 792];
    for (const field of fields) {
      // A name of its own has no point in it; each says what it is to those who do not see the page.
      expect(field.acroField.getPartialName()).not.toContain(".");
      const [widget] = field.acroField.getWidgets();
      const hidden = field.getName().startsWith("form.");
      expect(widget?.dict.get(PDFName.of("F"))?.toString(), field.getName()).toBe(hidden ? "2" : "4");
      expect(field.isReadOnly(), field.getName()).toBe(hidden);
      if (hidden) continue;
      expect(field.acroField.dict.has(PDFName.of("TU")), field.getName()).toBe(true);
      const { x = 0, y = 0, width = 0, height = 0 } = widget?.getRectangle() ?? {};
      expect(
        [x > 44, y > 36, x + width < (widths[0] ?? 0) - 44, y + height < (widths[1] ?? 0) - 36, width > 50, height > 13.5],
        field.getName(),
      ).toEqual(Array(6).fill(true));
    }
    for (const { ref, choices } of asked.questions) {
      const size = Number(/ ([\d.]+) Tf/.exec(document.getForm().getField(`q.${ref}.answer`).acroField.getDefaultAppearance() ?? "")?.[1]);
      const longest = Math.max(...choices.map(({ label }) => label.length), 13);
      // Twenty-eight signs fit the column at nine points; longer choices are set smaller, never too small to read.
      expect([size >= 5.5, size <= 9, longest > 32 ? size < 9 : true], ref).toEqual([true, true, true]);
      const field = document.getForm().getField(`q.${ref}.answer`);
      if (choices.length === 0) expect(field).toBeInstanceOf(PDFTextField);
      else
        expect(field instanceof PDFDropdown && field.getOptions().map((option) => option.toLowerCase())).toEqual([
          " ",
          ...choices.map(({ label }) => label.toLowerCase()),
          "we don't know",
        ]);
    }
    // Printed too: each question, request and test with its text, each choice, each unit.
    const pagesOf = (file: string): number => Number(/Pages:\s+(\d+)/.exec(told("pdfinfo", file))?.[1]);
    const upTo = async (end: number): Promise<number> =>
      pagesOf(await fileOf(renderer, { ...letter, paper, blocks: letter.blocks.slice(0, end) }));
    const before = await upTo(letter.blocks.findIndex(({ kind }) => kind === "newPage"));
    const known = letter.blocks.findLastIndex((block) => block.kind === "heading" && block.text === "What we have assumed");
    const asking = await upTo(letter.blocks[known - 1]?.kind === "newPage" ? known - 1 : known);
    expect(asking - before).toBeLessThanOrEqual(most);
    expect(pagesOf(path) - asking).toBeLessThanOrEqual(MOST_KNOWN);
    const printed = flat(told("pdftotext", "-f", `${before + 1}`, path, "-"));
    for (const { ref } of asked.known) expect(referencesIn(printed).has(ref), ref).toBe(true);
    for (const { ref } of [...asked.questions, ...asked.requests, ...asked.tests]) expect(printed, ref).toMatch(new RegExp(`\\b${ref}\\b`));
    const signs = flat(told("pdftotext", "-raw", "-f", `${before + 1}`, path, "-"))
      .replace(/[^\p{L}\p{N}]/gu, "")
      .toLowerCase();
    const [, ...short] = asked.questions
      .flatMap(({ choices }) => choices.map(({ label }) => label))
      .sort((a, b) => b.length - a.length)
      .slice(-12);
    for (const label of short) expect(signs).toContain(label.replace(/[^\p{L}\p{N}]/gu, "").toLowerCase());
    expect(printed).toContain(`Form of letter ${name}/1, digest ${formDigest(asked)}.`);
    expect(printed).not.toMatch(/undefined|NaN|\[object/);
    expect(plan.questions.length).toBeGreaterThan(0);
  });
});

test("the same letter with a form is the same file", async () => {
  const { letter } = await formLetter("old-mechanical");
  const [one, two] = [await renderer.render(letter), await renderer.render(letter)];
  if (!one.ok || !two.ok) throw new Error("not rendered");
  expect(Buffer.compare(Buffer.from(one.value), Buffer.from(two.value))).toBe(0);
});

test.each(VISITS)("%s: the form asks what the letter asks, each once, with choices that can be told apart", async (name) => {
  const { plan, letter, asked } = await formLetter(name);
  const rows = letter.blocks.flatMap((block) => (block.kind === "form" ? block.rows : []));
  // What was taken as known on several sets stands in one row.
  const refs = rows.flatMap(({ ref }) => [...referencesIn(ref)]);
  const wanted = [
    ...askedNow(plan),
    ...plan.requests,
    ...plan.sets.flatMap(({ protections }) => protections.filter(({ applies }) => applies !== "no")),
    ...asked.known,
  ].map(({ ref }) => ref);
  expect(new Set(refs)).toEqual(new Set(wanted));
  expect(refs).toHaveLength(wanted.length);
  for (const row of rows)
    for (const field of row.lines.flat())
      if (field?.kind === "choice")
        expect(new Set(field.choices.map((one) => one.toLowerCase())).size, field.name).toBe(field.choices.length);
  for (const { ref, set, text } of asked.questions) {
    const row = rows.find((one) => one.ref === ref);
    if (row !== undefined && set !== "") expect(`${set}: ${row.text}`).toBe(text);
  }
});

test("choices stand in print at each question, or where they stand is said", async () => {
  const { letter } = await formLetter("almost-nothing-known");
  const rows = letter.blocks.flatMap((block) => (block.kind === "form" ? block.rows : []));
  for (const { ref, note, lines } of rows.filter((row) => row.ref.startsWith("Q"))) {
    const [answer] = lines.flat();
    if (answer?.kind !== "choice") continue;
    const at = /^Choices as at (Q\d+)\.$/.exec(note ?? "")?.[1];
    const told = at === undefined ? note : rows.find((row) => row.ref === at)?.note;
    expect(told, ref).toBe(answer.choices.join(" / "));
    // Never a chain of references.
    if (at !== undefined) expect(rows.findIndex((row) => row.ref === at)).toBeLessThan(rows.findIndex((row) => row.ref === ref));
  }
});

test("a letter that asks for no form has none and says nothing of it", async () => {
  const { plan, read, letter } = await planned(visitText("old-mechanical"));
  expect(letter.blocks.some(({ kind }) => kind === "form" || kind === "formMark" || kind === "newPage")).toBe(false);
  expect(JSON.stringify(letter)).not.toMatch(/form on the last pages/);
  const other = letterOf({ plan, read, rulebook, units: "metric", form: { mark: "M" } });
  expect(JSON.stringify(other)).toMatch(/form on the last pages/);
  const own = letter.blocks.filter(({ kind }) => kind !== "bullets");
  expect(other.blocks.filter(({ kind }) => kind !== "bullets").slice(0, own.length)).toEqual(own);
});

test("the digest is another as soon as one word, choice or reference of what is asked is", async () => {
  const { asked } = await formLetter("modern-electronic");
  const [first, ...rest] = asked.questions;
  if (first === undefined) throw new Error("nothing is asked");
  const digests = [
    asked,
    { ...asked, questions: rest },
    { ...asked, questions: [{ ...first, text: `${first.text} ` }, ...rest] },
    { ...asked, questions: [{ ...first, ref: "Q99" }, ...rest] },
    { ...asked, questions: [{ ...first, choices: first.choices.slice(1) }, ...rest] },
    { ...asked, requests: asked.requests.slice(1) },
    { ...asked, tests: asked.tests.slice(1) },
    { ...asked, known: asked.known.slice(1) },
    { ...asked, known: asked.known.map((fact) => ({ ...fact, told: `${fact.told} ` })) },
  ].map(formDigest);
  expect(new Set(digests).size).toBe(digests.length);
  // Forms that went out before assumptions bore references are still known again.
  const { known: _, ...before } = asked;
  expect(formDigest({ ...before, known: [] })).toBe(digestOf(before));
});

test("where nothing is asked the form holds who answers and remarks only", () => {
  const blocks = formBlocks({ questions: [], requests: [], tests: [], known: [] }, "M");
  expect(blocks.filter(({ kind }) => kind === "heading")).toEqual([
    { kind: "heading", text: "Reply form" },
    { kind: "heading", text: "Who answers" },
  ]);
});

test("the page has the same questions with places to write at, and no field", async () => {
  const { letter, asked } = await formLetter("mixed-channels");
  const page = htmlOf(letter);
  expect(page).not.toMatch(/<(input|select|textarea|form)\b/);
  for (const { ref } of [...askedInLetter(asked).questions, ...asked.requests, ...asked.tests]) expect(page, ref).toContain(`<dt>${ref} `);
  const named = new Set([...page.matchAll(/<dt>([^<]*)/g)].flatMap(([, term = ""]) => [...referencesIn(term)]));
  expect(asked.known.filter(({ ref }) => !named.has(ref))).toEqual([]);
  expect(page.match(/Who answers/g)).toHaveLength(1);
  expect(page).toContain("Answer: ……………… mm");
  expect(page).toContain("Stops the set / Alarm only / Drops the governor or the bus / We don&#x27;t know");
});
