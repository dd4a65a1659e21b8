import { afterAll, beforeAll, expect, test } from "vitest";
import { deviationsOf } from "../../lib/compare/consistency.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { openStore } from "../../lib/store/open.ts";
import type { Store } from "../../lib/store/store.ts";
import { newComparer } from "../../lib/usecases/review/comparer.ts";
import { findingsBy, findingViews, NO_FILTER } from "../../lib/usecases/review/findings.ts";
import { fortyPlans, type Hidden } from "./forty.ts";

const planner = newPlanner(rulebook);
let made = 0;
const world = {
  now: () => "2026-04-01T08:00:00.000Z",
  newId: () => {
    made += 1;
    return `id${String(made).padStart(5, "0")}`;
  },
};

let store: Store;
let hidden: readonly Hidden[];
const office = () => ({ store, world, planner });

beforeAll(async () => {
  const opened = await openStore(":memory:");
  if (!opened.ok) throw new Error(opened.faults.join());
  store = opened.value;
  ({ hidden } = await fortyPlans(office(), ["mara", "ilse", "tove"]));
}, 120_000);
afterAll(() => store.close());

test("of forty plans by three inspectors the six hidden inconsistencies are found, and nothing else", async () => {
  const compare = await newComparer(store)();
  expect(compare.plans.length).toBe(40);
  expect(new Set(compare.plans.map(({ owner }) => owner)).size).toBe(3);
  const found = findingsBy(compare, NO_FILTER, []).filter(({ sort }) => sort !== "usual");
  const told = found.map((finding) => ({
    sort: finding.sort,
    kind: finding.kind,
    vessels: [...new Set(deviationsOf(finding).map(({ plan }) => compare.plans[plan]?.vessel ?? ""))].sort(),
  }));
  const sorted = (some: readonly Hidden[]) => some.map((one) => JSON.stringify(one)).sort();
  expect(sorted(told as readonly Hidden[])).toEqual(sorted(hidden));
});

test("what the office usually does against the engine is told apart, with how often", async () => {
  const compare = await newComparer(store)();
  const usual = findingsBy(compare, NO_FILTER, []).filter(({ sort }) => sort === "usual");
  const [view] = findingViews(compare, usual, [], planner);
  expect(usual.map(({ kind }) => kind)).toEqual(["turbineOverspeed"]);
  expect(view?.says).toContain("In 5 of 5 visits");
});

test("no finding shows a pointer or the name of a fact in code", async () => {
  const compare = await newComparer(store)();
  for (const { says, equal, lines, engine } of findingViews(compare, findingsBy(compare, NO_FILTER, []), [], planner)) {
    const texts = [
      says,
      engine,
      ...equal.flatMap(({ name, value }) => [name, value]),
      ...lines.flatMap((line) => [line.way, line.differs?.name ?? ""]),
    ];
    for (const text of texts) expect(text).not.toMatch(/[{}*]|\/sets\/|\/support\/|[a-z]{3}[A-Z]|undefined/);
  }
});

test("a reader that saw the first plans sees those that came later as a new one does", async () => {
  const [early, late] = [newComparer(store), newComparer(store)];
  const before = await early();
  expect(await early()).toBe(before);
  const [first] = before.plans;
  const own = before.decisions.filter(({ plan }) => plan === 0);
  const decisions = own.map(({ at, kind, set, maker, mark, engine, proves }) => [
    at,
    kind,
    set,
    maker,
    mark,
    engine,
    "another",
    proves,
    "tried",
  ]);
  const kept = await store.planFiles([first?.visit ?? ""]);
  const base = { rulebook: "x", ruleBasis: "x", vessel: first?.vessel ?? "", file: kept[0]?.file ?? "", sets: kept[0]?.sets ?? [] };
  const mark = "0123456789abcdef";
  await store.keepPlan({
    ...base,
    visit: first?.visit ?? "",
    version: 999,
    why: "letter",
    who: "mara",
    when: "2026-03-30T08:00:00.000Z",
    decisions: JSON.stringify([...decisions, ["/sets/9/x", "x", "x", "", mark, "a", "b", "oooo", ""]]),
    signatures: new Map([[mark, '[["x","y"]]']]),
  });
  const [one, other] = [await early(), await late()];
  const sorted = (found: typeof one) =>
    findingsBy(found, NO_FILTER, [])
      .map(({ id }) => id)
      .sort();
  expect(sorted(one)).toEqual(sorted(other));
  expect(one.decisions.length).toBe(other.decisions.length);
  expect(one.factsOf(mark)).toEqual([{ of: "x", value: "y" }]);
  expect(sorted(one).length).toBeGreaterThan(sorted(before).length);
});
