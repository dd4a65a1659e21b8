import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { World } from "../../lib/kernel/ports.ts";
import { inspectorPlanOf } from "../../lib/letter/inspectorPlan.ts";
import { lastTimeWords } from "../../lib/letter/results.ts";
import type { PastResult } from "../../lib/model/result.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { openStore } from "../../lib/store/open.ts";
import type { Store, StoredVisit } from "../../lib/store/store.ts";
import { formerAnswers, startAgain } from "../../lib/usecases/visits/again.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { fileOfVisit, planVisit } from "../../lib/usecases/visits/planVisit.ts";
import { previewsBy } from "../../lib/usecases/visits/preview.ts";
import { NOTHING_TYPED, resultIn, TAKE_BACK, type TypedResult, typedOfResult } from "../../lib/usecases/visits/resultFields.ts";
import { keepResults, keepTypedResults, typedResults } from "../../lib/usecases/visits/results.ts";
import { resultLines, resultsView } from "../../lib/usecases/visits/resultsView.ts";
import { removeSet, restoreSet } from "../../lib/usecases/visits/sets.ts";
import { stepView } from "../../lib/usecases/visits/stepView.ts";
import { visit } from "../cli/cli.ts";
import { planned } from "../letter/letters.ts";

const planner = newPlanner(rulebook);
const preview = previewsBy(planner);
const [anna, boris] = ["anna", "boris"].map((who) => ({ who, when: "2026-04-29T10:00:00.000Z" })) as [
  { who: string; when: string },
  { who: string; when: string },
];
let made = 0;
const world: World = {
  now: () => anna.when,
  newId: () => {
    made += 1;
    return `visit-${made}`;
  },
};

let store: Store;
beforeAll(async () => {
  const opened = await openStore(":memory:");
  if (!opened.ok) throw new Error(opened.faults.join());
  store = opened.value;
});
afterAll(() => store.close());

const kept = async (text = readFileSync(visit("old-mechanical"), "utf8")): Promise<string> => {
  const id = await importVisit({ store, world, planner }, text, "anna");
  if (!id.ok) throw new Error(JSON.stringify(id.faults));
  return id.value;
};
const storedOf = async (id: string): Promise<StoredVisit> => {
  const stored = await store.visit(id);
  if (stored === null) throw new Error("no visit");
  return stored;
};

const OVERSPEED = rulebook.protections.find(({ kind }) => kind === "overspeed")?.methods ?? [];
const METHODS = OVERSPEED.map(({ id }) => id);
const RAISED = OVERSPEED.find(({ id }) => id === "os-raise")?.name;
const AT = "/sets/1/overspeed";
const OTHER = "/sets/2/overspeed";

const typed = (more: Partial<TypedResult>): TypedResult => ({ ...NOTHING_TYPED, on: "2026-04-29", planned: "os-raise", ...more });
const done = typed({ outcome: "as planned", number: "2070", unit: "rpm", within: "within limits" });
const notDone = typed({ outcome: "not done", why: "no technician came" });

