import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  actsOverTypical,
  actsWhenMotored,
  type PrimeMover,
  placeOfSetting,
  REVERSE_POWER_PERCENT,
  REVERSE_POWER_SECONDS,
  type ReversePowerBand,
  reversePowerBand,
  typicalMotoring,
} from "../../lib/figures/reversePower.ts";
import { faultsOf } from "./check.ts";

const bandOf = (primeMover: PrimeMover, ratedKw: number): ReversePowerBand => {
  const band = reversePowerBand(primeMover, ratedKw);
  if (!band.ok) throw new Error(band.faults.join("; "));
  return band.value;
};

const placeOf = (primeMover: PrimeMover, ratedKw: number, pickUpKw: number, delaySeconds: number) =>
  placeOfSetting({ pickUpKw, delaySeconds }, bandOf(primeMover, ratedKw));

describe("reverse-power band", () => {
  it("gives the worked cases (class text attributed to DNV, CCS; standards.md §9 cases 4, 5, 6)", () => {
    expect(bandOf("diesel", 1250).kilowatts).toEqual({ lower: 100, upper: 187.5 });
    expect(bandOf("turbine", 1000).kilowatts).toEqual({ lower: 20, upper: 60 });
    expect(bandOf("diesel", 500).kilowatts.upper).toBe(75);
    const { seconds } = bandOf("diesel", 1250);
    expect([seconds.lower.value, seconds.upper.value]).toEqual([3, 10]);
  });

  it("case 5: 90 kW is too low and 200 kW too high for 1250 kW, the ends are within", () => {
    for (const [pickUpKw, pickUp] of [
      [90, "below"],
      [99.9, "below"],
      [100, "within"],
      [187.5, "within"],
      [187.6, "above"],
      [200, "above"],
    ] as const) {
      expect(placeOf("diesel", 1250, pickUpKw, 5), `${pickUpKw} kW`).toEqual({ ok: true, value: { pickUp, delay: "within" } });
    }
  });

  it("case 7: 20 % and 1 s on a diesel of 500 kW fail both", () => {
    expect(placeOf("diesel", 500, 100, 1)).toEqual({ ok: true, value: { pickUp: "above", delay: "below" } });
    for (const [delaySeconds, delay] of [
      [0, "below"],
      [2.95, "below"],
      [3, "within"],
      [10, "within"],
      [10.1, "above"],
    ] as const) {
      expect(placeOf("turbine", 1000, 40, delaySeconds), `${delaySeconds} s`).toMatchObject({ ok: true, value: { delay } });
    }
  });

  it("says of each bound how sure it is (standards.md §3.2)", () => {
    const marks = Object.values(REVERSE_POWER_PERCENT).flatMap(({ lower, upper }) => [lower.basis.mark, upper.basis.mark]);
    expect(marks).toEqual(["read", "read", "memory", "read"]);
    expect([REVERSE_POWER_SECONDS.lower.basis.mark, REVERSE_POWER_SECONDS.upper.basis.mark]).toEqual(["read", "read"]);
    expect(REVERSE_POWER_PERCENT.diesel.lower.basis.cite).toContain("CCS");
  });

  it("grows with the rated power, without the noise of fractions deciding", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 50_000 }), fc.constantFrom<PrimeMover>("diesel", "turbine"), (ratedKw, primeMover) => {
        const { kilowatts, percent } = bandOf(primeMover, ratedKw);
        for (const end of ["lower", "upper"] as const) {
          expect(kilowatts[end] / ratedKw).toBeCloseTo(percent[end].value / 100, 12);
          expect(placeOf(primeMover, ratedKw, kilowatts[end], 3)).toMatchObject({ value: { pickUp: "within" } });
        }
      }),
    );
  });

  it("refuses what is not above 0", () => {
    for (const bad of [0, -1250, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(faultsOf(reversePowerBand("diesel", bad))).toContain("above 0 kW");
      expect(faultsOf(placeOf("diesel", 1250, bad, 5))).toContain("above 0 kW");
    }
    for (const bad of [-1, Number.NaN]) expect(faultsOf(placeOf("diesel", 1250, 125, bad))).toContain("0 s or more");
  });
});

describe("motoring", () => {
  it("gives the published powers in % (protective-relaying textbook, relay maker; standards.md §4)", () => {
    const typical = (["diesel", "condensingSteam", "nonCondensingSteam", "gasTurbine"] as const).map((primeMover) => {
      const { lowestPercent, highestPercent, basis } = typicalMotoring(primeMover);
      return [primeMover, lowestPercent, highestPercent, basis.mark];
    });
    expect(typical).toEqual([
      ["diesel", 5, 25, "read"],
      ["condensingSteam", 1, 3, "read"],
      ["nonCondensingSteam", 3, 3, "read"],
      ["gasTurbine", 50, 50, "read"],
    ]);
  });

  it("case 8: a diesel of 1250 kW that takes 5 % does not trip a pick-up of 8 %; at 25 % it does", () => {
    expect(actsWhenMotored(100, 62.5)).toEqual({ ok: true, value: false });
    expect(actsWhenMotored(100, 312.5)).toEqual({ ok: true, value: true });
    expect(actsWhenMotored(8, 5)).toEqual({ ok: true, value: false });
    expect(actsWhenMotored(8, 25)).toEqual({ ok: true, value: true });
    expect(actsWhenMotored(8, 8)).toEqual({ ok: true, value: true });
    expect(actsWhenMotored(0.1 + 0.2, 0.3)).toEqual({ ok: true, value: true });
  });

  it("leaves open what the typical range does not settle", () => {
    expect(actsOverTypical(8, "diesel")).toEqual({ ok: true, value: "open" });
    expect(actsOverTypical(5, "diesel")).toEqual({ ok: true, value: "yes" });
    expect(actsOverTypical(26, "diesel")).toEqual({ ok: true, value: "no" });
    expect(actsOverTypical(2, "condensingSteam")).toEqual({ ok: true, value: "open" });
    expect(actsOverTypical(4, "nonCondensingSteam")).toEqual({ ok: true, value: "no" });
    expect(actsOverTypical(6, "gasTurbine")).toEqual({ ok: true, value: "yes" });
  });

  it("refuses what is not above 0", () => {
    for (const bad of [0, -8, Number.NaN]) {
      for (const result of [actsWhenMotored(bad, 5), actsWhenMotored(8, bad), actsOverTypical(bad, "diesel")]) {
        expect(faultsOf(result)).toContain("above 0");
      }
    }
  });
});
