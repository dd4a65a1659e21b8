import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { VisitHistory } from "../../lib/store/histories.ts";
import type { Json } from "../../lib/store/store.ts";
import { MOST_MONTHS, periodOf } from "../../lib/usecases/overTime/asked.ts";
import { byMonth, causesOf, figuresOf, monthsFrom, OTHERWISE, together } from "../../lib/usecases/overTime/figures.ts";
import { MEASURES, monthRows } from "../../lib/usecases/overTime/measures.ts";

const planned: Json = { on: "2026-03-24", outcome: "as planned", planned: ["m"], within: "within limits" };
const otherwise: Json = {
  on: "2026-03-24",
  outcome: "by another method",
  planned: ["m"],
  by: { words: "as the yard did it" },
  within: "within limits",
};
const notDone = (why: string): Json => ({ on: "2026-03-24", outcome: "not done", planned: ["m"], why });

const letter = (kind: VisitHistory["letters"][number]["kind"], day: string, requests: readonly string[] = []) => ({
  kind,
  when: `${day}T08:00:00.000Z`,
  requests,
});
const visit = (id: string, begins: string, more: Partial<VisitHistory> = {}): VisitHistory => ({
  id,
  owner: "anna",
  vessel: id,
  begins,
  letters: [],
  confirmed: [],
  results: [],
  ...more,
});

/** Three visits in March, one in May: counted by hand below. */
const HISTORY: readonly VisitHistory[] = [
  // Two exchanges, 12 days; R1 to R3 asked, R1 and R3 confirmed (R9 was never asked); three tests of four as planned.
  visit("Orrin Gale", "2026-03-03", {
    letters: [letter("letter", "2026-02-01", ["R1", "R2"]), letter("letter", "2026-02-08", ["R2", "R3"]), letter("settled", "2026-02-13")],
    confirmed: ["R1", "R3", "R9"],
    results: [planned, planned, planned, notDone("No load on the busbar.")],
  }),
  // One exchange, 3 days, nothing asked; one test otherwise, one not done for the same cause written otherwise.
  visit("Sundalis Reach", "2026-03-24", {
    letters: [letter("letter", "2026-03-01"), letter("settled", "2026-03-04")],
    results: [otherwise, notDone("  no  load on the busbar")],
  }),
  // Ended without being settled: it counts for the requests alone.
  visit("Tarn Vessel", "2026-03-31", {
    letters: [letter("letter", "2026-03-01", ["R1"]), letter("not settled", "2026-03-20")],
  }),
  visit("Umber Quay", "2026-05-02", {
    letters: [letter("letter", "2026-04-01", ["R1"]), letter("settled", "2026-04-21")],
    confirmed: ["R1"],
    results: [planned],
  }),
  visit("Veil Point", "2026-05-30"),
];