describe("the fields of a record", () => {
  test("say what was read as it was read, its last digit and its unit", () => {
    const reading = (number: string, unit: string): unknown => {
      const read = resultIn({ ...done, number, unit }, METHODS, anna.when);
      return read.ok ? (read.value as { reading?: unknown }).reading : read.faults.map(({ field }) => field);
    };
    expect(reading("1,80", "bar")).toEqual({ number: "1.80", unit: "bar" });
    expect(reading(" 2 070 ", "rpm")).toEqual({ number: "2070", unit: "rpm" });
    expect(reading("1,250.5", "kW")).toEqual({ number: "1250.5", unit: "kW" });
    expect(reading("−12", "%")).toEqual({ number: "-12", unit: "%" });
    expect(reading("7.20 mA", "bar")).toEqual({ number: "7.20", unit: "mA" });
    expect(reading("", "bar")).toBeUndefined();
    expect(reading("about two", "bar")).toEqual(["number"]);
    expect(reading("1.2.3", "bar")).toEqual(["number"]);
    expect(reading("1.8", " ")).toEqual(["unit"]);
  });

  test.each<[string, Partial<TypedResult>, readonly string[]]>([
    [
      "nothing chosen",
      { outcome: "", number: "3" },
      ["What became of the test: given nothing; wanted one of: as planned, by another method, not done"],
    ],
    ["no limits told", { within: "" }, ["Limits: given nothing; wanted one of: within limits, outside limits, no limit known"]],
    ["no reason", { ...notDone, why: " " }, ["Why not: given nothing; wanted why it was not done"]],
    ["a reading of what was not done", { ...notDone, number: "3" }, ["Reading: given “3”; wanted none where the test was not done"]],
    [
      "no other method",
      { outcome: "by another method" },
      ["Which other method: given nothing; wanted a method of the list, or the way in own words"],
    ],
    [
      "two other methods",
      { outcome: "by another method", method: "os-lever", way: "by hand" },
      ["The other method in words: given “by hand”; wanted nothing where a method of the list is chosen; what is to be added is a remark"],
    ],
    [
      "a method of another protection",
      { outcome: "by another method", method: "st-each" },
      ["Which other method: given “st-each”; wanted a method of the list"],
    ],
    [
      "as planned where nothing was",
      { planned: "" },
      ["What became of the test: given “as planned”; wanted another: no way was planned for this test"],
    ],
    ["a day to come", { on: "2026-05-01" }, ["Day: given “2026-05-01”; wanted a day that has come"]],
    ["no day", { on: "29 April" }, ["Day: given “29 April”; wanted a date that exists, as YYYY-MM-DD"]],
    ["an endless remark", { words: "x".repeat(301) }, [`Remark: given “${"x".repeat(80)}…”; wanted at most 300 characters`]],
    [
      "several at once",
      { within: "", number: "x" },
      [
        "Reading: given “x”; wanted the number as it was read, such as 1.80 or 1250",
        "Limits: given nothing; wanted one of: within limits, outside limits, no limit known",
      ],
    ],
  ])("%s is told by field", (_, more, says) => {
    const read = resultIn({ ...done, ...more }, METHODS, anna.when);
    expect(read.ok ? [] : read.faults.map((fault) => fault.says)).toEqual(says);
  });

  test("come back as they were kept", () => {
    const way = typed({ outcome: "by another method", way: "by hand at the governor", within: "no limit known", words: "Slow" });
    for (const fields of [done, notDone, way, { ...way, way: "", method: "os-lever" }]) {
      const read = resultIn(fields, METHODS, anna.when);
      if (!read.ok) throw new Error(JSON.stringify(read.faults));
      expect(typedOfResult(read.value)).toEqual(fields);
    }
  });

  test("aboard it may be a day later than at the office", () => {
    expect(resultIn({ ...done, on: "2026-04-30" }, METHODS, anna.when).ok).toBe(true);
  });
});

