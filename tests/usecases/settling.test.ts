import { copyFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeAll, beforeEach, expect, test } from "vitest";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { openStore } from "../../lib/store/open.ts";
import type { Store } from "../../lib/store/store.ts";
import { type Compare, newComparer } from "../../lib/usecases/review/comparer.ts";
import { decideReview } from "../../lib/usecases/review/decide.ts";
import { FINDING_COLUMNS, findingRows } from "../../lib/usecases/review/findingRows.ts";
import {
  type FindingFilter,
  findingsBy,
  findingViews,
  NO_FILTER,
  type Settling,
  settleFinding,
} from "../../lib/usecases/review/findings.ts";
import { chooseMethod } from "../../lib/usecases/visits/deviate.ts";
import { scratch } from "../cli/cli.ts";
import { fortyPlans } from "./forty.ts";

const planner = newPlanner(rulebook);
const BY = { who: "odo", when: "2026-04-01T08:00:00.000Z" };

let store: Store;
let visits: ReadonlyMap<string, string>;
let compare: () => Promise<Compare>;
let office: Parameters<typeof settleFinding>[0];

const base = join(scratch(), "forty.db");

const openedAt = async (path: string): Promise<Store> => {
  const opened = await openStore(path);
  if (!opened.ok) throw new Error(opened.faults.join());
  return opened.value;
};

/** The forty plans are made once; every test has a copy of them. */
beforeAll(async () => {
  const made = await openedAt(base);
  let count = 0;
  const newId = () => {
    count += 1;
    return `id${String(count).padStart(5, "0")}`;
  };
  office = { store: made, planner, world: { now: () => BY.when, newId } };
  ({ visits } = await fortyPlans(office, ["mara", "ilse", "tove"]));
  await made.close();
}, 120_000);
beforeEach(async () => {
  const path = join(scratch(), "office.db");
  copyFileSync(base, path);
  store = await openedAt(path);
  office = { ...office, store };
  compare = newComparer(store);
});
afterEach(() => store.close());

const found = async (filter: Partial<FindingFilter> = {}) => {
  const [now, settled] = [await compare(), await store.settledFindings()];
  return findingViews(now, findingsBy(now, { ...NO_FILTER, ...filter }, settled), settled, planner);
};

const corvane = async () => {
  const view = (await found()).find(({ lines }) => lines.some(({ vessel, against }) => vessel === "Corvane" && against));
  if (view === undefined) throw new Error("not found");
  return view;
};

const settle = async (more: Partial<Settling>) =>
  settleFinding(
    office,
    await compare(),
    { finding: (await corvane()).id, how: "accepted", words: "its valve was changed since", seen: 0, back: [], ...more },
    "odo",
  );

test("what is settled does not come again, is still there for who asks for it, and comes again with a new choice against the engine only", async () => {
  const before = await found();
  const own = await corvane();
  expect((await settle({})).ok).toBe(true);
  expect((await found()).map(({ id }) => id)).toEqual(before.map(({ id }) => id).filter((id) => id !== own.id));
  const all = await found({ settled: true });
  expect(all.map(({ id }) => id)).toEqual(before.map(({ id }) => id));
  expect(all.find(({ id }) => id === own.id)?.settled.map(({ words, who }) => [words, who])).toEqual([
    ["its valve was changed since", "odo"],
  ]);
  const again = async (vessel: string, method: string | null): Promise<void> => {
    const id = visits.get(vessel) ?? "";
    const stored = await store.visit(id);
    if (stored === null) throw new Error(vessel);
    const chosen = { at: "/sets/0/lubeOilPressure", method, reason: "here too", seen: stored.version };
    if (method !== null) expect((await chooseMethod(office, stored, chosen, BY)).ok).toBe(true);
    const now = await store.visit(id);
    if (now === null) throw new Error(vessel);
    const asking = { act: "asked", words: "", comments: new Map(), seen: 1, version: now.version } as const;
    expect((await decideReview(office, now, asking, BY)).ok).toBe(true);
  };
  // Another that goes the engine’s way is nothing new.
  await again("Berrow", null);
  expect((await found()).some(({ id }) => id === own.id)).toBe(false);
  await again("Deloran", "lo-start-inhibit");
  const back = (await found()).find(({ id }) => id === own.id);
  expect(back?.lines.filter(({ isNew }) => isNew).map(({ vessel }) => vessel)).toEqual(["Deloran"]);
});

