import { describe, expect, test } from "vitest";
import { policySchema } from "../../lib/model/policy.ts";
import type { Visit } from "../../lib/model/visit.ts";
import { effortOf } from "../../lib/plan/effort.ts";
import { figuresOf } from "../../lib/plan/figures/index.ts";
import { rounded } from "../../lib/plan/figures/input.ts";
import type { PlanFigure } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";

/**
 * The figures as the plan writes them, with the numbers that only the plan adds: the published fraction and spread of the test mode,
 * the supply, junction and air pressure that are taken, and how far a figure is rounded. Sources are named beside the values;
 * "standards.md" is the collection of published facts, "reference-values" that of check values. Rounding is common practice.
 */
type Answers = Readonly<Record<string, string | number>>;

const visitWith = (vessel: object = {}, place: object = {}): Visit =>
  ({ visit: { vessel, place }, policy: policySchema.parse({}), sets: [] }) as unknown as Visit;

const figures = (kind: string, answers: Answers, ruleBasis: string | null = null, visit = visitWith()): readonly PlanFigure[] => {
  return figuresOf(
    kind,
    {
      answer: (template) => answers[template.replace("/sets/*/", "")],
      answers: new Map(
        Object.entries(answers).flatMap(([at, value]) => [
          [at, value],
          [at.startsWith("/") ? at : `/sets/0/${at}`, value],
        ]),
      ),
      set: 0,
      visit,
      mayUse: () => true,
      ruleBasis: rulebook.ruleBases.find(({ id }) => id === ruleBasis) ?? null,
    },
    () => true,
  );
};
const named = (of: readonly PlanFigure[], name: string): PlanFigure | undefined => of.find((figure) => figure.name.startsWith(name));

const US = "46 CFR 61.40";
const SOLAS = "SOLAS and class";

describe("overspeed", () => {
  const plate = { "plate/ratedSpeed": 1800, "overspeed/tolerance": 20 };

  // TM 5-2815-232-14: no stop 25 rpm under 75 % of the set point, stop 25 rpm above it; set at 2070 rpm (standards.md §9, case 9).
  test("the test mode holds at 1527.5 rpm, is at 1552.5 rpm and trips at 1577.5 rpm", () => {
    const mode = named(figures("overspeed", { ...plate, "overspeed/setPoint": 2070 }), "test mode at 75 %");
    expect(mode).toMatchObject({ value: 1552.5, unit: "rpm", note: expect.stringContaining("holds at 1527.5 rpm, trips at 1577.5 rpm") });
  });

  // The maker's example of the same, 118 % of 1800 rpm: 2125 × 0.75 = 1593.75, ± 25 (case 10), to a tenth.
  test("the test mode is written to a tenth of a turn", () => {
    const mode = named(figures("overspeed", { ...plate, "overspeed/setPoint": 2125 }), "test mode at 75 %");
    expect(mode).toMatchObject({ value: 1593.8, note: expect.stringContaining("holds at 1568.8 rpm, trips at 1618.8 rpm") });
  });

  // 46 CFR 111.12-1(b), IACS UR M3: 2070 rpm on 1800 (case 2), 1035 rpm on 900 (case 1).
  test.each([US, SOLAS, "46 CFR 130.480"])("under %s the highest trip speed is 115 %% of rated, and ends the abort window", (ruleBasis) => {
    const of = figures("overspeed", { ...plate, "overspeed/setPoint": 1980 }, ruleBasis);
    expect(named(of, "highest permitted trip speed")?.value).toBe(2070);
    // 1980 + 20 + 5, the office's largest error of the tachometer.
    expect(named(of, "abort window")?.value).toBe("2005 to 2070");
    const small = figures("overspeed", { "plate/ratedSpeed": 900 }, ruleBasis);
    expect(named(small, "highest permitted trip speed")?.value).toBe(1035);
  });

  test("limit and window are written to a tenth of a turn", () => {
    const odd = { "plate/ratedSpeed": 514.3, "overspeed/setPoint": 560.25, "overspeed/tolerance": 1, "overspeed/makersMaximum": 600 };
    const of = figures("overspeed", odd, US);
    // 514.3 × 1.15 = 591.445; 560.25 + 1 + 5.
    expect(named(of, "highest permitted trip speed")?.value).toBe(591.4);
    expect(named(of, "abort window")?.value).toBe("566.3 to 591.4");
    expect(named(figures("overspeed", { ...odd, "overspeed/makersMaximum": 590.27 }, US), "abort window")?.value).toBe("566.3 to 590.3");
  });

  // f = teeth × rpm / 60 (trade.md §4): 118 teeth at 2070 rpm give 4071 Hz; ± 20 rpm are ± 39.33 Hz.
  test("the pick-up frequency is written to a tenth of a hertz, with the tolerance's half width", () => {
    const of = figures("overspeed", { ...plate, "overspeed/setPoint": 2070, "overspeed/toothCount": 118 });
    expect(named(of, "pick-up frequency")).toMatchObject({ value: 4071, tolerance: 39.3, unit: "Hz" });
    const odd = figures("overspeed", { ...plate, "overspeed/setPoint": 2071, "overspeed/toothCount": 118 });
    expect(named(odd, "pick-up frequency")?.value).toBe(4073);
    expect(named(figures("overspeed", { "overspeed/setPoint": 1001, "overspeed/toothCount": 7 }), "pick-up")?.value).toBe(116.8);
  });
});

