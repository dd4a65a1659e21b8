import { describe, expect, test } from "vitest";
import type { Condition } from "../../lib/logic/condition.ts";
import { MOST_METHODS } from "../../lib/rulebook/preference.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { PARTS } from "../../lib/rulebook/types.ts";

/**
 * Every number of the rulebook that stands in no other test, held to where it comes from: a paragraph, the trade's table, or common
 * practice, which is kept here so that a change is seen. "standards.md" is the collection of published facts, "trade.md" what the
 * trade knows.
 */
const methods = rulebook.protections.flatMap((protection) => protection.methods);

describe("rule bases", () => {
  /** What each bars and what opens it: nothing where all techniques are accepted. */
  const BARS: Readonly<Record<string, readonly (readonly [technique: number, openedBy: readonly string[]])[]>> = {
    "SOLAS and class": [],
    // 46 CFR 61.40-10(b): no misadjustment (5), artificial signal (4), wiring (6); (2) where the real test endangers; (3) our reading.
    "46 CFR 61.40": [
      [2, ["danger"]],
      [3, ["approved step", "written acceptance"]],
      [4, ["approved step"]],
      [5, ["approved step"]],
      [6, ["approved step"]],
    ],
    // 46 CFR 130.480(d): the same without an exception in the text; (3) our reading.
    "46 CFR 130.480": [
      [3, ["written acceptance"]],
      [4, ["written acceptance"]],
      [5, ["written acceptance"]],
      [6, ["written acceptance"]],
    ],
    "maker and office": [],
    "local rules": [],
  };

  test("bar the techniques that their text names (46 CFR 61.40-10(b), 130.480(d); trade.md §4)", () => {
    const bars = rulebook.ruleBases.map(({ id, bars: own }) => [id, own.map(({ technique, openedBy }) => [technique, openedBy])]);
    expect(Object.fromEntries(bars)).toEqual(BARS);
  });

  test("limit the speed to 115 % of rated where they limit it (46 CFR 111.12-1(b), IACS UR M3, LR Pt 5 Ch 3 6.2.1)", () => {
    const factors = rulebook.ruleBases.map(({ id, overspeedFactor }) => [id, overspeedFactor]);
    expect(Object.fromEntries(factors)).toEqual({
      "SOLAS and class": 1.15,
      "46 CFR 61.40": 1.15,
      "46 CFR 130.480": 1.15,
      "maker and office": null,
      "local rules": null,
    });
  });
});

/** The sums that a condition asks for, each as its factors by fact and its edge. */
const sumsIn = (condition: Condition): readonly unknown[] => {
  if (condition === true || "is" in condition) return [];
  if ("all" in condition) return condition.all.flatMap(sumsIn);
  if ("any" in condition) return condition.any.flatMap(sumsIn);
  return [JSON.parse(JSON.stringify(condition))];
};

