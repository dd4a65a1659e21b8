import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import type { FactSpec } from "../../lib/model/fact.ts";
import { placesIn } from "../../lib/model/places.ts";
import { readVisit } from "../../lib/model/read.ts";
import { unlikely, usualOf, usualRanges } from "../../lib/model/usual.ts";
import { inUnit } from "../../lib/model/visit.ts";
import { knownOf } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { ROOT } from "../cli/cli.ts";

/** Number facts without a usual range, each with its reason. None today: whoever adds one says here why nothing is unusual. */
const WITHOUT: readonly (readonly [at: string, why: string])[] = [];

const specs: ReadonlyMap<string, FactSpec> = new Map(rulebook.facts.map((spec) => [spec.at, spec]));
const specOf = (at: string): FactSpec => {
  const spec = specs.get(at);
  if (spec === undefined) throw new Error(`no fact ${at}`);
  return spec;
};

describe("the table", () => {
  test.each(usualRanges)("$at: a number fact, within its domain and narrower", ({ at, from, to, cite }) => {
    const { domain } = specOf(at);
    if (domain.kind !== "number") throw new Error(`${at} is no number`);
    expect(from).toBeGreaterThanOrEqual(domain.from);
    expect(to).toBeLessThanOrEqual(domain.to);
    expect(from).toBeLessThan(to);
    expect(to - from).toBeLessThan(domain.to - domain.from);
    expect(cite).not.toBe("");
  });

  test("no template stands twice", () => {
    expect(new Set(usualRanges.map(({ at }) => at)).size).toBe(usualRanges.length);
  });

  test("every number fact has a range, or a reason for having none", () => {
    const numbers = rulebook.facts.filter(({ domain }) => domain.kind === "number").map(({ at }) => at);
    expect(numbers.length).toBeGreaterThan(60);
    expect([...usualRanges.map(({ at }) => at), ...WITHOUT.map(([at]) => at)].sort()).toEqual([...numbers].sort());
    expect(WITHOUT.filter(([, why]) => why === "")).toEqual([]);
  });

  test("only what was read in a named text says so", () => {
    expect(usualRanges.filter(({ mark }) => mark === "read").map(({ at, from, to }) => [at, from, to])).toEqual([
      // standards.md §4: condensing turbines 1 to 3 %, gas turbines 50 %.
      ["/sets/*/reversePower/motoringPower", 1, 50],
      // standards.md §3.2: relay of a vessel's plant, adjustable 0.5 to 20 s.
      ["/sets/*/reversePower/delay", 0.5, 20],
    ]);
  });
});

describe("what was answered in good faith is not doubted", () => {
  const files = ["fixtures/visits", "tests/rooms"].flatMap((folder) =>
    readdirSync(join(ROOT, folder))
      .filter((name) => name.endsWith(".json"))
      .map((name) => join(folder, name)),
  );

  test("there are ten demo visits and ten engine rooms", () => {
    expect(files.length).toBe(20);
  });

  test.each(files)("%s", (file) => {
    const read = readVisit(JSON.parse(readFileSync(join(ROOT, file), "utf8")), rulebook.facts, knownOf(rulebook));
    if (!read.ok) throw new Error(`${file} is not good`);
    const { answers, sets } = read.value;
    const numbers = placesIn(rulebook.facts, sets).flatMap(({ spec, at }) => {
      const value = answers.get(at);
      return typeof value === "number" ? [{ spec, at, value }] : [];
    });
    expect(numbers.filter(({ spec, value }) => unlikely(spec, value) !== undefined)).toEqual([]);
    // "almost-nothing-known" has few; an empty list would prove nothing.
    expect(numbers.length).toBeGreaterThan(0);
  });

  const fair: readonly (readonly [what: string, at: string, given: number | { readonly value: number; readonly unit: string }])[] = [
    ["rated power of a 30 kW set", "/sets/*/plate/ratedPower", 30],
    ["its current at 400 V", "/sets/*/plate/current", 54.1],
    ["its speed at 60 Hz, two poles", "/sets/*/plate/ratedSpeed", 3600],
    ["its overspeed trip at 115 %", "/sets/*/overspeed/setPoint", 4140],
    ["its battery", "/sets/*/start/batteryCapacity", 70],
    ["its bore", "/sets/*/oilMist/bore", 76],
    ["its low oil pressure, 15 psi", "/sets/*/lubeOilPressure/setPoint", { value: 15, unit: "psi" }],
    ["tolerance of 3 psi on it", "/sets/*/lubeOilPressure/tolerance", { value: 3, unit: "psi" }],
    ["its high water temperature, 225 °F", "/sets/*/jacketWaterTemperature/setPoint", { value: 225, unit: "°F" }],
    ["tolerance of 5 °F on it", "/sets/*/jacketWaterTemperature/tolerance", { value: 5, unit: "°F" }],
    ["rated power of a 15 MW set", "/sets/*/plate/ratedPower", 15000],
    ["its apparent power at 0.8", "/sets/*/plate/apparentPower", 18750],
    ["its voltage", "/sets/*/plate/voltage", 13800],
    ["its speed", "/sets/*/plate/ratedSpeed", 500],
    ["its overspeed trip at 115 %", "/sets/*/overspeed/setPoint", 575],
    ["its bore", "/sets/*/oilMist/bore", 510],
    ["its starting air", "/sets/*/start/airPerStart", 6],
    ["its low oil pressure", "/sets/*/lubeOilPressure/setPoint", 2.8],
    ["current of 6 MVA at 690 V", "/sets/*/plate/current", 5020],
    ["no starts of its own where the store is in common", "/sets/*/start/storedStarts", 0],
    ["no second source", "/sets/*/start/secondStarts", 0],
    ["hydraulic store of 3250 psi", "/sets/*/start/fullPressure", { value: 3250, unit: "psi" }],
    ["its lowest pressure of 1500 psi", "/sets/*/start/lowestPressure", { value: 1500, unit: "psi" }],
    ["receivers of 150 psi for air motors", "/plant/start/fullPressure", { value: 150, unit: "psi" }],
    ["condensing turbine, motored", "/sets/*/reversePower/motoringPower", 1],
    ["turbine's shaft at 6000 rpm, trip at 115 %", "/sets/*/turbineOverspeed/setPoint", 6900],
    ["two-stroke engine at 105 rpm under a step-up gear", "/sets/*/shaftTrips/shaftSpeed", 105],
    ["its step-up ratio", "/sets/*/shaftTrips/ratio", 17.1429],
  ];
  test.each(fair)("%s (%s)", (_, at, given) => {
    const answer = inUnit(specOf(at), given);
    if (!("value" in answer)) throw new Error(answer.wanted);
    expect(unlikely(specOf(at), answer.value)).toBeUndefined();
  });
});

