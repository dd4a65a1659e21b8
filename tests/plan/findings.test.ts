import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { success } from "../../lib/kernel/result.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { planFile } from "../../lib/usecases/planFile.ts";
import { visit } from "../cli/cli.ts";

type Json = Record<string, unknown>;
const planner = newPlanner(rulebook);

const planOf = async (document: unknown): Promise<Plan> => {
  const result = await planFile(planner, { read: async () => success(JSON.stringify(document)) }, "visit");
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return result.value.plan;
};

/** One set under a rule basis, with what else stands in the file. */
const one = (set: Json, ruleBasis: string, more: Json = {}): Json => ({
  format: "forehail visit 1",
  preparedOn: "2026-03-02",
  visit: { vessel: { name: "Example" }, place: { name: "Example Roads" }, window: { from: "2026-06-01", to: "2026-06-02" } },
  ruleBasis,
  sets: [{ name: "Set", ...set }],
  ...more,
});

const found = async (document: Json): Promise<readonly string[]> => (await planOf(document)).findings.map(({ text }) => text);

const SOLAS = "SOLAS and class";
const SEPARATE = "separate for alarm and stop";
const US = "46 CFR 61.40";
const diesel = (more: Json): Json => ({ primeMover: "diesel", ...more });
const emergency = (more: Json): Json => ({ role: "emergency", primeMover: "diesel", ...more });
const start = (first: number, more: Json = {}): Json => ({ start: { starter: "electric", storedStarts: first, ...more } });

/** Each with the case of the published collection it is taken from (standards.md §9), and whether something is found. */
const CASES: readonly (readonly [what: string, document: Json, text: RegExp, told: boolean])[] = [
  ["1: 1035 rpm on 900", one(diesel({ plate: { ratedSpeed: 900 }, overspeed: { setPoint: 1035 } }), US), /overspeed set point/, false],
  ["1: 1036 rpm on 900", one(diesel({ plate: { ratedSpeed: 900 }, overspeed: { setPoint: 1036 } }), US), /overspeed set point/, true],
  ["2: 2125 rpm on 1800", one(diesel({ plate: { ratedSpeed: 1800 }, overspeed: { setPoint: 2125 } }), SOLAS), /118 % of rated/, true],
  // While the rule basis is open, what class and US rules have in common; where it sets no limit, the share of rated speed is told.
  [
    "1: 1035 rpm on 900, basis open",
    one(diesel({ plate: { ratedSpeed: 900 }, overspeed: { setPoint: 1035 } }), "not known"),
    /overspeed set point/,
    false,
  ],
  [
    "1: 1036 rpm on 900, basis open",
    one(diesel({ plate: { ratedSpeed: 900 }, overspeed: { setPoint: 1036 } }), "not known"),
    /overspeed set point.*1,?035 rpm/,
    true,
  ],
  [
    "2: 2125 rpm on 1800, no limit in the rule basis",
    one(diesel({ plate: { ratedSpeed: 1800 }, overspeed: { setPoint: 2125 } }), "maker and office"),
    /is 118 % of rated speed\. The rule basis sets no limit/,
    true,
  ],
  ["5: 7.2 %, 90 of 1250 kW", one(diesel({ parallel: "yes", reversePower: { pickUp: 7.2 } }), SOLAS), /under the usual band/, true],
  ["5: 15 %, 187.5 of 1250 kW", one(diesel({ parallel: "yes", reversePower: { pickUp: 15 } }), SOLAS), /usual band/, false],
  ["6: turbine at 6 %", one({ primeMover: "steam turbine", parallel: "yes", reversePower: { pickUp: 6 } }, SOLAS), /usual band/, false],
  ["6: turbine at 6.1 %", one({ primeMover: "steam turbine", parallel: "yes", reversePower: { pickUp: 6.1 } }, SOLAS), /usual band/, true],
  ["7: 20 % on a diesel", one(diesel({ parallel: "yes", reversePower: { pickUp: 20, delay: 1 } }), SOLAS), /above the usual band/, true],
  ["7: after 1 s", one(diesel({ parallel: "yes", reversePower: { pickUp: 10, delay: 1 } }), SOLAS), /delay of 1 s/, true],
  [
    "8: motored at 5 %, pick-up 8 %",
    one(diesel({ parallel: "yes", reversePower: { pickUp: 8, motoringPower: 5 } }), US),
    /would not act/,
    true,
  ],
  [
    "8: motored at 25 %, pick-up 8 %",
    one(diesel({ parallel: "yes", reversePower: { pickUp: 8, motoringPower: 25 } }), US),
    /would not act/,
    false,
  ],
  ["17: 4 starts and no second source, US", one(emergency(start(4, { second: "none" })), US), /6 starts, or 3 and 3/, true],
  ["17: 4 starts and no second source, SOLAS", one(emergency(start(4, { second: "none" })), SOLAS), /second source/, true],
  ["18: 3 and 3, US", one(emergency(start(3, { second: "hydraulic", secondStarts: 3 })), US), /By 46 CFR/, false],
  ["18: 3 and 3, SOLAS", one(emergency(start(3, { second: "hydraulic", secondStarts: 3 })), SOLAS), /By SOLAS/, false],
  ["19: emergency set on steam", one({ role: "emergency", primeMover: "steam turbine" }, US), /start by its own means/, true],
  ["19: emergency set on a diesel", one(emergency({}), US), /start by its own means/, false],
  [
    "25: 6900 rpm on 6000",
    one({ primeMover: "steam turbine", plate: { ratedSpeed: 6000 }, turbineOverspeed: { setPoint: 6900 } }, SOLAS),
    /overspeed set point/,
    false,
  ],
  [
    "25: 6901 rpm on 6000",
    one({ primeMover: "steam turbine", plate: { ratedSpeed: 6000 }, turbineOverspeed: { setPoint: 6901 } }, SOLAS),
    /overspeed set point/,
    true,
  ],
  ["11: long-time pick-up at 115 %", one(diesel({ overcurrent: { pickUp: 115 } }), US), /overcurrent/, false],
  ["11: long-time pick-up at 116 %", one(diesel({ overcurrent: { pickUp: 116 } }), US), /overcurrent/, true],
];

