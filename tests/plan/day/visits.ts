import { readdirSync, readFileSync } from "node:fs";
import { readVisit } from "../../../lib/model/read.ts";
import type { DayInput } from "../../../lib/plan/day/input.ts";
import { newPlanner } from "../../../lib/plan/plan.ts";
import { rulebook } from "../../../lib/rulebook/rulebook.ts";
import { drawnBy } from "../../schedule/problems.ts";

const planner = newPlanner(rulebook);
const FOLDER = new URL("../../../fixtures/visits/", import.meta.url);
export const DEMOS = readdirSync(FOLDER).map((name) => name.replace(/\.json$/, ""));

type Json = Record<string, unknown>;

export const demo = (name: string): Json => JSON.parse(readFileSync(new URL(`${name}.json`, FOLDER), "utf8")) as Json;

/** A visit as the order of its day is made from it. */
export const inputOf = (document: unknown): DayInput => {
  const read = readVisit(document, rulebook.facts, planner.known);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return { plan: planner.plan(read.value), read: read.value, rulebook };
};

const blanked = (value: unknown, lot: () => number, share: number): unknown =>
  typeof value === "object" && value !== null && !Array.isArray(value) && !("unit" in value)
    ? Object.fromEntries(
        Object.entries(value).flatMap(([key, own]) =>
          (typeof own !== "object" || (own !== null && "unit" in own)) && !["name", "sisters", "role"].includes(key) && lot() < share
            ? []
            : [[key, blanked(own, lot, share)]],
        ),
      )
    : value;

const clock = (minutes: number): string => `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;

/** A demo visit with some answers taken away and a day arranged in some way: hours, pause, people, technicians who come late, times asked for. */
export const anyVisit = (seed: number): Json => {
  const lot = drawnBy(seed);
  const whole = (most: number): number => Math.floor(lot() * most);
  const visit = demo(DEMOS[whole(DEMOS.length)] ?? "");
  const share = lot() < 0.3 ? 0 : lot() * 0.4;
  const sets = (visit["sets"] as readonly Json[]).map((set) => blanked(set, lot, share));
  const from = 360 + 15 * whole(20);
  const to = from + 120 + 15 * whole(40);
  const inside = to - from > 240 && lot() < 0.7;
  const { window } = visit["visit"] as { readonly window: { readonly from: string } };
  const at = (minute: number): string => `${window.from}T${clock(minute)}`;
  const some = <Item>(make: () => Item, most: number): readonly Item[] => Array.from({ length: whole(most + 1) }, make);
  const task = (): string => (lot() < 0.7 ? `T${1 + whole(30)}` : (["brief", "papers", "start 0", "as left 1", "nothing"][whole(5)] ?? ""));
  return {
    ...visit,
    sets,
    plant: blanked(visit["plant"] ?? {}, lot, share),
    day: {
      hours: { from: clock(from), to: clock(to) },
      pause: inside ? { from: clock(from + 90), to: clock(from + 120 + 15 * whole(4)) } : null,
      engineers: 1 + whole(3),
      electricians: 1 + whole(2),
      wish: lot() < 0.5 ? "attendance first" : "day first",
      keepStarts: whole(4),
      technicians: lot() < 0.4 ? [{ need: ["service-engineer", "relay-technician"][whole(2)], from: at(from + 15 * whole(12)) }] : [],
      pins: some(() => ({ task: task(), is: ["begins at", "not before", "done by"][whole(3)], time: at(from + 15 * whole(40)) }), 2),
      minutes: some(() => ({ task: task(), minutes: 1 + whole(120) }), 2),
    },
  };
};