describe("figures over time", () => {
  const visits = HISTORY.map(figuresOf);
  const months = byMonth(visits, monthsFrom("2026-03", "2026-05"));

  test("of a history made by hand are as counted by hand", () => {
    expect(months).toEqual([
      {
        month: "2026-03",
        figures: {
          visits: 3,
          exchanges: { value: 1.5, of: 2 },
          days: { value: 7.5, of: 2 },
          requests: { value: 0.5, met: 2, of: 4 },
          tests: { value: 0.5, met: 3, of: 6 },
        },
      },
      {
        month: "2026-04",
        figures: { visits: 0, exchanges: { of: 0 }, days: { of: 0 }, requests: { met: 0, of: 0 }, tests: { met: 0, of: 0 } },
      },
      {
        month: "2026-05",
        figures: {
          visits: 2,
          exchanges: { value: 1, of: 1 },
          days: { value: 20, of: 1 },
          requests: { value: 1, met: 1, of: 1 },
          tests: { value: 1, met: 1, of: 1 },
        },
      },
    ]);
    // The median, not the mean: 3, 12 and 20 days.
    expect(together(visits).days).toEqual({ value: 12, of: 3 });
    expect(causesOf(visits)).toEqual([
      { key: "no load on the busbar", words: "No load on the busbar.", count: 2 },
      { key: OTHERWISE, words: OTHERWISE, count: 1 },
    ]);
  });

  test("as a sheet say the same, empty where there is nothing to say", () => {
    expect(monthRows(months).slice(1)).toEqual([
      ["2026-03", 3, 2, 1.5, 7.5, 4, 2, 0.5, 6, 3, 0.5],
      ["2026-04", 0, 0, "", "", 0, 0, "", 0, 0, ""],
      ["2026-05", 2, 1, 1, 20, 1, 1, 1, 1, 1, 1],
    ]);
    expect(new Set(monthRows(months).map((row) => row.length))).toEqual(new Set([11]));
  });

  test("a record that cannot be read is counted as none", () => {
    expect(figuresOf(visit("v", "2026-03-01", { results: [{ outcome: "never" }, "x", planned] }))).toMatchObject({
      tests: 1,
      asPlanned: 1,
    });
  });

  const refs = fc.uniqueArray(fc.integer({ min: 1, max: 9 }).map((n) => `R${n}`));
  const day = fc.integer({ min: 1, max: 28 }).map((n) => String(n).padStart(2, "0"));
  const history = fc
    .record({
      month: fc.integer({ min: 1, max: 6 }),
      day,
      letters: fc.array(fc.tuple(day, refs), { maxLength: 4 }),
      end: fc.constantFrom("letter", "settled", "not settled"),
      confirmed: refs,
      results: fc.array(fc.constantFrom(planned, otherwise, notDone("no load"), notDone("No technician")), { maxLength: 6 }),
    })
    .map(({ month, day: begins, letters, end, confirmed, results }) =>
      visit("v", `2026-0${month}-${begins}`, {
        letters: letters.map(([on, asked], place) => letter(place === letters.length - 1 ? end : "letter", `2026-01-${on}`, asked)),
        confirmed,
        results,
      }),
    );

  test("shares lie between none and all, months add up to the whole, and each number stands on just the visits that are listed for it", () => {
    fc.assert(
      fc.property(fc.array(history, { maxLength: 20 }), (histories) => {
        const all = histories.map(figuresOf);
        const parts = byMonth(all, monthsFrom("2026-01", "2026-06"));
        const whole = together(all);
        const total = (of: (figures: typeof whole) => number) => parts.reduce((sum, { figures }) => sum + of(figures), 0);
        expect(total(({ visits: count }) => count)).toBe(all.length);
        for (const measure of MEASURES) {
          expect(total((figures) => measure.of(figures).of)).toBe(measure.of(whole).of);
          // Where a number stands on something there are visits to show, and else none.
          expect(all.some(measure.counts)).toBe(measure.of(whole).of > 0);
          for (const { figures } of parts) {
            const { value, of } = measure.of(figures);
            expect(value === undefined).toBe(of === 0);
            expect(value ?? 0).toBeGreaterThanOrEqual(0);
            if (measure.most !== undefined) expect(value ?? 0).toBeLessThanOrEqual(1);
          }
        }
        expect(total(({ requests: { met } }) => met)).toBe(whole.requests.met);
        expect(total(({ tests: { met } }) => met)).toBe(whole.tests.met);
        // Every test that was not done as planned has a cause.
        expect(causesOf(all).reduce((sum, { count }) => sum + count, 0)).toBe(whole.tests.of - whole.tests.met);
      }),
    );
  });
});

describe("the period that is asked for", () => {
  const TODAY = "2027-02-17";
  test("is twelve months, two of them ahead, where nothing is told", () => {
    expect(periodOf({}, TODAY)).toMatchObject({ period: { from: "2026-05", to: "2027-04", inspector: "" }, faults: [] });
    expect(monthsFrom("2026-11", "2027-02")).toEqual(["2026-11", "2026-12", "2027-01", "2027-02"]);
  });
  test.each([
    [{ from: "2026-13" }, "First month: given “2026-13”; wanted a month such as 2026-11"],
    [{ to: "spring" }, "Last month: given “spring”; wanted a month such as 2026-11"],
    [{ from: "2026-05", to: "2026-04" }, "Last month: given 2026-04; wanted 2026-05 or a later one"],
    [{ from: "2020-01", to: "2026-04" }, "First month: given 2020-01, more than 36 months before 2026-04; wanted 2023-05 or a later one"],
  ])("%j is told, and the usual period is shown with what was typed kept", (query, says) => {
    const { period, typed, faults } = periodOf(query, TODAY);
    expect(faults.map((fault) => fault.says)).toEqual([says]);
    expect(period).toMatchObject({ from: "2026-05", to: "2027-04" });
    expect(typed).toMatchObject(query);
  });
  test("may be as long as is said, and no longer", () => {
    expect(periodOf({ from: "2024-03", to: "2027-02" }, TODAY).faults).toEqual([]);
    expect(monthsFrom("2024-03", "2027-02")).toHaveLength(MOST_MONTHS);
    expect(periodOf({ from: "2024-02", to: "2027-02" }, TODAY).faults).toHaveLength(1);
  });
});