describe("findings by the published check cases", () => {
  test.each(CASES)("%s", async (_, document, text, told) => {
    expect((await found(document)).some((line) => text.test(line))).toBe(told);
  });
});

test("20: fuel for less than 18 h on a cargo ship and 36 h on a passenger ship is told", async () => {
  const fuel = (litres: number, kind: string) => {
    const document = one(emergency({ start: { fuelTank: litres, fuelPerHour: 50 } }), US);
    Object.assign((document["visit"] as Json)["vessel"] as Json, { kind, grossTonnage: 20000 });
    return found(document);
  };
  expect(await fuel(899, "cargo")).toEqual([expect.stringContaining("18 h are wanted")]);
  expect(await fuel(900, "cargo")).toEqual([]);
  expect(await fuel(1799, "passenger")).toEqual([expect.stringContaining("36 h are wanted")]);
  expect(await fuel(1800, "passenger")).toEqual([]);
});

test("oil-mist detection is missed from 2,250 kW or above 300 mm bore, in unattended spaces only (SOLAS II-1/47.2)", async () => {
  const engine = (power: number, bore: number, unattended: string) =>
    found(one(diesel({ plate: { ratedPower: power }, oilMist: { fitted: "none", bore } }), SOLAS, { plant: { unattended } }));
  expect(await engine(2249, 300, "yes")).toEqual([]);
  expect(await engine(2250, 300, "yes")).toEqual([expect.stringContaining("oil-mist")]);
  expect(await engine(500, 301, "yes")).toEqual([expect.stringContaining("oil-mist")]);
  expect(await engine(2250, 400, "no")).toEqual([]);
});