describe("slips are asked about once more", () => {
  const slips: readonly (readonly [what: string, at: string, value: number])[] = [
    ["22 psi typed as bar", "/sets/*/lubeOilPressure/setPoint", 22],
    ["15 psi typed as bar", "/sets/*/lubeOilPressure/setPoint", 15],
    ["6 psi typed as bar", "/sets/*/lubeOilPressure/setPoint", 6],
    ["0.25 MPa typed as bar", "/sets/*/lubeOilPressure/setPoint", 0.25],
    ["2.8 bar with its point lost", "/sets/*/lubeOilPressure/setPoint", 28],
    ["3 psi of tolerance typed as bar", "/sets/*/lubeOilPressure/tolerance", 3],
    ["a tolerance of none", "/sets/*/lubeOilPressure/tolerance", 0],
    ["1 MPa of sensor range typed as bar", "/sets/*/lubeOilPressure/rangeTo", 1],
    ["24 psi typed as bar", "/sets/*/lubeOilAlarm/setPoint", 24],
    ["8 psi typed as bar", "/sets/*/bearingOilPressure/setPoint", 8],
    ["12 psi typed as bar", "/sets/*/standbyOilPump/setPoint", 12],
    ["7 psi absolute typed as bar", "/sets/*/exhaustPressure/setPoint", 7],
    ["208 °F typed as °C", "/sets/*/jacketWaterTemperature/setPoint", 208],
    ["140 °F typed as °C", "/sets/*/jacketWaterTemperature/setPoint", 140],
    ["cold for a high-temperature stop", "/sets/*/jacketWaterTemperature/setPoint", 45],
    ["198 °F typed as °C", "/sets/*/jacketWaterAlarm/setPoint", 198],
    ["10 °F of tolerance typed as °C", "/sets/*/jacketWaterTemperature/tolerance", 10],
    ["400 °F of range typed as °C", "/sets/*/jacketWaterTemperature/rangeTo", 400],
    ["10 kΩ typed as Ω", "/sets/*/jacketWaterTemperature/ohmsAt25", 10],
    ["6 inches typed as mm", "/sets/*/jacketWaterTemperature/immersion", 6],
    ["194 °F typed as °C", "/sets/*/bearingTemperature/setPoint", 194],
    ["311 °F typed as °C", "/sets/*/windingTemperature/setPoint", 311],
    ["18000 for 1800", "/sets/*/plate/ratedSpeed", 18000],
    ["180 for 1800", "/sets/*/plate/ratedSpeed", 180],
    ["5140 for 514", "/sets/*/plate/ratedSpeed", 5140],
    ["207 for 2070", "/sets/*/overspeed/setPoint", 207],
    ["115 % typed as rpm", "/sets/*/overspeed/setPoint", 115],
    ["120 % typed as rpm", "/sets/*/overspeed/makersMaximum", 120],
    ["1 % of tolerance typed as rpm", "/sets/*/overspeed/tolerance", 1],
    ["198 for 1980", "/sets/*/turbineOverspeed/setPoint", 198],
    ["12 for 120 teeth", "/sets/*/overspeed/toothCount", 12],
    ["2.5 MW typed as kW", "/sets/*/plate/ratedPower", 2.5],
    ["35 kW typed as W", "/sets/*/plate/ratedPower", 35000],
    ["80 for 0.8", "/sets/*/plate/powerFactor", 80],
    ["0.08 for 0.8", "/sets/*/plate/powerFactor", 0.08],
    ["0.44 kV as V", "/sets/*/plate/voltage", 0.44],
    ["44 for 440", "/sets/*/plate/voltage", 44],
    ["1.54 kA typed as A", "/sets/*/plate/current", 1.54],
    ["rpm of 1800 over 60, as Hz", "/sets/*/plate/frequency", 30],
    ["600 for 60.0", "/sets/*/plate/frequency", 600],
    ["1.5 MW typed as kW", "/plant/load", 1.5],
    ["3 MPa typed as bar", "/plant/start/fullPressure", 3],
    ["150 psi typed as bar", "/plant/start/fullPressure", 150],
    ["1.2 MPa typed as bar", "/plant/start/lowestPressure", 1.2],
    ["500 litres typed as m³", "/plant/start/receiverVolume", 500],
    ["125 litres typed as m³", "/sets/*/start/receiverVolume", 125],
    ["20.7 MPa typed as 2.07 bar", "/sets/*/start/fullPressure", 2.07],
    ["11 MPa typed as bar", "/sets/*/start/precharge", 11],
    ["18 for 180 Ah", "/sets/*/start/batteryCapacity", 18],
    ["65 for 650 A", "/sets/*/start/crankCurrent", 65],
    ["60 s of cranking", "/sets/*/start/crankSeconds", 60],
    ["2.6 m³ typed as litres", "/sets/*/start/fuelTank", 2.6],
    ["32 cm typed as mm", "/sets/*/oilMist/bore", 32],
    ["a quiet engine room", "/plant/noise", 60],
    ["0.08 for 8 %", "/sets/*/reversePower/pickUp", 0.08],
    ["80 for 8 %", "/sets/*/reversePower/pickUp", 80],
    ["0.12 for 12 %", "/sets/*/reversePower/motoringPower", 0.12],
    ["0.1 s", "/sets/*/reversePower/delay", 0.1],
    ["30 s", "/sets/*/reversePower/delay", 30],
    ["11.5 for 115 %", "/sets/*/overcurrent/pickUp", 11.5],
    ["ratio the wrong way round", "/sets/*/shaftTrips/ratio", 0.5],
  ];
  test.each(slips)("%s (%s)", (_, at, value) => {
    expect(unlikely(specOf(at), value)).toBe(usualOf(at));
    expect(usualOf(at)).toBeDefined();
  });
});

