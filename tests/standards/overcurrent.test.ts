import { describe, expect, it } from "vitest";
import { instantaneousTrip, longTimePickUpLimit, OVERCURRENT_LIMITS } from "../../lib/figures/overcurrent.ts";
import { apparentPower, ratedCurrent } from "../../lib/figures/plate.ts";
import { faultsOf, numberOf, within } from "./check.ts";

describe("long-time pick-up (46 CFR 111.12-11(d))", () => {
  it("case 11: 1250 kW at 0.8 and 450 V give 2004.7 A and at most 2305.4 A (standards.md §9)", () => {
    const rated = ratedCurrent(numberOf(apparentPower(1250, 0.8)), 450);
    within(rated, 2004.7, 0.05, "rated");
    within(longTimePickUpLimit(numberOf(rated)), 2305.4, 0.05, "pick-up");
    within(longTimePickUpLimit(1000), 1150, 1e-9, "115 %");
  });

  it("follows an overload rating that holds for 2 h or more (46 CFR 111.12-11(d)(2))", () => {
    within(longTimePickUpLimit(1000, { amperes: 1100, hours: 2 }), 1265, 1e-9, "2 h");
    within(longTimePickUpLimit(1000, { amperes: 1100, hours: 24 }), 1265, 1e-9, "24 h");
    within(longTimePickUpLimit(1000, { amperes: 1100, hours: 1.99 }), 1150, 1e-9, "below 2 h");
  });

  it("needs usable input", () => {
    for (const bad of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(faultsOf(longTimePickUpLimit(bad))).toContain("above 0 A");
      expect(faultsOf(longTimePickUpLimit(1000, { amperes: 1100, hours: bad }))).toContain("overload rating");
      expect(faultsOf(longTimePickUpLimit(1000, { amperes: bad, hours: 2 }))).toContain("overload rating");
    }
    expect(faultsOf(longTimePickUpLimit(1000, { amperes: 999, hours: 2 }))).toContain("not below the rated current");
  });
});

describe("instantaneous trip (46 CFR 111.12-11(c)(3))", () => {
  it("case 12: not permitted with two AC sets in parallel, required with three (standards.md §9)", () => {
    expect([1, 2, 3, 4].map((sets) => instantaneousTrip("AC", sets))).toEqual(
      ["not permitted", "not permitted", "required", "required"].map((value) => ({ ok: true, value })),
    );
  });

  it("is required for DC", () => expect(instantaneousTrip("DC", 1)).toEqual({ ok: true, value: "required" }));

  it("needs a count", () => {
    for (const bad of [0, -2, 2.5, Number.NaN]) expect(faultsOf(instantaneousTrip("AC", bad))).toContain("whole number");
  });

  it("says where its limits come from", () => {
    expect(Object.values(OVERCURRENT_LIMITS).map(({ value, basis }) => [value, basis.mark, basis.cite])).toEqual([
      [115, "read", "46 CFR"],
      [2, "read", "46 CFR"],
      [3, "read", "46 CFR"],
    ]);
  });
});
