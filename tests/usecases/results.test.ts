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
import { storedPointer } from "../../lib/usecases/visits/places.ts";
import { fileOfVisit, planVisit } from "../../lib/usecases/visits/planVisit.ts";
import { previewsBy } from "../../lib/usecases/visits/preview.ts";
import { askedMark } from "../../lib/usecases/visits/resultDoubts.ts";
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
const done = typed({ outcome: "as planned", number: "2010", unit: "rpm", within: "within limits" });
const notDone = typed({ outcome: "not done", why: "no technician came" });

describe("the fields of a record", () => {
  test("say what was read as it was read, its last digit and its unit", () => {
    const reading = (number: string, unit: string): unknown => {
      const read = resultIn({ ...done, number, unit }, METHODS, anna.when);
      return read.ok ? (read.value as { reading?: unknown }).reading : read.faults.map(({ field }) => field);
    };
    expect(reading("1,80", "bar")).toEqual({ number: "1.80", unit: "bar" });
    expect(reading(" 2 010 ", "rpm")).toEqual({ number: "2010", unit: "rpm" });
    expect(reading("1,250.5", "kW")).toEqual({ number: "1250.5", unit: "kW" });
    expect(reading("−12", "%")).toEqual({ number: "-12", unit: "%" });
    expect(reading("7.20 mA", "bar")).toEqual({ number: "7.20", unit: "mA" });
    expect(reading("", "bar")).toBeUndefined();
    expect(reading("about two", "bar")).toEqual(["number"]);
    expect(reading("1.2.3", "bar")).toEqual(["number"]);
    expect(reading("1.8", " ")).toEqual(["unit"]);
    expect(reading("1.2 kg/cm2", "")).toEqual({ number: "1.2", unit: "kg/cm2" });
    // Digits behind a number are part of it, not of a unit.
    for (const none of ["1e400", "1E5", "12-14 bar", "1/2 bar", "1x10 bar"]) expect(reading(none, "bar"), none).toEqual(["number"]);
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
  const office = { store, rulebook, preview };
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
  await keepResults(office, stored, [{ at: AT, typed: { ...done, number: "2015" }, seen: 1 }], boris);
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
  const both = await keepResults(office, stored, [{ at: AT, typed: { ...done, number: "2020" }, seen: 1 }], anna);
  expect(both.ok && both.value.conflicts.map(({ at, theirs }) => [at, theirs.who])).toEqual([[AT, "boris"]]);
  const lines = resultLines(stored, await store.resultsOf(stored.id), { rulebook, plan: null });
  expect(lines.map(({ set, what }) => `${set}: ${what}`)).toEqual(["SSDG 1: Overspeed", "SSDG 2: Overspeed"]);
  expect(lines[0]?.entries.map(({ who, words }) => `${who}: ${words}`)).toEqual([
    `boris: 29 April 2026: Done as planned (${RAISED}); read 2015 rpm, within limits.`,
    expect.stringMatching(/^anna: 29 April 2026: Done as planned .*; read 2010 rpm, within limits\.$/),
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
      { store, rulebook, preview },
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
    expect(line.map(({ text: words }) => words).join("\n")).toMatch(/read 2010 rpm, within limits\.[\s\S]*read 2090 rpm, outside limits\./);
    const view = await stepView({ store, planner, preview }, await storedOf(next), "sets/2/overspeed", "anna");
    expect(view?.lastTime.map(({ label, text: words }) => `${label}: ${words}`)).toEqual([
      expect.stringMatching(/^Last time, 29 April 2026: Done as planned \(.*\); read 2090 rpm, outside limits\.$/),
    ]);
    expect((await stepView({ store, planner, preview }, await storedOf(next), "sets/2/plate", "anna"))?.lastTime).toEqual([]);

    // Not done at the next one, the one before is told as well; then only the last that was done.
    const later = { who: "anna", when: "2027-04-28T10:00:00.000Z" };
    const on = "2027-04-28";
    await keepResults({ store, rulebook, preview }, await storedOf(next), [{ at: AT, typed: { ...notDone, on }, seen: 0 }], later);
    const third = await again(next);
    expect(lastTimeWords("/sets/0/overspeed", await lastTimeIn(third), rulebook)).toMatch(
      /^Last time, 28 April 2027: not done: no technician came\. Before that, 29 April 2026: done as planned \(.*\); read 2010 rpm, within limits\.$/,
    );
    expect(lastTimeWords("/sets/1/overspeed", await lastTimeIn(third), rulebook)).toMatch(/^Last time.*2090 rpm/);
    expect(lastTimeWords("/sets/1/handStop", await lastTimeIn(third), rulebook)).toBe("");
    const typedThen = { ...done, on, number: "2005" };
    await keepResults({ store, rulebook, preview }, await storedOf(third), [{ at: AT, typed: typedThen, seen: 0 }], later);
    expect((await lastTimeIn(await again(third))).map(({ at, outcome }) => `${at} ${outcome}`)).toEqual([
      "/sets/0/overspeed as planned",
      "/sets/1/overspeed as planned",
    ]);
  });

  test("what was found stays with its set, wherever that stands and while it is out; a file takes none of it to another", async () => {
    const id = await kept();
    await keepResults({ store, rulebook, preview }, await storedOf(id), [{ at: OTHER, typed: done, seen: 0 }], anna);
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
    await keepResults({ store, rulebook, preview }, stored, [{ at: AT, typed: done, seen: 0 }], anna);
    await keepResults({ store, rulebook, preview }, stored, [{ at: AT, typed: { ...done, outcome: TAKE_BACK }, seen: 1 }], anna);
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
    { store, rulebook, preview },
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

describe("what is asked once more before it is kept", () => {
  const WATER = "/sets/1/jacketWaterTemperature";
  const OIL = "/sets/1/lubeOilPressure";
  const ALARM = "/sets/1/lubeOilAlarm";

  const asked = async (fields: Partial<TypedResult>, at: string, name = "old-mechanical"): Promise<readonly string[]> => {
    const stored = await storedOf(await kept(readFileSync(visit(name), "utf8")));
    const now = preview(stored);
    if (!("plan" in now)) throw new Error("no plan");
    const protection = now.plan.sets.flatMap(({ protections }) => protections).find((one) => storedPointer(one.at, stored.sets) === at);
    const ways = (protection?.decision.methods ?? []).join(",");
    const { from } = now.plan.visit.window;
    const by = { who: "anna", when: `${from}T10:00:00.000Z` };
    const entered = { at, typed: { ...done, on: from, planned: ways, ...fields }, seen: 0 };
    const outcome = await keepResults({ store, rulebook, preview }, stored, [entered], by);
    if (!outcome.ok) throw new Error(outcome.faults.join());
    const doubts = outcome.value.doubts.get(at) ?? [];
    expect(outcome.value.faults.get(at)).toBeUndefined();
    expect(await store.resultsOf(stored.id)).toHaveLength(doubts.length === 0 ? 1 : 0);
    return doubts.map(({ says }) => says);
  };

  test.each<[string, string, string, string]>([
    [AT, "2030", "rpm", ""],
    [AT, "2500", "rpm", "Reading: 2500 rpm is far from 2000 rpm ± 20 rpm, and is given as within limits"],
    [AT, "207", "RPM", "Reading: 207 RPM is far from 2000 rpm ± 20 rpm, and is given as within limits"],
    [AT, "34.5", "Hz", "Unit of the reading: “Hz” cannot be compared with the set point, which is in rpm"],
    [AT, "9", "bananas", "Unit of the reading: “bananas” cannot be compared with the set point, which is in rpm"],
    [ALARM, "20", "bar", "Reading: 20 bar is far from 1.6 bar ± 0.1 bar, and is given as within limits"],
    [ALARM, "1.8", "bars", ""],
    [ALARM, "26", "psi", ""],
    [WATER, "-4", "°C", "Reading: -4 °C is far from 205 °F ± 5 °F (96.1 °C ± 2.8 °C), and is given as within limits"],
    [WATER, "96", "degC", ""],
    [WATER, "208", "°F", ""],
    [WATER, "96", "°F", "Reading: 96 °F is far from 205 °F ± 5 °F (96.1 °C ± 2.8 °C), and is given as within limits"],
    [OIL, "24", "psi", ""],
    ["/sets/1/reversePower", "96", "kW", ""],
    ["/sets/1/handStop", "9", "bananas", ""],
  ])("%s %s %s", async (at, number, unit, says) => {
    expect(await asked({ number, unit }, at)).toEqual(says === "" ? [] : [says]);
  });

  test("outside limits nothing is far, and without a tolerance the rule's limit counts, or what such set points usually are", async () => {
    expect(await asked({ number: "2500", within: "outside limits" }, AT)).toEqual([]);
    const EMERGENCY = "/sets/2/overspeed";
    expect(await asked({ number: "2060" }, EMERGENCY, "mixed-channels")).toEqual([]);
    expect(await asked({ number: "2500" }, EMERGENCY, "mixed-channels")).toEqual([
      "Reading: 2500 rpm goes over “highest permitted trip speed: 2070 rpm”, and is given as within limits",
    ]);
    expect(await asked({ number: "98", unit: "°C" }, WATER, "mixed-channels")).toEqual([]);
    expect((await asked({ number: "-4", unit: "°C" }, WATER, "mixed-channels"))[0]).toMatch(
      /^Reading: -4 °C is far from what such set points usually are, \d+ to \d+ °C, and is given as within limits$/,
    );
  });

  test("a signal is held against the signal that is fed in, a running value not against the set point", async () => {
    const SENSOR = "/sets/1/lubeOilPressure";
    expect(await asked({ number: "8.10", unit: "mA" }, SENSOR, "dual-fuel")).toEqual([]);
    expect((await asked({ number: "14", unit: "mA" }, SENSOR, "dual-fuel"))[0]).toMatch(/^Reading: 14 mA is far from 8 mA ± 0\.32 mA/);
    const otherwise = { outcome: "by another method", method: "lo-comparison", unit: "bar" };
    expect(await asked({ ...otherwise, number: "4.3" }, SENSOR, "dual-fuel")).toEqual([]);
    expect((await asked({ ...otherwise, number: "43" }, SENSOR, "dual-fuel"))[0]).toMatch(/^Reading: 43 bar is far from what/);
  });

  test("a day that is none of the visit's, whatever became of the test", async () => {
    const says = "Day: 1 January 1999 is no day of the visit, which is from 29 to 30 April 2026";
    expect(await asked({ on: "1999-01-01" }, AT)).toEqual([says]);
    expect(await asked({ ...notDone, on: "1999-01-01" }, AT)).toEqual([says]);
    expect(await asked({ number: "9", unit: "bananas", on: "1999-01-01" }, AT)).toHaveLength(2);
  });

  test("it is kept by who says that it is so or writes why, asked anew where another slip follows, and never asked of what stands", async () => {
    const office = { store, rulebook, preview };
    const stored = await storedOf(await kept());
    const far = { ...done, number: "2500", words: "Seen by class." };
    const keep = async (typedNow: TypedResult, more: object = {}, seen = 0): Promise<readonly [readonly string[], string]> => {
      const outcome = await keepResults(office, stored, [{ at: AT, typed: typedNow, seen, ...more }], anna);
      if (!outcome.ok) throw new Error(outcome.faults.join());
      const doubts = outcome.value.doubts.get(AT) ?? [];
      return [outcome.value.kept, askedMark(doubts, typedNow.words)];
    };
    const [none, mark] = await keep(far);
    expect(none).toEqual([]);
    // A tick without the question, the question without an answer, a remark that stood there before: none is an answer.
    for (const more of [{ sure: true }, { asked: mark }]) expect((await keep(far, more))[0]).toEqual([]);
    const [, other] = await keep({ ...far, number: "2600" }, { asked: mark, sure: true });
    expect(other).not.toBe("");
    const [explained] = await keep({ ...far, words: "Flyweight stuck; tripped by hand." }, { asked: mark });
    expect(explained).toEqual([AT]);
    // What stands is not asked again with the next word on it; a new slip is.
    expect((await keep({ ...far, words: "Flyweight stuck." }, {}, 1))[0]).toEqual([AT]);
    expect((await keep({ ...far, on: "1999-01-01" }, {}, 2))[0]).toEqual([]);
    expect((await keep({ ...far, number: "2600" }, { asked: other, sure: true }, 2))[0]).toEqual([AT]);
    const entries = await store.resultsOf(stored.id);
    expect(entries.map(({ version }) => version)).toEqual([3, 2, 1]);
    const now = preview(stored);
    if (!("plan" in now)) throw new Error("no plan");
    const view = (typedNow: Readonly<Record<string, TypedResult>>) =>
      resultsView({ stored, plan: now.plan, read: now.read, entries, typed: typedNow, now: anna.when }, rulebook).sets[0]?.tests.find(
        ({ at }) => at === AT,
      );
    expect(view({})).toMatchObject({
      doubts: [],
      asked: "",
      odd: ["Reading: 2600 rpm is far from 2000 rpm ± 20 rpm, and is given as within limits"],
    });
    expect(view({ [AT]: { ...far, number: "207" } })).toMatchObject({ problems: [], doubts: [{ field: "number" }] });
  });
});

test("the form has the unit used aboard, and tells the figures in it with SI behind", async () => {
  const stored = await storedOf(await kept());
  const now = preview(stored);
  if (!("plan" in now)) throw new Error("no plan");
  const { sets } = resultsView({ stored, plan: now.plan, read: now.read, entries: [], typed: {}, now: anna.when }, rulebook);
  const shown = (kind: string) => sets[0]?.tests.find(({ at }) => at === `/sets/1/${kind}`);
  expect([shown("lubeOilPressure")?.values.unit, shown("lubeOilPressure")?.against]).toEqual([
    "psi",
    "Set point: 22 psi ± 3 psi (1.52 bar ± 0.21 bar)",
  ]);
  expect([shown("jacketWaterTemperature")?.values.unit, shown("jacketWaterTemperature")?.against]).toEqual([
    "°F",
    "Set point: 205 °F ± 5 °F (96.1 °C ± 2.8 °C)",
  ]);
  expect([shown("lubeOilAlarm")?.values.unit, shown("lubeOilAlarm")?.against]).toEqual(["bar", "Set point: 1.6 bar ± 0.1 bar"]);
  expect(shown("jacketWaterTemperature")?.figures).toContainEqual(
    expect.stringMatching(/^Circuit opened only at or under: 113 °F \(45 °C; local thermometer/),
  );
  expect(shown("reversePower")?.values.unit).toBe("kW");
});