test("each record of a page is kept or told by itself, and what was only sent along is entered once", async () => {
  const stored = await storedOf(await kept());
  const office = { store, rulebook };
  const first = await keepResults(
    office,
    stored,
    [
      { at: AT, typed: done, seen: 0 },
      { at: OTHER, typed: { ...notDone, why: "" }, seen: 0 },
      { at: "/sets/2/handStop", typed: typed({}), seen: 0 },
    ],
    anna,
  );
  if (!first.ok) throw new Error(first.faults.join());
  expect(first.value.kept).toEqual([AT]);
  expect([...first.value.faults.keys()]).toEqual([OTHER]);
  expect(await store.resultsOf(stored.id)).toHaveLength(1);
  // Boris corrects it; Anna's page still shows the first, and sends it along with another test.
  await keepResults(office, stored, [{ at: AT, typed: { ...done, number: "2075" }, seen: 1 }], boris);
  const late = await keepResults(
    office,
    stored,
    [
      { at: AT, typed: done, seen: 1 },
      { at: OTHER, typed: notDone, seen: 0 },
    ],
    anna,
  );
  expect(late.ok && [late.value.kept, late.value.conflicts]).toEqual([[OTHER], []]);
  // Where she changed it too, both are told and his stands.
  const both = await keepResults(office, stored, [{ at: AT, typed: { ...done, number: "2080" }, seen: 1 }], anna);
  expect(both.ok && both.value.conflicts.map(({ at, theirs }) => [at, theirs.who])).toEqual([[AT, "boris"]]);
  const lines = resultLines(stored, await store.resultsOf(stored.id), { rulebook, plan: null });
  expect(lines.map(({ set, what }) => `${set}: ${what}`)).toEqual(["SSDG 1: Overspeed", "SSDG 2: Overspeed"]);
  expect(lines[0]?.entries.map(({ who, words }) => `${who}: ${words}`)).toEqual([
    `boris: 29 April 2026: Done as planned (${RAISED}); read 2075 rpm, within limits.`,
    expect.stringMatching(/^anna: 29 April 2026: Done as planned .*; read 2070 rpm, within limits\.$/),
  ]);
  // Taken back it is no record, and every entry stays.
  await keepResults(office, stored, [{ at: AT, typed: { ...done, outcome: TAKE_BACK }, seen: 2 }], anna);
  expect((await store.resultsOf(stored.id)).filter(({ at }) => at === AT).map(({ value }) => value === undefined)).toEqual([
    true,
    false,
    false,
  ]);
  for (const at of ["/sets/9/overspeed", "/sets/1/nothing", "overspeed", "/sets/1/__proto__"])
    expect((await keepResults(office, stored, [{ at, typed: done, seen: 0 }], anna)).ok, at).toBe(false);
});

test("what could not be kept stays typed for its writer, and is forgotten test by test", async () => {
  const id = await kept();
  await keepTypedResults(store, id, { gone: [], typed: { [AT]: done, [OTHER]: notDone } }, anna);
  expect(await typedResults(store, id, "boris")).toEqual({});
  await keepTypedResults(store, id, { gone: [AT], typed: {} }, anna);
  expect(await typedResults(store, id, "anna")).toEqual({ [OTHER]: notDone });
});

const again = async (from: string): Promise<string> => {
  const stored = await storedOf(from);
  const holds = new Set(formerAnswers(stored, rulebook).map(({ at }) => at));
  const id = await startAgain({ store, rulebook, world }, stored, holds, anna);
  const fresh = await storedOf(id);
  const frame = fresh.frame as { readonly visit: object };
  const named = { ...frame, visit: { ...frame.visit, place: { name: "Gannet Quay" }, window: { from: "2027-04-28", to: "2027-04-29" } } };
  await store.saveFrame(id, { vessel: "Kestrel Bight", frame: named, sets: fresh.sets }, fresh.frameVersion, anna);
  return id;
};

const lastTimeIn = async (id: string): Promise<readonly PastResult[]> =>
  (fileOfVisit(await storedOf(id), planner) as { readonly lastTime?: readonly PastResult[] }).lastTime ?? [];