describe("the functions", () => {
  test.each(usualRanges)("$at: both ends belong to the range, what is beyond them does not", ({ at, from, to }) => {
    const spec = specOf(at);
    expect(unlikely(spec, from)).toBeUndefined();
    expect(unlikely(spec, to)).toBeUndefined();
    expect(unlikely(spec, from - 0.001)?.at).toBe(at);
    expect(unlikely(spec, to + 0.001)?.at).toBe(at);
  });

  test("what is no number at all is asked about too", () => {
    expect(unlikely(specOf("/plant/load"), Number.NaN)?.at).toBe("/plant/load");
  });

  test("a choice has no usual range, nor has a place that is no template", () => {
    expect(usualOf("/sets/*/primeMover")).toBeUndefined();
    expect(unlikely(specOf("/sets/*/primeMover"), 7)).toBeUndefined();
    expect(usualOf("/sets/0/plate/ratedPower")).toBeUndefined();
  });
});

test("trip speeds fit the rated speeds they belong to", () => {
  const rated = usualOf("/sets/*/plate/ratedSpeed");
  const trip = usualOf("/sets/*/overspeed/setPoint");
  const highest = usualOf("/sets/*/overspeed/makersMaximum");
  if (rated === undefined || trip === undefined || highest === undefined) throw new Error("no range");
  // 115 % of every usual rated speed is a usual trip, and the trip never lies over what the makers usually allow.
  expect(trip.from).toBeLessThanOrEqual(1.15 * rated.from);
  expect(trip.to).toBeGreaterThanOrEqual(1.15 * rated.to);
  expect(highest.to).toBeGreaterThanOrEqual(trip.to);
});
