import { describe, expect, it } from "vitest";
import { batteryStarts, chargePerCrank, crankingCurrent, type StartingBattery } from "../../lib/figures/batteryStarts.ts";
import { faultsOf, numberOf, within } from "./check.ts";

describe("charge for a crank", () => {
  it("is the published 0.0451 Ah of 650 A for 0.25 s (sens-usa.com)", () => {
    within(chargePerCrank(650, 0.25), 0.0451, 0.00005, "Ah");
  });

  it("is the worked 15 and 30 Ah of 6 and 12 cranks of 10 s at 900 A (reference-values §6(b))", () => {
    const one = numberOf(chargePerCrank(900, 10));
    expect(6 * one).toBeCloseTo(15, 9);
    expect(12 * one).toBeCloseTo(30, 9);
  });

  it("comes of the worked 625 A of 9 kW at 24 V and 0.6 (studyres 7246190)", () => within(crankingCurrent(9, 24, 0.6), 625, 1e-9, "A"));

  it("needs usable input", () => {
    for (const bad of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      for (const result of [
        chargePerCrank(bad, 10),
        chargePerCrank(900, bad),
        crankingCurrent(bad, 24, 0.6),
        crankingCurrent(9, bad, 0.6),
      ]) {
        expect(faultsOf(result)).toContain("above 0");
      }
    }
    for (const bad of [0, -0.6, 1.01, 60, Number.NaN]) expect(faultsOf(crankingCurrent(9, 24, bad))).toContain("up to 1");
    expect(crankingCurrent(9, 24, 1).ok).toBe(true);
  });
});

describe("battery starts", () => {
  const perCrank = numberOf(chargePerCrank(900, 10)); // 2.5 Ah
  const battery: StartingBattery = { ampereHours: 30, endOfUseFraction: 0, coldFactor: 1 };
  const whole = (change: Partial<StartingBattery>, charge = perCrank): number => {
    const starts = batteryStarts({ ...battery, ...change }, charge);
    return starts.ok ? starts.value.whole : Number.NaN;
  };

  it("are 6 in 15 Ah and 12 in 30 Ah of cranks of 2.5 Ah (reference-values §6(b))", () => {
    expect([whole({ ampereHours: 15 }), whole({})]).toEqual([6, 12]);
    expect([whole({ ampereHours: 14.9 }), whole({ ampereHours: 29.99 })]).toEqual([5, 11]);
  });

  it("are fewer by what must stay in the battery", () => {
    expect([whole({ endOfUseFraction: 0.5 }), whole({ endOfUseFraction: 0.51 }), whole({ endOfUseFraction: 0.75 })]).toEqual([6, 5, 3]);
  });

  it("are 40 % at −18 °C (TM 9-8000)", () => {
    expect(batteryStarts({ ...battery, coldFactor: 0.4 }, perCrank)).toMatchObject({ ok: true, value: { whole: 4 } });
    expect(whole({ coldFactor: 0.4, endOfUseFraction: 0.5 })).toBe(2);
  });

  it("are not lost to the noise of fractions", () => {
    expect((30 * (1 - 0.9)) / 1).toBeLessThan(3);
    expect(whole({ endOfUseFraction: 0.9 }, 1)).toBe(3);
  });

  it("need usable input", () => {
    const fault = (change: Partial<StartingBattery>, charge = perCrank): string =>
      faultsOf(batteryStarts({ ...battery, ...change }, charge));
    for (const bad of [0, -1, Number.NaN]) {
      expect(fault({ ampereHours: bad })).toContain("above 0 Ah");
      expect(fault({}, bad)).toContain("more than 0 Ah");
      expect(fault({ coldFactor: bad })).toContain("cold leaves");
    }
    expect(fault({ coldFactor: 1.1 })).toContain("cold leaves");
    for (const bad of [-0.1, 1, 80, Number.NaN]) expect(fault({ endOfUseFraction: bad })).toContain("end of a battery's use");
  });
});
