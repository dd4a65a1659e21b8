import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import Calendar from "ical.js";
import { afterAll, beforeAll, expect, test } from "vitest";
import { success } from "../../lib/kernel/result.ts";
import { dayOf } from "../../lib/plan/day/planDay.ts";
import type { DrawnUp } from "../../lib/plan/day/setup.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { openStore } from "../../lib/store/open.ts";
import type { Store, StoredVisit } from "../../lib/store/store.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { LISTS, type ListName, listOf } from "../../lib/usecases/visits/lists.ts";
import { planVisit } from "../../lib/usecases/visits/planVisit.ts";
import { visit } from "../cli/cli.ts";

const planner = newPlanner(rulebook);
const now = "2026-03-02T08:00:00.000Z";
let store: Store;
let stored: StoredVisit;
beforeAll(async () => {
  const opened = await openStore(":memory:");
  if (!opened.ok) throw new Error(opened.faults.join());
  store = opened.value;
  const file = JSON.parse(readFileSync(visit("modern-electronic"), "utf8")) as object;
  const kept = await importVisit(
    { store, world: { now: () => now, newId: () => "v1" }, planner },
    JSON.stringify({ ...file, confirmed: [{ request: "R1", letter: 1 }] }),
    "anna",
  );
  if (!kept.ok) throw new Error(JSON.stringify(kept.faults));
  const found = await store.visit(kept.value);
  if (found === null) throw new Error("no visit");
  stored = found;
});
afterAll(() => store.close());

const titles: string[] = [];
const made = async (name: ListName, of = stored) => {
  const render = (letter: { readonly title: string }) => {
    titles.push(letter.title);
    return Promise.resolve(success(Uint8Array.of(1)));
  };
  return listOf(of, name, { planner, store, render, dayOf: async (setup: DrawnUp) => dayOf(setup), now, units: "metric" });
};

test("every list of a visit that can be planned is made, with what the plan asks", async () => {
  for (const name of LISTS) expect((await made(name)).ok, name).toBe(true);
  expect(new Set(titles).size).toBe(3);
  const plan = planVisit(stored, planner);
  if (!plan.ok) throw new Error(JSON.stringify(plan.faults));
  const csv = await made("requests.csv");
  const rows = parse(csv.ok ? String(csv.value.content) : "", { bom: true, from: 2 }) as string[][];
  expect(rows.map(([ref]) => ref)).toEqual(plan.value.plan.requests.map(({ ref }) => ref));
  expect(rows.find(([ref]) => ref === "R1")?.at(-1)).toBe("confirmed with letter 1");
  expect(new Set(rows.map((row) => row.at(-1)))).toContain("open");
  const calendar = await made("visit.ics");
  const events = new Calendar.Component(Calendar.parse(calendar.ok ? String(calendar.value.content) : "")).getAllSubcomponents("vevent");
  expect(events.length).toBeGreaterThan(1);
});

test("a visit that cannot be planned says why, and makes none", async () => {
  const { references: _, ...frame } = stored.frame as Record<string, unknown>;
  const open = { ...stored, frame: { ...frame, visit: {} } } as StoredVisit;
  const csv = await made("requests.csv", open);
  expect(csv.ok ? "" : csv.faults.join()).toContain("visit.vessel");
});