describe("the next visit of the vessel", () => {
  test("is told what was found last, through file and further visits, on page and sheet; and no decision changes", async () => {
    const id = await kept();
    const before = await again(id);
    expect(fileOfVisit(await storedOf(before), planner)).not.toHaveProperty("lastTime");
    const stored = await storedOf(id);
    await keepResults(
      { store, rulebook },
      stored,
      [
        { at: AT, typed: done, seen: 0 },
        { at: OTHER, typed: { ...done, number: "2090", within: "outside limits" }, seen: 0 },
      ],
      anna,
    );
    const next = await again(id);
    expect((await lastTimeIn(next)).map(({ at, on, outcome }) => [at, on, outcome])).toEqual([
      ["/sets/0/overspeed", "2026-04-29", "as planned"],
      ["/sets/1/overspeed", "2026-04-29", "as planned"],
    ]);
    const plans = await Promise.all([before, next].map(async (one) => planVisit(await storedOf(one), planner)));
    const [without, withIt] = plans.map((plan) => (plan.ok ? JSON.stringify(plan.value.plan) : plan.faults.join()));
    expect(withIt).toBe(without);

    // Out into a file and in again it is the same.
    const text = JSON.stringify(fileOfVisit(await storedOf(next), planner));
    const imported = await kept(text);
    expect(await lastTimeIn(imported)).toEqual(await lastTimeIn(next));

    const { plan, read } = await planned(text);
    const line = inspectorPlanOf({ plan, read, rulebook, units: "metric" }).blocks.flatMap((block) =>
      block.kind === "protection" ? block.lines.filter(({ label }) => label.startsWith("Last time")) : [],
    );
    expect(line.map(({ label }) => label)).toEqual(["Last time, 29 April 2026", "Last time, 29 April 2026"]);
    expect(line.map(({ text: words }) => words).join("\n")).toMatch(/read 2070 rpm, within limits\.[\s\S]*read 2090 rpm, outside limits\./);
    const view = await stepView({ store, planner, preview }, await storedOf(next), "sets/2/overspeed", "anna");
    expect(view?.lastTime.map(({ label, text: words }) => `${label}: ${words}`)).toEqual([
      expect.stringMatching(/^Last time, 29 April 2026: Done as planned \(.*\); read 2090 rpm, outside limits\.$/),
    ]);
    expect((await stepView({ store, planner, preview }, await storedOf(next), "sets/2/plate", "anna"))?.lastTime).toEqual([]);

    // Not done at the next one, the one before is told as well; then only the last that was done.
    await keepResults({ store, rulebook }, await storedOf(next), [{ at: AT, typed: notDone, seen: 0 }], anna);
    const third = await again(next);
    expect(lastTimeWords("/sets/0/overspeed", await lastTimeIn(third), rulebook)).toMatch(
      /^Last time, 29 April 2026: not done: no technician came\. Before that, 29 April 2026: done as planned \(.*\); read 2070 rpm, within limits\.$/,
    );
    expect(lastTimeWords("/sets/1/overspeed", await lastTimeIn(third), rulebook)).toMatch(/^Last time.*2090 rpm/);
    expect(lastTimeWords("/sets/1/handStop", await lastTimeIn(third), rulebook)).toBe("");
    await keepResults({ store, rulebook }, await storedOf(third), [{ at: AT, typed: { ...done, number: "2065" }, seen: 0 }], anna);
    expect((await lastTimeIn(await again(third))).map(({ at, outcome }) => `${at} ${outcome}`)).toEqual([
      "/sets/0/overspeed as planned",
      "/sets/1/overspeed as planned",
    ]);
  });

  test("what was found stays with its set, wherever that stands and while it is out; a file takes none of it to another", async () => {
    const id = await kept();
    await keepResults({ store, rulebook }, await storedOf(id), [{ at: OTHER, typed: done, seen: 0 }], anna);
    const next = await again(id);
    const out = await removeSet(store, await storedOf(next), 1, anna);
    if (!out.ok) throw new Error(out.faults.join());
    expect((await lastTimeIn(next)).map(({ at }) => at)).toEqual(["/sets/0/overspeed"]);
    await restoreSet(store, await storedOf(next), out.value.out, anna);
    expect((await lastTimeIn(next)).map(({ at }) => at)).toEqual(["/sets/1/overspeed"]);
    const gone = await removeSet(store, await storedOf(next), 2, anna);
    expect(gone.ok).toBe(true);
    const plan = planVisit(await storedOf(next), planner);
    expect(plan.ok ? [] : plan.faults).toEqual([]);
    expect(await lastTimeIn(await kept(JSON.stringify(fileOfVisit(await storedOf(next), planner))))).toEqual([]);
    expect(await lastTimeIn(await again(next))).toEqual([]);
  });

  test("a record taken back is told to nobody, and what no rulebook knows any more is told by its id", async () => {
    const id = await kept();
    const stored = await storedOf(id);
    await keepResults({ store, rulebook }, stored, [{ at: AT, typed: done, seen: 0 }], anna);
    await keepResults({ store, rulebook }, stored, [{ at: AT, typed: { ...done, outcome: TAKE_BACK }, seen: 1 }], anna);
    expect(await lastTimeIn(await again(id))).toEqual([]);
    const old: PastResult = {
      at: "/sets/0/overspeed",
      on: "2020-01-02",
      outcome: "as planned",
      planned: ["os-of-old"],
      within: "no limit known",
      words: "By the maker.",
    };
    expect(lastTimeWords(old.at, [old], rulebook)).toBe(
      "Last time, 2 January 2020: done as planned (os-of-old); no limit known. By the maker.",
    );
  });
});