describe("signals", () => {
  const oil = (element: string, setPoint: number, upper: number, tolerance = 0.2): PlanFigure | undefined =>
    named(
      figures("lubeOilPressure", {
        "lubeOilPressure/element": element,
        "lubeOilPressure/setPoint": setPoint,
        "lubeOilPressure/tolerance": tolerance,
        "lubeOilPressure/rangeTo": upper,
      }),
      "signal to feed in",
    );
  const water = (more: Answers): readonly PlanFigure[] =>
    figures(
      "jacketWaterTemperature",
      Object.fromEntries(Object.entries(more).map(([name, value]) => [`jacketWaterTemperature/${name}`, value])),
    );

  // 40 % of a range is 10.4 mA (instrumentationtools.com; reference-values §4).
  test("a loop current is written to a hundredth of a milliampere", () => {
    expect(oil("4-20 mA transmitter", 4, 10)).toMatchObject({ value: 10.4, tolerance: 0.32, unit: "mA" });
    // 4 + 16 × 1.9 / 7 = 8.3429; 16 × 0.2 / 7 = 0.4571.
    expect(oil("4-20 mA transmitter", 1.9, 7)).toMatchObject({ value: 8.34, tolerance: 0.46 });
  });

  // 5 V supply, 0 to 10 bar: 2.5 V at 5 bar (onlinesensors.co.uk; reference-values §4).
  test("a ratiometric voltage is that of a supply of 5 V, to a millivolt", () => {
    expect(oil("0.5-4.5 V transducer", 5, 10)).toMatchObject({ value: 2.5, tolerance: 0.08, unit: "V" });
    expect(oil("0.5-4.5 V transducer", 10, 10, 0)).toMatchObject({ value: 4.5, tolerance: 0 });
    // 5 (0.1 + 0.8 × 1.9 / 7) = 1.5857; 4 × 0.2 / 7 = 0.1143.
    expect(oil("0.5-4.5 V transducer", 1.9, 7)).toMatchObject({ value: 1.586, tolerance: 0.114 });
  });

  // IEC 60751: 138.51 Ω at 100 °C (reference-values §1); class B ± (0.3 + 0.005 × 100) = 0.8 °C.
  test("a platinum element has its tabulated resistance to a hundredth of an ohm, its class beside it", () => {
    const [signal] = water({ element: "Pt100", setPoint: 100, tolerance: 2 }).filter(({ name }) => name.startsWith("signal"));
    // 0.37928 Ω/°C at 100 °C, for 2 °C.
    expect(signal).toMatchObject({ value: 138.51, tolerance: 0.76, unit: "Ω", note: expect.stringContaining("off by 0.8 °C") });
    // Pt1000 at 70 °C: 1270.751 Ω (reference-values §1).
    expect(named(water({ element: "Pt1000", setPoint: 70 }), "signal")?.value).toBe(1270.75);
    expect(named(water({ element: "Pt100", setPoint: 95.5 }), "signal")?.note).toContain("off by 0.78 °C");
  });

  // ITS-90: type K 4.096 mV at 100 °C and 1.000 mV at 25 °C, type J 5.269 and 1.277 mV (reference-values §2).
  test("a thermocouple's voltage is that over terminals at 25 °C, to a microvolt", () => {
    expect(named(water({ element: "thermocouple K", setPoint: 100, tolerance: 2 }), "signal")).toMatchObject({ value: 3.096, unit: "mV" });
    expect(named(water({ element: "thermocouple J", setPoint: 100 }), "signal")?.value).toBeCloseTo(5.269 - 1.277, 3);
    // 0.04137 mV/°C at 100 °C (reference-values §2), for 2 °C.
    expect(named(water({ element: "thermocouple K", setPoint: 100, tolerance: 2 }), "signal")?.tolerance).toBe(0.083);
  });

  // Beta 3950, 10 kΩ at 25 °C: 805.4 Ω at 95 °C (reference-values §3).
  test("a thermistor's resistance is written to a tenth of an ohm", () => {
    const ntc = { element: "NTC", ohmsAt25: 10000, beta: 3950 };
    expect(named(water({ ...ntc, setPoint: 95 }), "signal")).toMatchObject({ value: 805.4, unit: "Ω" });
    expect(named(water({ ...ntc, setPoint: 100 }), "signal")?.value).toBe(697.5);
  });

  // Water boils at 99.606 °C at 1000 hPa, at 99.974 °C at 1013.25 hPa (IAPWS-IF97; reference-values §5).
  test("the heat source is judged at 1000 hPa where no air pressure was given", () => {
    expect(named(water({ setPoint: 90 }), "heat source")?.note).toContain("boils at 99.6 °C at 1000 hPa, taken since");
    const heat = (place: object, setPoint: number) =>
      named(figures("jacketWaterTemperature", { "jacketWaterTemperature/setPoint": setPoint }, null, visitWith({}, place)), "heat source");
    expect(heat({ airPressure: 1013.25 }, 90)?.note).toContain("boils at 100 °C at 1013.25 hPa");
    // The margin of 3 K is common practice: 99.606 − 3 = 96.606 °C.
    expect(heat({}, 96.6)?.value).toContain("open water bath would do");
    expect(heat({}, 96.7)?.value).toContain("dry block or closed stirred bath only");
  });
});