describe("sums in conditions", () => {
  const RATED = "/sets/*/plate/ratedSpeed";
  const ERROR = "/policy/tachometerError";
  const speeds = (kind: string) => [`/sets/*/${kind}/setPoint`, `/sets/*/${kind}/tolerance`, `/sets/*/${kind}/makersMaximum`] as const;
  const sum = (to: number, ...terms: readonly (readonly [number, string])[]) => ({ sum: terms, to });
  const raise = (kind: string, first = kind) => {
    const [setPoint, tolerance] = speeds(kind);
    const [, , maximum] = speeds(first);
    return [
      // The trip speed lies above the rated speed, which is given to a tenth.
      sum(-0.1, [1, RATED], [-1, setPoint]),
      // The window (trade.md §4): one half turn of room, the grid of speeds, is left under the makers' maximum …
      sum(-0.5, [1, setPoint], [1, tolerance], [1, ERROR], [-1, maximum]),
      // … and under 115 % of rated speed, 46 CFR 111.12-1(b) and IACS UR M3.
      sum(-0.5, [1, setPoint], [1, tolerance], [1, ERROR], [-1.15, RATED]),
    ];
  };
  const empty = (kind: string, first = kind) => {
    const [setPoint, tolerance] = speeds(kind);
    const [, , maximum] = speeds(first);
    return [sum(0, [-1, setPoint], [-1, tolerance], [-1, ERROR], [1, maximum])];
  };
  const [DIAMETER, IMMERSION] = ["/sets/*/jacketWaterTemperature/diameter", "/sets/*/jacketWaterTemperature/immersion"] as const;
  const [PICK_UP, MOTORING] = ["/sets/*/reversePower/pickUp", "/sets/*/reversePower/motoringPower"] as const;
  /** Common practice: a sensor is heated true where it dips in ten times its diameter. */
  const dips = [sum(0, [10, DIAMETER], [-1, IMMERSION])];

  test("are those of the trade, and there are no others", () => {
    const asked = methods.map(({ id, requirements }) => [id, requirements.flatMap(({ when }) => sumsIn(when))] as const);
    expect(Object.fromEntries(asked.filter(([, sums]) => sums.length > 0))).toEqual({
      "jw-dry-heated": dips,
      "jw-standstill-sensor": dips,
      "os-raise": raise("overspeed"),
      "to-raise": raise("turbineOverspeed"),
      // The second device has a trip speed of its own under the same makers' maximum.
      "s2-raise": raise("secondOverspeed", "overspeed"),
      "t2-raise": raise("secondTurbineOverspeed", "turbineOverspeed"),
      // The relay acts when motored only if the set takes the pick-up at least (standards.md §4).
      "rp-motoring": [sum(0, [1, PICK_UP], [-1, MOTORING])],
    });
    const dangers = rulebook.protections.map(({ kind, danger }) => [kind, sumsIn(danger)] as const);
    expect(Object.fromEntries(dangers.filter(([, sums]) => sums.length > 0))).toEqual({
      overspeed: empty("overspeed"),
      turbineOverspeed: empty("turbineOverspeed"),
      secondOverspeed: empty("secondOverspeed", "overspeed"),
      secondTurbineOverspeed: empty("secondTurbineOverspeed", "turbineOverspeed"),
      reversePower: [sum(-0.1, [1, MOTORING], [-1, PICK_UP])],
    });
  });
});

describe("what is asked for", () => {
  /** trade.md §5 (i): aboard 0, at the place 1, to be sent 2, a specialist 3, the authority 4. */
  const BURDEN = { reply: 2, local: 1, sent: 2, specialist: 3, authority: 4 } as const;

  test("weighs as the trade has it; what hangs on ship or plant weighs as what must be sent, which is common practice", () => {
    for (const { id, lead, ways } of rulebook.needs) {
      if (ways === undefined) continue;
      // What can be hired at the place has one way, what comes from elsewhere is aboard or not, what is offered is offered.
      const wanted = lead === "local" || lead === "reply" ? [BURDEN[lead]] : [0, BURDEN[lead]];
      expect(
        ways.map(({ burden }) => burden),
        id,
      ).toEqual(wanted);
    }
    expect(new Set(rulebook.needs.flatMap(({ lead, ways }) => (ways === undefined ? [] : [lead])))).toEqual(new Set(Object.keys(BURDEN)));
  });
});

describe("stops and starts", () => {
  /** Those that stop the set once, after which it is started again. All others are done running or at rest: common practice. */
  const ONCE = [
    "st-each",
    "fs-together",
    "lo-bleed",
    "lo-pump",
    "lo-manifold",
    "lo-start-inhibit",
    "lo-maker-threshold",
    "lo-maker-stored",
    "lo-spare",
    "lo-plug",
    "lo-contact",
    "la-manifold",
    "lo-wire-break",
    "lo-supply-off",
    "jw-dry-heated",
    "jw-spare",
    "jw-maker-threshold",
    "jw-maker-stored",
    "jw-thermostat",
    "jw-plug",
    "jw-contact",
    "jw-wet-drained",
    "jw-wire-break",
    "jw-supply-off",
    "os-raise",
    "os-test-mode",
    "os-maker-stored",
    "os-frequency-running",
    "os-lever",
    "s2-raise",
    "s2-function",
    "s2-lever",
    "os-wire-break",
    "os-supply-off",
    "af-own-trip",
    "to-raise",
    "to-hand-trip",
    "t2-raise",
    "t2-function",
    "t2-lever",
    "ep-pump",
    "ep-plug",
    "bt-heated",
    "bt-plug",
    "wt-panel",
    "om-kit",
    "sf-each",
    "cs-each",
    "bo-bleed",
    "bo-pump",
    "ss-real",
    "es-once",
    "fr-switch",
    "lp-real",
    "lp-board",
    "lp-start",
  ];

  test("are one of each where the set is stopped, two for a temporary manifold, three where each start source is tried, none elsewhere", () => {
    // Common practice: three positions or sources of an emergency set.
    // A temporary manifold is fitted at one standstill and taken out at another (their own steps).
    const wanted = (id: string): readonly number[] =>
      id === "es-each" ? [3, 3] : /^l[oa]-manifold$/.test(id) ? [2, 2] : ONCE.includes(id) ? [1, 1] : [0, 0];
    for (const { id, stops, starts } of methods) expect([stops, starts], id).toEqual(wanted(id));
    const ids = methods.map(({ id }) => id);
    expect(ONCE.filter((id) => !ids.includes(id))).toEqual([]);
    // Each stop of the day is one more of the same; each of several sensors is proven (common practice).
    const again = methods.flatMap(({ id, repeats }) => (repeats === undefined ? [] : [[id, repeats] as const]));
    expect(again.filter(([id]) => !/^(lo|jw)-/.test(id))).toEqual([["st-each", "/sets/*/handStop/count"]]);
    const sensors = { lo: "/sets/*/lubeOilPressure/sensors", jw: "/sets/*/jacketWaterTemperature/sensors" };
    for (const kind of ["lo", "jw"] as const) {
      const running = ONCE.filter((id) => id.startsWith(`${kind}-`) && !/-(wire-break|supply-off|start-inhibit)$/.test(id)).sort();
      expect(
        again
          .filter(([id]) => id.startsWith(`${kind}-`))
          .map(([id]) => id)
          .sort(),
      ).toEqual(running);
      for (const [id, at] of again) if (id.startsWith(`${kind}-`)) expect(at, id).toBe(sensors[kind]);
    }
  });
});

