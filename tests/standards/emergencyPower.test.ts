import { describe, expect, it } from "vitest";
import type { Cited, Limit } from "../../lib/figures/cited.ts";
import {
  changeoverVoltages,
  EMERGENCY_LIMITS,
  type EmergencyShip,
  emergencyHours,
  fuelHours,
  judgeChangeover,
  judgeStandby,
  monthlyRunSufficient,
  PRIME_MOVER_BASIS,
  primeMoverAllowed,
  type StoredStarts,
  startsSufficient,
} from "../../lib/figures/emergencyPower.ts";
import { HEARING_PROTECTION_ABOVE, noiseBasis } from "../../lib/figures/exposure.ts";
import { SHARING_LIMITS } from "../../lib/figures/loadLeft.ts";
import { OVERCURRENT_LIMITS } from "../../lib/figures/overcurrent.ts";
import { REVERSE_POWER_PERCENT, REVERSE_POWER_SECONDS, typicalMotoring } from "../../lib/figures/reversePower.ts";
import { FREQUENCY_BAND } from "../../lib/figures/shaftGenerator.ts";
import { type Basis, basisSchema } from "../../lib/rulebook/basis.ts";
import { faultsOf, within } from "./check.ts";

describe("hours of emergency supply", () => {
  const hours = (ship: EmergencyShip): number | string => {
    const result = emergencyHours(ship);
    return result.ok ? result.value.hours : faultsOf(result);
  };
  const cfr = (kind: EmergencyShip["kind"], voyage: EmergencyShip["voyage"], grossTonnage?: number, runHours?: number) =>
    hours({ rules: "46 CFR", kind, voyage, grossTonnage, runHours });
  const solas = (kind: EmergencyShip["kind"], grossTonnage?: number) => hours({ rules: "SOLAS", kind, voyage: "open", grossTonnage });

  it("case 20: a cargo ship of 20 000 GT 18 h, a passenger ship 36 h, steering gear 30 min (46 CFR Table 112.05-5(a), SOLAS II-1/42, 43)", () => {
    expect([cfr("cargo", "open", 20_000), cfr("passenger", "open")]).toEqual([18, 36]);
    expect([solas("cargo", 20_000), solas("passenger")]).toEqual([18, 36]);
    expect(EMERGENCY_LIMITS.steeringGearMinutes.value).toBe(30);
  });

  it("follows the tonnage of the table's rows (46 CFR Table 112.05-5(a))", () => {
    expect([cfr("cargo", "open", 500), cfr("cargo", "inland", 1600)]).toEqual([18, 18]);
    expect([cfr("cargo", "open", 499, 24), cfr("cargo", "open", 499, 2.5)]).toEqual([6, 5]);
    expect([cfr("cargo", "inland", 1599, 24), cfr("cargo", "inland", 300, 3), cfr("cargo", "inland", 300, 2)]).toEqual([6, 6, 4]);
    expect([cfr("passenger", "inland", undefined, 24), cfr("passenger", "inland", 90, 4), cfr("passenger", "inland", 90, 1)]).toEqual([
      8, 8, 2,
    ]);
    expect(cfr("cargo", "inland", 299, 24)).toContain("says nothing");
    expect(solas("cargo", 500)).toBe(18);
    expect(solas("cargo", 499)).toContain("below 500 GT");
    expect(hours({ rules: "SOLAS", kind: "cargo", voyage: "inland", grossTonnage: 20_000 })).toContain("inland");
  });

  it("asks for what it needs", () => {
    expect(cfr("cargo", "open", 400)).toContain("time of run is wanted");
    for (const bad of [0, -2, Number.NaN]) expect(cfr("cargo", "open", 400, bad)).toContain("above 0 h");
    for (const bad of [undefined, 0, -500, Number.NaN]) {
      expect(cfr("cargo", "open", bad)).toContain("gross tonnage");
      expect(solas("cargo", bad)).toContain("gross tonnage");
    }
  });

  it("names its rule", () => {
    expect(emergencyHours({ rules: "46 CFR", kind: "cargo", voyage: "open", grossTonnage: 20_000 })).toMatchObject({
      value: { basis: { cite: "46 CFR", paragraph: "Table 112.05-5(a)", mark: "read" } },
    });
    expect(emergencyHours({ rules: "SOLAS", kind: "passenger", voyage: "open" })).toMatchObject({
      value: { basis: { cite: "SOLAS", paragraph: "II-1/42.2" } },
    });
  });
});