test("28: at 105 dB(A) the stay is 60 min by 29 CFR 1910.95 and 4.7 min by NIOSH; the plan holds to the shorter, in whole minutes", async () => {
  const plan = await planOf(one(diesel({}), SOLAS, { plant: { noise: 105 } }));
  const stay = plan.figures.find(({ name }) => name.startsWith("stay beside a running set"));
  expect(stay).toMatchObject({ value: 5, unit: "min", note: expect.stringContaining("60 min by 29 CFR 1910.95, 5 min by NIOSH") });
});

test("what is alike on several sets is told once, with every set and place", async () => {
  const document = one(diesel({ startInterlock: { fitted: "not interlocked" } }), US);
  (document["sets"] as Json[]).push({ name: "Other", ...diesel({ startInterlock: { fitted: "not interlocked" } }) });
  const { findings } = await planOf(document);
  expect(findings).toMatchObject([{ at: ["/sets/0/startInterlock/fitted", "/sets/1/startInterlock/fitted"] }]);
  expect(findings[0]?.text).toBe("Set and Other: the turning gear does not block the start.");
});

test("a second overspeed device is held to the same limit as the first", async () => {
  const second = (kind: string, mover: string, setPoint: number) =>
    found(one({ primeMover: mover, plate: { ratedSpeed: 1800 }, [kind]: { setPoint } }, US));
  for (const [kind, mover] of [
    ["secondOverspeed", "diesel"],
    ["secondTurbineOverspeed", "steam turbine"],
  ] as const) {
    expect(await second(kind, mover, 2070)).toEqual([]);
    expect(await second(kind, mover, 2070.5)).toEqual([expect.stringContaining("second overspeed device")]);
  }
});

test("a second overspeed device that acts no later than the first is told (common practice)", async () => {
  const both = (second: number) =>
    found(one(diesel({ plate: { ratedSpeed: 1800 }, overspeed: { setPoint: 1980 }, secondOverspeed: { setPoint: second } }), US));
  expect(await both(1980.5)).toEqual([]);
  expect(await both(1980)).toEqual([expect.stringContaining("acts no later than the first at 1980 rpm")]);
});

test("a stop that within the tolerances can come before its alarm is told (common practice)", async () => {
  const oil = (alarmTolerance: number) =>
    found(
      one(
        diesel({
          lubeOilPressure: { sensors: SEPARATE, setPoint: 1.5, tolerance: 0.2 },
          lubeOilAlarm: { setPoint: 2, tolerance: alarmTolerance },
        }),
        US,
      ),
    );
  // 2.0 − 0.29 lies above 1.5 + 0.2; 2.0 − 0.3 no longer does.
  expect(await oil(0.29)).toEqual([]);
  expect(await oil(0.3)).toEqual([expect.stringContaining("can come before its alarm at 2 bar")]);
  const water = (stopTolerance: number) =>
    found(
      one(
        diesel({
          jacketWaterTemperature: { sensors: SEPARATE, setPoint: 98, tolerance: stopTolerance },
          jacketWaterAlarm: { setPoint: 94, tolerance: 2 },
        }),
        US,
      ),
    );
  expect(await water(1.9)).toEqual([]);
  expect(await water(2)).toEqual([expect.stringContaining("can come before its alarm at 94 °C")]);
});

test("an alarm that comes no earlier than its stop is told (common practice)", async () => {
  const oil = (alarm: number) =>
    found(one(diesel({ lubeOilPressure: { sensors: SEPARATE, setPoint: 1.5 }, lubeOilAlarm: { setPoint: alarm } }), US));
  expect(await oil(1.51)).toEqual([]);
  expect(await oil(1.5)).toEqual([expect.stringContaining("no earlier than the stop at 1.5 bar")]);
  const water = (alarm: number) =>
    found(one(diesel({ jacketWaterTemperature: { sensors: SEPARATE, setPoint: 98 }, jacketWaterAlarm: { setPoint: alarm } }), US));
  expect(await water(97.9)).toEqual([]);
  expect(await water(98)).toEqual([expect.stringContaining("no earlier than the stop at 98 °C")]);
});