test("the page shows every test of the plan with what it is held against, what is kept, typed and wrong, and what is no test any more", async () => {
  const id = await kept();
  const stored = await storedOf(id);
  await keepResults(
    { store, rulebook },
    stored,
    [
      { at: AT, typed: done, seen: 0 },
      { at: "/sets/1/gasTrip", typed: { ...notDone, planned: "" }, seen: 0 },
    ],
    anna,
  );
  const now = preview(stored);
  if (!("plan" in now)) throw new Error("no plan");
  const typedNow = { [OTHER]: { ...notDone, why: "" } };
  const view = resultsView(
    { stored, plan: now.plan, read: now.read, entries: await store.resultsOf(id), typed: typedNow, now: anna.when },
    rulebook,
  );
  const [one, other] = view.sets.map(({ tests }) => tests.find(({ name }) => name === "Overspeed"));
  expect(one).toMatchObject({ at: AT, seen: 1, values: done, typed: false, problems: [], kept: { who: "anna", version: 1 } });
  expect(one?.against).toMatch(/rpm/);
  expect(one?.way).not.toBe("");
  expect(other?.values.unit).toBe("");
  expect(other).toMatchObject({ at: OTHER, seen: 0, typed: true, problems: [{ field: "why" }] });
  const stop = view.sets[0]?.tests[0];
  expect(stop?.values).toMatchObject({ outcome: "", on: "2026-04-29" });
  expect(stop?.values.planned.split(",").every((method) => method !== "")).toBe(true);
  expect(view.gone.map(({ at, set }) => [at, set])).toEqual([["/sets/1/gasTrip", "SSDG 1"]]);
  expect(view.sets.flatMap(({ tests }) => tests).length).toBe(
    now.plan.sets.flatMap(({ protections }) => protections).filter(({ applies }) => applies !== "no").length,
  );
});

test.each([
  ["2030", "rpm", ""],
  ["34.5", "Hz", ""],
  ["207", "rpm", "207 rpm is far from"],
])("a reading of %s %s within limits is doubted where it is far from its set point", async (number, unit, doubt) => {
  const id = await kept();
  const stored = await storedOf(id);
  await keepResults({ store, rulebook }, stored, [{ at: AT, typed: { ...done, number, unit }, seen: 0 }], anna);
  const now = preview(stored);
  if (!("plan" in now)) throw new Error("no plan");
  const entries = await store.resultsOf(id);
  const view = resultsView({ stored, plan: now.plan, read: now.read, entries, typed: {}, now: anna.when }, rulebook);
  const one = view.sets[0]?.tests.find(({ at }) => at === AT);
  expect(one?.doubt.slice(0, doubt === "" ? undefined : doubt.length)).toBe(doubt);
  if (doubt !== "") expect(one?.doubt).toMatch(/± .* rpm, and is recorded as within limits: look at it once more\.$/);
});