describe("switchboard", () => {
  const reverse = (answers: Answers): readonly PlanFigure[] => figures("reversePower", answers);

  // standards.md §3.2 and §9, cases 4 to 6.
  test("the band is 8 to 15 % of a diesel, 2 to 6 % of a turbine, after 3 to 10 s", () => {
    const diesel = named(reverse({ primeMover: "diesel", "plate/ratedPower": 1250 }), "usual band");
    expect(diesel).toMatchObject({ value: "8 to 15", unit: "%", note: "100 to 187.5 kW, after 3 to 10 s" });
    const turbine = named(reverse({ primeMover: "steam turbine", "plate/ratedPower": 1000 }), "usual band");
    expect(turbine).toMatchObject({ value: "2 to 6", note: "20 to 60 kW, after 3 to 10 s" });
    // 8 and 15 % of 738.4 kW are 59.072 and 110.76 kW.
    expect(named(reverse({ primeMover: "diesel", "plate/ratedPower": 738.4 }), "usual band")?.note).toContain("59.1 to 110.8 kW");
  });

  // Case 8: 8 % of 1250 kW are 100 kW, 25 % are 312.5 kW.
  test("shares of rated power are written in kW too, to a tenth", () => {
    const answers = { primeMover: "diesel", "reversePower/pickUp": 8, "reversePower/motoringPower": 25, "reversePower/delay": 5 };
    const of = reverse({ ...answers, "plate/ratedPower": 1250 });
    expect(named(of, "pick-up")).toMatchObject({ value: 8, note: "100 kW, after 5 s" });
    expect(named(of, "power taken when motored")).toMatchObject({ value: 25, note: "312.5 kW" });
    expect(named(reverse({ ...answers, "plate/ratedPower": 738.4 }), "pick-up")?.note).toBe("59.1 kW, after 5 s");
  });

  // standards.md §4: a diesel takes 5 to 25 % when motored, a condensing steam turbine 1 to 3 %.
  test("the typical motoring power is the published one", () => {
    expect(named(reverse({ primeMover: "diesel" }), "typical motoring power")?.value).toBe("5 to 25");
    expect(named(reverse({ primeMover: "steam turbine" }), "typical motoring power")?.value).toBe("1 to 3");
  });

  // (load + motoring power + largest self-starting consumer) / rating of the others (trade.md §7); 85 % is the office's, common practice.
  test("the load on the others counts load, motoring power and the largest consumer, in whole percent", () => {
    const two = { ...visitWith(), sets: [{ role: "ship service" }, { role: "ship service" }] } as unknown as Visit;
    const load = (kilowatts: number, starter: number) => {
      const other = { "/sets/1/role": "ship service", "/sets/1/plate/ratedPower": 200 };
      const plant = { "/plant/load": kilowatts, "/plant/largestStarter": starter, ...other };
      const set = { "plate/ratedPower": 1250, "reversePower/motoringPower": 12 };
      return named(figures("reversePower", { ...plant, ...set }, null, two), "load on the others");
    };
    // 12 % of 1250 kW are 150 kW.
    expect(load(20, 0)).toMatchObject({ value: 85, unit: "%", note: expect.stringContaining("within the office's 85 %") });
    expect(load(20, 20)).toMatchObject({ value: 95, note: expect.stringContaining("above the office's 85 %") });
    expect(load(21.1, 0)?.value).toBe(86);
  });

  // 46 CFR 111.12-11(d): 115 % of 2004.7 A are 2305.4 A (case 11).
  test("the highest long-time pick-up is 115 % of rated current, to a tenth of an ampere", () => {
    expect(named(figures("overcurrent", { "plate/current": 2004.7 }), "highest long-time")).toMatchObject({ value: 2305.4, unit: "A" });
    expect(named(figures("overcurrent", { "plate/current": 888.3 }), "highest long-time")?.value).toBe(1021.5);
  });

  // f = shaft × ratio × poles / 120: 95 rpm by 17.142857 and 4 poles give 54.286 Hz (reference-values §7 and §9).
  test("a shaft generator's frequency is written to a hundredth of a hertz, its speeds to a tenth of a turn", () => {
    const shaft = (speed: number, ratio: number) =>
      figures("shaftTrips", { "shaftTrips/ratio": ratio, "shaftTrips/shaftSpeed": speed, "plate/poles": 4, "plate/frequency": 60 });
    expect(named(shaft(95, 17.142857), "frequency at that shaft speed")).toMatchObject({ value: 54.29, unit: "Hz" });
    expect(named(shaft(105, 17.142857), "frequency at that shaft speed")?.value).toBe(60);
    // 500 rpm by 3.6 are 1800 rpm, 60 Hz (standards.md §9, case 23); ± 5 % lasting is IACS UR E5 from memory (case 24).
    expect(named(shaft(500, 3.6), "shaft speeds for ± 5 %")?.value).toBe("475 to 525");
    // 1800 / 3.7 = 486.486 rpm.
    expect(named(shaft(500, 3.7), "shaft speeds for ± 5 %")?.value).toBe("462.2 to 510.8");
  });
});