describe("stored starts (46 CFR 112.50-1(k), SOLAS II-1/44)", () => {
  const sufficient = (stored: StoredStarts): boolean | string => {
    const result = startsSufficient(stored);
    return result.ok ? result.value.sufficient : faultsOf(result);
  };
  const both = (first: number, second: number, more: Partial<StoredStarts> = {}) =>
    (["46 CFR", "SOLAS"] as const).map((rules) => sufficient({ rules, first, second, ...more }));

  it("case 17: 4 in a battery alone fail both; a start by hand mends only SOLAS (standards.md §9)", () => {
    expect(both(4, 0)).toEqual([false, false]);
    expect(both(4, 0, { manualStartEffective: true })).toEqual([false, true]);
  });

  it("case 18: 3 and 3 from a second source pass both (standards.md §9)", () => {
    expect(both(3, 3)).toEqual([true, true]);
    expect(both(3, 3, { secondWithinMinutes: 30 })).toEqual([true, true]);
    expect(both(3, 3, { secondWithinMinutes: 31 })).toEqual([true, false]);
  });

  it("holds to each number", () => {
    expect([both(6, 0), both(5, 0), both(5, 2), both(2, 3), both(2, 6), both(3, 2), both(0, 0)]).toEqual([
      [true, false],
      [false, false],
      [false, false],
      [false, false],
      [false, false],
      [false, false],
      [false, false],
    ]);
    expect(both(2, 0, { manualStartEffective: true })).toEqual([false, false]);
  });

  it("says what is lacking and by what rule", () => {
    expect(startsSufficient({ rules: "46 CFR", first: 4, second: 0 })).toMatchObject({
      value: { lacking: "6 starts, or 3 and 3 from a second source", basis: { cite: "46 CFR", paragraph: "112.50-1(k)" } },
    });
    expect(startsSufficient({ rules: "SOLAS", first: 2, second: 0 })).toMatchObject({
      value: {
        lacking: "3 starts from the first source; 3 more from a second source within 30 min, or a start by hand shown to be effective",
        basis: { cite: "SOLAS", paragraph: "II-1/44" },
      },
    });
  });

  it("refuses what is no count", () => {
    for (const bad of [-1, 2.5, Number.NaN]) {
      expect(sufficient({ rules: "SOLAS", first: bad, second: 3 })).toContain("whole numbers");
      expect(sufficient({ rules: "46 CFR", first: 3, second: bad })).toContain("whole numbers");
    }
    expect(sufficient({ rules: "SOLAS", first: 3, second: 3, secondWithinMinutes: -1 })).toContain("0 min or more");
  });
});

