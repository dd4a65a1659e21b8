import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../fixtures/tables/overspeed.json";
import {
  abortWindow,
  frequencyFromSpeed,
  GENERATOR_OVERSPEED_FACTOR,
  overspeedLimit,
  PROPULSION_OVERSPEED_FACTOR,
  verifyPoint,
} from "../../lib/figures/overspeed.ts";
import { faultsOf, numberOf, within } from "./check.ts";

describe("overspeed limit", () => {
  it("gives the worked cases exactly (46 CFR 111.12-1(b), IACS UR M3.1.2, LR 6.2.1; standards.md §9)", () => {
    for (const [name, rated, factor, limit] of table.limit.rows as [string, number, number, number][]) {
      expect(overspeedLimit(rated, factor), name).toEqual({ ok: true, value: limit });
    }
    for (const [rated, limit] of table.synchronous.rows as [number, number][]) {
      expect(overspeedLimit(rated, GENERATOR_OVERSPEED_FACTOR), `${rated} rpm`).toEqual({ ok: true, value: limit });
    }
  });

  it("case 1: 1035 rpm passes and 1036 rpm fails at 900 rpm rated", () => {
    const limit = numberOf(overspeedLimit(900, GENERATOR_OVERSPEED_FACTOR));
    expect([1035 <= limit, 1036 <= limit]).toEqual([true, false]);
  });

  it("case 2: 2070 rpm is 69 Hz on four poles; 2125 rpm fails", () => {
    const limit = numberOf(overspeedLimit(1800, GENERATOR_OVERSPEED_FACTOR));
    expect(frequencyFromSpeed(limit, 4)).toEqual({ ok: true, value: 69 });
    expect(2125 <= limit).toBe(false);
  });

  it("case 23: a propulsion device at 600 rpm drives the shaft generator past its own limit", () => {
    const ratio = 3.6;
    const atDevice = numberOf(overspeedLimit(500, PROPULSION_OVERSPEED_FACTOR)) * ratio;
    expect(atDevice).toBeCloseTo(2160, 9);
    within(frequencyFromSpeed(atDevice, 4), 72, 1e-9, "72 Hz");
    expect(numberOf(overspeedLimit(500, GENERATOR_OVERSPEED_FACTOR)) * ratio).toBeCloseTo(2070, 9);
    expect(atDevice).toBeGreaterThan(numberOf(overspeedLimit(500 * ratio, GENERATOR_OVERSPEED_FACTOR)));
  });

  it("never rounds up", () => {
    fc.assert(
      fc.property(fc.double({ min: 50, max: 20_000, noNaN: true }), (rated) => {
        const limit = numberOf(overspeedLimit(rated, 1.15));
        expect(limit).toBeLessThanOrEqual(rated * 1.15 + 1e-6);
        expect(limit).toBeGreaterThan(rated * 1.15 - 0.1 - 1e-6);
      }),
    );
  });

  it("refuses speeds and factors that are not above 0", () => {
    for (const bad of [0, -900, Number.NaN]) {
      expect(faultsOf(overspeedLimit(bad, 1.15))).toContain("above 0");
      expect(faultsOf(overspeedLimit(900, bad))).toContain("above 0");
    }
  });
});

describe("verify point of a reduced-threshold test mode", () => {
  it("gives the published examples (standards.md §9 cases 9 and 10)", () => {
    for (const row of table.verify.rows) {
      const [name, setPoint, fraction, spread, thresholdRpm, holdsAtRpm, tripsAtRpm] = row as [string, ...number[]] as [
        string,
        number,
        number,
        number,
        number,
        number,
        number,
      ];
      expect(verifyPoint(setPoint, fraction, spread), name).toEqual({ ok: true, value: { thresholdRpm, holdsAtRpm, tripsAtRpm } });
    }
  });

  it("refuses unusable input", () => {
    expect(faultsOf(verifyPoint(0, 0.75, 25))).toContain("set point");
    for (const fraction of [0, 1, 75, Number.NaN]) expect(faultsOf(verifyPoint(2070, fraction, 25))).toContain("fraction");
    for (const spread of [-1, 1552.5, Number.NaN]) expect(faultsOf(verifyPoint(2070, 0.75, spread))).toContain("spread");
  });
});

describe("abort window (trade.md §4)", () => {
  const base = { setPoint: 1980, tolerance: 20, tachometerError: 5 };

  it("runs from the latest honest trip to the lowest limit", () => {
    expect(abortWindow({ ...base, ruleLimit: 2070 })).toEqual({ empty: false, from: 2005, to: 2070, limitedBy: "ruleLimit" });
    expect(abortWindow({ ...base, ruleLimit: 2070, makersMaximum: 2050 })).toMatchObject({ to: 2050, limitedBy: "makersMaximum" });
    expect(abortWindow({ ...base, ruleLimit: 2070, makersMaximum: 2100, alternatorLimit: 2040 })).toMatchObject({
      to: 2040,
      limitedBy: "alternatorLimit",
    });
    expect(abortWindow({ ...base, ruleLimit: 2070, makersMaximum: 2070 })).toMatchObject({ limitedBy: "ruleLimit" });
  });

  it("is empty, with the reason, when nothing is left", () => {
    expect(abortWindow({ ...base, setPoint: 2060, ruleLimit: 2070 })).toEqual({
      empty: true,
      reason: "a trip may come as late as 2085 rpm, and the rule limit is 2070 rpm",
    });
    expect(abortWindow({ ...base, setPoint: 2045, ruleLimit: 2070 }).empty).toBe(true);
    expect(abortWindow({ ...base, setPoint: 2044, ruleLimit: 2070 }).empty).toBe(false);
    expect(abortWindow(base)).toEqual({ empty: true, reason: "no upper limit is known" });
    for (const bad of [{ setPoint: Number.NaN }, { tolerance: -1 }, { tachometerError: Number.NaN }]) {
      expect(abortWindow({ ...base, ...bad, ruleLimit: 2070 })).toMatchObject({ empty: true, reason: expect.stringContaining("usable") });
    }
    for (const ruleLimit of [Number.NaN, -5]) {
      expect(abortWindow({ ...base, ruleLimit, makersMaximum: 2100 })).toEqual({ empty: true, reason: "a limit must be a speed above 0" });
    }
  });

  it("never reaches past any limit, and shrinks as errors grow", () => {
    const speed = fc.integer({ min: 1000, max: 3000 });
    const error = fc.integer({ min: 0, max: 100 });
    fc.assert(
      fc.property(speed, error, error, speed, speed, (setPoint, tolerance, tachometerError, ruleLimit, makersMaximum) => {
        const window = abortWindow({ setPoint, tolerance, tachometerError, ruleLimit, makersMaximum });
        expect(window.empty).toBe(setPoint + tolerance + tachometerError >= Math.min(ruleLimit, makersMaximum));
        if (window.empty) return;
        expect(window.from).toBe(setPoint + tolerance + tachometerError);
        expect(window.to).toBe(Math.min(ruleLimit, makersMaximum));
      }),
    );
  });
});