describe("emergency power", () => {
  const loss = (answers: Answers, ruleBasis: string, vessel: object = {}) => figures("lossOfPower", answers, ruleBasis, visitWith(vessel));

  // 46 CFR 112.25-5, 112.25-10: 450 V, start from 382.5 down to 270 V, transfer at 382.5 to 427.5 V (standards.md §9, case 13).
  test("starting and transfer voltages are written to a tenth of a volt", () => {
    const starts = named(loss({ "plate/voltage": 450 }, US), "starts when the normal voltage");
    expect(starts).toMatchObject({ value: "270 to 382.5", unit: "V", note: "loads transfer at 382.5 to 427.5 V" });
    // 440.5 V: 264.3, 374.425 and 418.475 V.
    const odd = named(loss({ "plate/voltage": 440.5 }, US), "starts when the normal voltage");
    expect(odd).toMatchObject({ value: "264.3 to 374.4", note: "loads transfer at 374.4 to 418.5 V" });
    // 60 % of 440.1 V are 264.06 V.
    expect(named(loss({ "plate/voltage": 440.1 }, US), "starts when the normal voltage")?.value).toMatch(/^264\.1 to /);
  });

  // 46 CFR 112.25-10(a) and SOLAS II-1/42, 43 (standards.md §1.2, §2).
  test.each([US, SOLAS])("power is there within 45 s under %s", (ruleBasis) => {
    expect(named(loss({}, ruleBasis), "emergency power within")).toMatchObject({ value: 45, unit: "s" });
  });

  // Table 112.05-5(a), SOLAS II-1/42, 43 (case 20).
  test.each([US, SOLAS])("it lasts 18 h on a cargo ship and 36 h on a passenger ship under %s", (ruleBasis) => {
    const hours = (kind: string) => named(loss({}, ruleBasis, { kind, grossTonnage: 20000 }), "emergency power must last")?.value;
    expect([hours("cargo"), hours("passenger")]).toEqual([18, 36]);
  });

  test("how long the fuel lasts is written to a tenth of an hour", () => {
    expect(named(loss({ "start/fuelTank": 900, "start/fuelPerHour": 50 }, US), "fuel lasts")).toMatchObject({ value: 18, unit: "h" });
    expect(named(loss({ "start/fuelTank": 1000, "start/fuelPerHour": 34 }, US), "fuel lasts")?.value).toBe(29.4);
  });
});