test("a combination has at most as many methods as the loop has parts: each must bring one", () => {
  expect(PARTS).toHaveLength(4);
  expect(MOST_METHODS).toBe(4);
});

/**
 * Least and greatest answer and the step of every number that is asked. Poles are whole pairs and a power factor ends at 1 by their
 * definitions; all else is common practice, wide enough for any ship and there to catch a slip of unit or decimal.
 */
const RANGES: readonly (readonly [at: string, from: number, to: number, step: number])[] = [
  ["/policy/tachometerError", 0, 200, 0.5],
  ["/plant/load", 0, 60000, 1],
  ["/plant/largestStarter", 0, 20000, 1],
  ["/plant/noise", 40, 140, 1],
  ["/plant/start/storedStarts", 0, 60, 1],
  ["/plant/start/receiverVolume", 0.01, 100, 0.01],
  ["/plant/start/fullPressure", 1, 60, 0.1],
  ["/plant/start/lowestPressure", 0.5, 60, 0.1],
  ["/plant/start/airPerStart", 0.01, 50, 0.01],
  ["/sets/*/plate/ratedPower", 1, 30000, 0.1],
  ["/sets/*/plate/apparentPower", 1, 40000, 0.1],
  ["/sets/*/plate/powerFactor", 0.1, 1, 0.01],
  ["/sets/*/plate/voltage", 24, 15000, 1],
  ["/sets/*/plate/current", 1, 20000, 0.1],
  ["/sets/*/plate/frequency", 10, 400, 0.1],
  ["/sets/*/plate/poles", 2, 60, 2],
  ["/sets/*/plate/ratedSpeed", 100, 6000, 0.1],
  ["/sets/*/start/storedStarts", 0, 60, 1],
  ["/sets/*/start/secondStarts", 0, 60, 1],
  ["/sets/*/start/receiverVolume", 0.001, 100, 0.001],
  ["/sets/*/start/fullPressure", 1, 400, 0.1],
  ["/sets/*/start/lowestPressure", 0.5, 400, 0.1],
  ["/sets/*/start/airPerStart", 0.01, 50, 0.01],
  ["/sets/*/start/accumulatorVolume", 0.1, 1000, 0.1],
  ["/sets/*/start/precharge", 1, 400, 0.1],
  ["/sets/*/start/oilPerStart", 0.01, 100, 0.01],
  ["/sets/*/start/batteryCapacity", 1, 5000, 1],
  ["/sets/*/start/crankCurrent", 1, 5000, 1],
  ["/sets/*/start/crankSeconds", 0.5, 60, 0.5],
  ["/sets/*/start/fuelTank", 1, 200000, 1],
  ["/sets/*/start/fuelPerHour", 0.1, 5000, 0.1],
  ["/sets/*/handStop/count", 0, 12, 1],
  ["/sets/*/lubeOilPressure/setPoint", 0.05, 20, 0.01],
  ["/sets/*/lubeOilPressure/tolerance", 0, 5, 0.01],
  ["/sets/*/lubeOilPressure/rangeTo", 0.5, 40, 0.1],
  ["/sets/*/lubeOilAlarm/setPoint", 0.05, 20, 0.01],
  ["/sets/*/lubeOilAlarm/tolerance", 0, 5, 0.01],
  ["/sets/*/lubeOilAlarm/rangeTo", 0.5, 40, 0.1],
  ["/sets/*/jacketWaterTemperature/immersion", 5, 1000, 1],
  ["/sets/*/jacketWaterTemperature/diameter", 1, 60, 0.5],
  ["/sets/*/jacketWaterTemperature/setPoint", 40, 150, 0.1],
  ["/sets/*/jacketWaterTemperature/tolerance", 0, 20, 0.1],
  ["/sets/*/jacketWaterTemperature/rangeTo", 50, 400, 1],
  ["/sets/*/jacketWaterTemperature/ohmsAt25", 10, 1000000, 0.1],
  ["/sets/*/jacketWaterTemperature/beta", 1000, 7000, 1],
  ["/sets/*/jacketWaterAlarm/setPoint", 40, 150, 0.1],
  ["/sets/*/jacketWaterAlarm/tolerance", 0, 20, 0.1],
  ["/sets/*/jacketWaterAlarm/rangeTo", 50, 400, 1],
  ["/sets/*/overspeed/setPoint", 100, 8000, 0.5],
  ["/sets/*/overspeed/tolerance", 0, 200, 0.5],
  ["/sets/*/overspeed/makersMaximum", 100, 8000, 0.5],
  ["/sets/*/overspeed/toothCount", 1, 400, 1],
  ["/sets/*/secondOverspeed/setPoint", 100, 8000, 0.5],
  ["/sets/*/secondOverspeed/tolerance", 0, 200, 0.5],
  ["/sets/*/secondOverspeed/toothCount", 1, 400, 1],
  ["/sets/*/airFlap/speed", 100, 6000, 1],
  ["/sets/*/turbineOverspeed/setPoint", 100, 8000, 0.5],
  ["/sets/*/turbineOverspeed/tolerance", 0, 200, 0.5],
  ["/sets/*/turbineOverspeed/makersMaximum", 100, 8000, 0.5],
  ["/sets/*/turbineOverspeed/toothCount", 1, 400, 1],
  ["/sets/*/secondTurbineOverspeed/setPoint", 100, 8000, 0.5],
  ["/sets/*/secondTurbineOverspeed/tolerance", 0, 200, 0.5],
  ["/sets/*/secondTurbineOverspeed/toothCount", 1, 400, 1],
  ["/sets/*/exhaustPressure/setPoint", 0.02, 10, 0.001],
  ["/sets/*/exhaustPressure/tolerance", 0, 2, 0.001],
  ["/sets/*/exhaustPressure/rangeTo", 0.1, 20, 0.01],
  ["/sets/*/standbyOilPump/setPoint", 0.05, 20, 0.01],
  ["/sets/*/bearingTemperature/setPoint", 30, 200, 0.1],
  ["/sets/*/bearingTemperature/tolerance", 0, 20, 0.1],
  ["/sets/*/windingTemperature/setPoint", 60, 220, 0.1],
  ["/sets/*/windingTemperature/tolerance", 0, 20, 0.1],
  ["/sets/*/oilMist/bore", 50, 1200, 1],
  ["/sets/*/reversePower/pickUp", 0.5, 60, 0.1],
  ["/sets/*/reversePower/motoringPower", 0.1, 100, 0.1],
  ["/sets/*/reversePower/delay", 0, 60, 0.1],
  ["/sets/*/overcurrent/pickUp", 10, 400, 0.1],
  ["/sets/*/bearingOilPressure/setPoint", 0.05, 20, 0.01],
  ["/sets/*/bearingOilPressure/tolerance", 0, 5, 0.01],
  ["/sets/*/shaftTrips/ratio", 0.5, 60, 0.0001],
  ["/sets/*/shaftTrips/shaftSpeed", 10, 2000, 0.1],
];

describe("numbers that are asked", () => {
  const numbers = rulebook.facts.flatMap(({ at, domain }) => (domain.kind === "number" ? [[at, domain.from, domain.to, domain.step]] : []));

  test.each(RANGES)("%s from %d to %d by %d", (at, ...range) => {
    expect(numbers.find(([pointer]) => pointer === at)).toEqual([at, ...range]);
  });

  test("are all of these", () => {
    expect(numbers.map(([at]) => at)).toEqual(RANGES.map(([at]) => at));
  });
});