describe("times", () => {
  it("cases 14 and 15: transferred at 16 s passes with full load by 48 s; at 46 s it fails (46 CFR 112.25-10, 112.50-1(d))", () => {
    const at = (transferredAt: number) => judgeChangeover({ rules: "46 CFR", crankedAt: 3, transferredAt });
    expect(at(16)).toEqual({ ok: true, value: { connectedInTime: true, fullLoadBySeconds: 48 } });
    expect(at(45)).toMatchObject({ value: { connectedInTime: true } });
    expect(at(45.5)).toMatchObject({ value: { connectedInTime: false } });
    expect(at(46)).toMatchObject({ value: { connectedInTime: false } });
  });

  it("holds SOLAS to 45 s and to no full load (SOLAS II-1/42.3.1.2, 43.3.1.2)", () => {
    const at = (transferredAt: number) => judgeChangeover({ rules: "SOLAS", crankedAt: 3, transferredAt });
    expect(at(45)).toEqual({ ok: true, value: { connectedInTime: true, fullLoadBySeconds: undefined } });
    expect(at(45.5)).toMatchObject({ value: { connectedInTime: false } });
  });

  it("case 16: a standby set at 38 s is permitted by IACS, not preferred, and too late for an unattended US plant (standards.md §9)", () => {
    const at = (seconds: number) => {
      const result = judgeStandby(seconds);
      return result.ok ? [result.value.iacs, result.value.unattendedUs] : faultsOf(result);
    };
    expect(at(38)).toEqual(["permitted", false]);
    expect([at(30), at(30.1), at(45), at(45.1)]).toEqual([
      ["preferred", true],
      ["permitted", false],
      ["permitted", false],
      ["too late", false],
    ]);
    for (const bad of [0, -1, Number.NaN]) expect(at(bad)).toContain("more than 0 s");
  });

  it("case 21: 1 h 50 min under load are too short for the month (46 CFR 97.15-30(b), 35.10-15(b))", () => {
    for (const [minutes, value] of [
      [110, false],
      [119, false],
      [120, true],
      [0, false],
    ] as const) {
      expect(monthlyRunSufficient(minutes), `${minutes} min`).toEqual({ ok: true, value });
    }
    for (const bad of [-1, Number.NaN]) expect(faultsOf(monthlyRunSufficient(bad))).toContain("0 min or more");
  });

  it("refuses times out of order", () => {
    for (const bad of [-1, Number.NaN]) {
      expect(faultsOf(judgeChangeover({ rules: "SOLAS", crankedAt: bad, transferredAt: 16 }))).toContain("cranking begins");
    }
    for (const bad of [3, 2, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(faultsOf(judgeChangeover({ rules: "46 CFR", crankedAt: 3, transferredAt: bad }))).toContain("comes after");
    }
  });
});

describe("voltages and prime movers", () => {
  it("case 13: 450 V start at 382.5 to 270 V and transfer at 382.5 to 427.5 V (46 CFR 112.25-5, 112.25-10(a))", () => {
    expect(changeoverVoltages(450)).toEqual({
      ok: true,
      value: { startHighest: 382.5, startLowest: 270, transferLowest: 382.5, transferHighest: 427.5 },
    });
    for (const bad of [0, -450, Number.NaN]) expect(faultsOf(changeoverVoltages(bad))).toContain("above 0 V");
  });

  it("case 19: only a diesel or a gas turbine drives an emergency generator (46 CFR 112.05-5(i))", () => {
    expect((["diesel", "gasTurbine", "steamTurbine", "powerTakeOff"] as const).map(primeMoverAllowed)).toEqual([true, true, false, false]);
    expect(PRIME_MOVER_BASIS).toMatchObject({ paragraph: "112.05-5(i)", mark: "read" });
  });
});

describe("fuel", () => {
  it("lasts tank × usable share ÷ consumption", () => {
    within(fuelHours(2000, 0.9, 100), 18, 1e-12, "h");
    within(fuelHours(2000, 1, 100), 20, 1e-12, "h");
  });

  it("needs usable input", () => {
    for (const bad of [0, -1, Number.NaN]) {
      expect(faultsOf(fuelHours(bad, 0.9, 100))).toContain("above 0");
      expect(faultsOf(fuelHours(2000, 0.9, bad))).toContain("above 0");
    }
    for (const bad of [0, -0.9, 1.01, 90, Number.NaN]) expect(faultsOf(fuelHours(2000, bad, 100))).toContain("up to 1");
  });
});

describe("what limits rest on", () => {
  const limits: readonly Limit[] = [
    EMERGENCY_LIMITS,
    OVERCURRENT_LIMITS,
    SHARING_LIMITS,
    FREQUENCY_BAND,
    REVERSE_POWER_SECONDS,
    REVERSE_POWER_PERCENT.diesel,
    REVERSE_POWER_PERCENT.turbine,
  ].flatMap((table): Limit[] => Object.values(table));
  const bases: readonly Cited[] = [
    ...limits.map(({ basis }) => basis),
    HEARING_PROTECTION_ABOVE.basis,
    PRIME_MOVER_BASIS,
    noiseBasis("OSHA"),
    noiseBasis("NIOSH"),
    ...(["diesel", "condensingSteam", "nonCondensingSteam", "gasTurbine"] as const).map((mover) => typicalMotoring(mover).basis),
  ];

  it("has the shape of the rulebook's bases", () => {
    const same: readonly Basis[] = bases;
    const back: readonly Cited[] = same;
    for (const basis of back) expect(basisSchema.parse(basis)).toEqual(basis);
    expect(limits.every(({ value }) => value > 0)).toBe(true);
    expect(bases.length).toBeGreaterThan(45);
  });

  it("is marked from memory where nothing was read (standards.md §3.1, §3.2)", () => {
    const remembered = Object.entries(EMERGENCY_LIMITS).flatMap(([name, { basis }]) => (basis.mark === "read" ? [] : [name]));
    expect(remembered).toEqual(["solasCargoFromGt"]);
    expect(bases.filter(({ mark }) => mark === "memory")).toHaveLength(5);
  });
});