test("a load that the rest could not carry with one more set lost is told (trade.md §7, 46 CFR 111.10-4)", async () => {
  const loaded = (load: number, starter: number) => {
    const document = one(diesel({ plate: { ratedPower: 500 } }), "maker and office", { plant: { load, largestStarter: starter } });
    for (const name of ["B", "C"]) (document["sets"] as Json[]).push({ name, ...diesel({ plate: { ratedPower: 500 } }) });
    return found(document);
  };
  expect(await loaded(400, 100)).toEqual([]);
  expect(await loaded(400, 101)).toEqual([expect.stringMatching(/^Set, B and C: .* 100.2 % of its rating/)]);
  expect(await loaded(600, 0)).toEqual([expect.stringContaining("120 % of its rating")]);
});

test("a missing protection is told only where the rule basis asks for it", async () => {
  const none = diesel({ overspeed: { fitted: "none" }, parallel: "yes", reversePower: { fitted: "none" } });
  expect(await found(one(none, SOLAS))).toHaveLength(2);
  expect(await found(one(none, "maker and office"))).toEqual([]);
});

test("findings stay with the inspector: no word of them stands in what the vessel is told", async () => {
  const document = JSON.parse(readFileSync(visit("passenger-ship"), "utf8")) as Json;
  const plan = await planOf(document);
  expect(plan.findings.length).toBeGreaterThan(0);
  const told = plan.warnings.filter(({ officeOnly }) => officeOnly !== true).map(({ text }) => text);
  for (const { text } of plan.findings) expect(told).not.toContain(text);
});

test("more starts than the store holds are told to the ship too, for the common store and for a set's own", async () => {
  const running = { stopsAllowed: "yes", handStop: { count: 3 } };
  const wanted = async (common: number, own: number) => {
    const document = one(diesel(running), "maker and office", { plant: { start: { storedStarts: common } } });
    (document["sets"] as Json[]).push({ name: "Own", ...diesel({ ...running, start: { store: "its own", storedStarts: own } }) });
    const { warnings } = await planOf(document);
    return warnings.filter(
      ({ text, officeOnly }) =>
        (text.includes("the planned tests want") || text.startsWith("The planned tests want")) && officeOnly !== true,
    );
  };
  const plan = await planOf(one(diesel(running), "maker and office"));
  const starts = Number(plan.sets[0]?.figures.find(({ name }) => name === "starts of the day")?.value);
  // The hand stop and three emergency stops alone take four, and the first start of the day one.
  expect(starts).toBeGreaterThanOrEqual(5);
  expect(await wanted(starts, starts)).toEqual([]);
  expect(await wanted(starts - 1, starts)).toHaveLength(1);
  expect(await wanted(starts, starts - 1)).toHaveLength(1);
});

test("a turbine is started by its steam: it wants no start from the common store (trade knowledge; common practice)", async () => {
  const running = { stopsAllowed: "yes", handStop: { count: 3 } };
  const alone = await planOf(one(diesel(running), "maker and office"));
  const starts = Number(alone.sets[0]?.figures.find(({ name }) => name === "starts of the day")?.value);
  const told = async (primeMover: string) => {
    const document = one(diesel(running), "maker and office", { plant: { start: { storedStarts: starts } } });
    (document["sets"] as Json[]).push({ name: "Other", ...diesel(running), primeMover });
    const { warnings } = await planOf(document);
    return warnings.filter(({ text }) => text.startsWith("The planned tests want"));
  };
  expect(await told("diesel")).toHaveLength(1);
  expect(await told("steam turbine")).toHaveLength(0);
});