test("of two supervisors who settle at once the second is told so, and nothing of his is kept", async () => {
  const own = await corvane();
  expect((await settle({})).ok).toBe(true);
  const now = await compare();
  const second = await settleFinding(office, now, { finding: own.id, how: "policy changed", words: "no", seen: 0, back: [] }, "runa");
  expect(second).toEqual({
    ok: false,
    faults: [{ field: "", says: "Somebody else settled this after you opened the page. Look at what he decided" }],
  });
  expect((await store.settledFindings()).length).toBe(1);
});

test("what is sent back stands in the review of those plans alone, with the reason", async () => {
  const own = await corvane();
  const id = visits.get("Corvane") ?? "";
  expect(own.lines.length).toBeGreaterThan(2);
  expect((await settle({ how: "sent back", back: [id, visits.get("Berrow") ?? ""] })).ok).toBe(true);
  const events = await store.reviewOf(id);
  expect(events.map(({ act }) => act)).toEqual(["asked", "sent back"]);
  expect(events[1]?.words).toContain("its valve was changed since");
  // Who took the engine’s way has nothing to answer for.
  expect((await store.reviewOf(visits.get("Berrow") ?? "")).map(({ act }) => act)).toEqual(["asked"]);
});

test.each([
  [{ how: "" }, /How it is settled: given nothing/],
  [{ words: "  " }, /Because: given nothing/],
  [{ words: "x".repeat(2001) }, /given 2001 characters; wanted at most 2000/],
  [{ how: "sent back", back: [] }, /no plan is ticked/],
  [{ finding: "none" }, /found no longer/],
])("%j is refused and keeps nothing", async (more, says) => {
  const settled = await settle(more);
  expect(settled.ok ? "" : settled.faults[0]?.says).toMatch(says);
  expect(await store.settledFindings()).toEqual([]);
});

test("findings are chosen by vessel, maker, method, inspector, rules and days, each by what one decision in them is", async () => {
  const all = await found();
  const owner = all.flatMap(({ lines }) => lines).find(({ vessel, against }) => vessel === "Corvane" && against)?.inspector ?? "";
  for (const [filter, holds] of [
    [{ vessel: "corv" }, ({ vessel }: { vessel: string }) => vessel === "Corvane"],
    [{ maker: "orrin" }, ({ maker }: { maker: string }) => maker === "Orrin Motoren"],
    [{ inspector: owner }, ({ inspector }: { inspector: string }) => inspector === owner],
    [{ ruleBasis: "46 CFR 130.480" }, ({ ruleBasis }: { ruleBasis: string }) => ruleBasis === "46 CFR 130.480"],
    [{ from: "2026-03-03" }, ({ when }: { when: string }) => when.slice(0, 10) >= "2026-03-03"],
    [{ to: "2026-03-01" }, ({ when }: { when: string }) => when.slice(0, 10) <= "2026-03-01"],
  ] as const) {
    const wanted = all.filter(({ lines }) => lines.some(holds as (line: (typeof lines)[number]) => boolean)).map(({ id }) => id);
    expect(
      (await found(filter)).map(({ id }) => id),
      JSON.stringify(filter),
    ).toEqual(wanted);
  }
  const byMethod = await found({ method: "lo-start-inhibit" });
  expect(byMethod.map(({ kind }) => kind)).toEqual(["lubeOilPressure"]);
  expect(await found({ vessel: "Corvane", method: "rp-direction" })).toEqual([]);
});

test("as a sheet every decision of a finding is a row under the same heads", async () => {
  const views = await found();
  const rows = findingRows(views, (id) => id);
  expect(rows.length).toBe(views.reduce((sum, { lines }) => sum + lines.length, 0));
  for (const row of rows) expect(row.length).toBe(FINDING_COLUMNS.length);
  expect(rows.flat().some((cell) => cell === "the test valve is stiff")).toBe(true);
});