describe("starting stores", () => {
  const first = (answers: Answers) =>
    named(
      figures("emergencyStart", Object.fromEntries(Object.entries(answers).map(([name, value]) => [`start/${name}`, value]))),
      "starts in the first source",
    );

  // Six cranks of 10 s at 900 A take 15 Ah (reference-values §6(b)): 50 Ah, 60 % in the cold, half left, which is common practice.
  test("a battery's starts are counted with the office's shares, which are said in percent", () => {
    const battery = { starter: "electric", batteryCapacity: 50, crankCurrent: 900, crankSeconds: 10 };
    expect(first(battery)).toMatchObject({
      value: 6,
      note: expect.stringContaining("50 Ah, 900 A for 10 s, 50 % left at the end, 60 % in the cold"),
    });
    expect(first({ ...battery, batteryCapacity: 49 })?.value).toBe(5);
  });

  // 5 m³ from 30 to 18 bar at 4 m³ a start hold 14 whole ones at 1.01325 bar (reference-values §6(a)).
  test("a receiver's starts are those of free air at 1.01325 bar", () => {
    const air = { starter: "pneumatic", receiverVolume: 5, fullPressure: 30, lowestPressure: 18, airPerStart: 4 };
    expect(first(air)).toMatchObject({ value: 14, note: expect.stringContaining("at 1.01325 bar") });
  });
});

test("rounding is decimal", () => {
  expect([rounded(1593.75, 1), rounded(8.342857, 2), rounded(3.0959, 3), rounded(299.6, 0)]).toEqual([1593.8, 8.34, 3.096, 300]);
});

test("a method that is done once more for each of what is counted takes that much more", () => {
  const [stops] = rulebook.protections.flatMap(({ methods }) => methods).filter(({ id }) => id === "st-each");
  if (stops === undefined) throw new Error("no st-each");
  // The hand stop and three emergency stops, five minutes each (trade.md §5).
  expect(effortOf(stops, () => 3)).toEqual({ minutes: 20, stops: 4, starts: 4 });
  expect(effortOf(stops, () => undefined)).toEqual({ minutes: 5, stops: 1, starts: 1 });
});
