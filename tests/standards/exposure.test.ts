import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../fixtures/tables/exposure.json";
import {
  dosePercent,
  HEARING_PROTECTION_ABOVE,
  hearingProtectionWanted,
  type NoiseRules,
  noiseBasis,
  permittedMinutes,
  referenceMinutes,
} from "../../lib/figures/exposure.ts";
import { faultsOf, numberOf, within } from "./check.ts";

const RULES: readonly NoiseRules[] = ["OSHA", "NIOSH"];

describe("permitted time in noise", () => {
  it("gives every row of 29 CFR 1910.95 Table G-16", () => {
    for (const [decibels, hours] of table.tableG16.rows as [number, number][]) {
      within(permittedMinutes(decibels, "OSHA"), 60 * hours, 1e-9, `${decibels} dB(A)`);
    }
  });

  it("follows the formula up to the next row of Table G-16", () => {
    for (const [decibels] of table.tableG16.rows as [number, number][]) {
      const under = decibels - 0.1;
      within(permittedMinutes(under, "OSHA"), numberOf(referenceMinutes(under, "OSHA")), 1e-9, `${under} dB(A)`);
    }
    within(permittedMinutes(92.05, "OSHA"), 360, 1e-9, "a row's minutes are not passed above it");
  });

  it("gives every row of 29 CFR 1910.95 Table G-16a by its formula", () => {
    expect(table.tableG16a.rows).toHaveLength(51);
    for (const [decibels, hours, decimals] of table.tableG16a.rows as [number, number, number][]) {
      within(referenceMinutes(decibels, "OSHA"), 60 * hours, decimals === 0 ? 1e-9 : 30 * 10 ** -decimals, `${decibels} dB(A)`);
    }
  });

  it("gives the NIOSH rows (niosh/topics/noise; standards.md §7)", () => {
    for (const [decibels, minutes] of table.niosh.rows as [number, number][]) {
      within(permittedMinutes(decibels, "NIOSH"), minutes, 1e-9, `${decibels} dB(A)`);
    }
  });

  it("case 28: 45 min at 105 dB(A) are within OSHA's hour and beyond NIOSH's 4.7 min (standards.md §9)", () => {
    within(permittedMinutes(105, "OSHA"), 60, 1e-9, "OSHA");
    within(permittedMinutes(105, "NIOSH"), 4.7, 0.05, "NIOSH");
    within(dosePercent([{ decibels: 105, minutes: 45 }], "OSHA"), 75, 1e-9, "OSHA dose");
    expect(numberOf(dosePercent([{ decibels: 105, minutes: 45 }], "NIOSH"))).toBeGreaterThan(100);
    expect(hearingProtectionWanted(105)).toEqual({ ok: true, value: true });
  });

  it("is none above the last row of OSHA's table, which NIOSH does not end", () => {
    within(permittedMinutes(115, "OSHA"), 15, 1e-9, "115");
    within(permittedMinutes(115.1, "OSHA"), 0, 0, "115.1");
    expect(numberOf(permittedMinutes(115.1, "NIOSH"))).toBeGreaterThan(0);
  });

  it("never grows with the level, and halves with each exchange", () => {
    const level = fc.double({ min: 60, max: 130, noNaN: true });
    fc.assert(
      fc.property(level, level, fc.constantFrom(...RULES), (one, other, rules) => {
        const [low, high] = [Math.min(one, other), Math.max(one, other)];
        expect(numberOf(permittedMinutes(high, rules))).toBeLessThanOrEqual(numberOf(permittedMinutes(low, rules)));
        expect(numberOf(permittedMinutes(high, rules))).toBeLessThanOrEqual(numberOf(referenceMinutes(high, rules)));
        const exchange = rules === "OSHA" ? 5 : 3;
        expect(numberOf(referenceMinutes(low, rules)) / numberOf(referenceMinutes(low + exchange, rules))).toBeCloseTo(2, 9);
      }),
    );
  });

  it("says where it comes from", () => {
    expect(RULES.map((rules) => noiseBasis(rules).mark)).toEqual(["read", "read"]);
    expect(noiseBasis("OSHA").paragraph).toContain("G-16");
  });

  it("refuses what is no level", () => {
    for (const bad of [0, -90, 195, Number.NaN, Number.POSITIVE_INFINITY]) {
      for (const result of [permittedMinutes(bad, "OSHA"), permittedMinutes(bad, "NIOSH"), hearingProtectionWanted(bad)]) {
        expect(faultsOf(result)).toContain("noise level");
      }
    }
    expect(referenceMinutes(194, "OSHA").ok).toBe(true);
  });
});

describe("hearing protection", () => {
  it("is wanted above 85 dB(A) (IMO noise code 5.1; standards.md §7)", () => {
    expect(HEARING_PROTECTION_ABOVE.value).toBe(85);
    for (const [decibels, wanted] of [
      [84, false],
      [85, false],
      [85.1, true],
      [86, true],
    ] as const) {
      expect(hearingProtectionWanted(decibels), `${decibels} dB(A)`).toEqual({ ok: true, value: wanted });
    }
  });
});

describe("dose of a day", () => {
  it("is 100 % for the whole permitted time, and 50 % for 8 h at 85 dB(A) under OSHA (29 CFR 1910.95(c)(1))", () => {
    within(dosePercent([{ decibels: 90, minutes: 480 }], "OSHA"), 100, 1e-9, "90");
    within(dosePercent([{ decibels: 85, minutes: 480 }], "OSHA"), 50, 1e-9, "85");
    within(dosePercent([{ decibels: 85, minutes: 480 }], "NIOSH"), 100, 1e-9, "NIOSH");
  });

  it("adds what each level takes", () => {
    const day = [
      { decibels: 105, minutes: 30 },
      { decibels: 95, minutes: 60 },
      { decibels: 100, minutes: 30 },
    ];
    within(dosePercent(day, "OSHA"), 50 + 25 + 25, 1e-9, "OSHA");
    within(dosePercent([...day].reverse(), "OSHA"), 100, 1e-9, "any order");
    within(
      dosePercent(
        [
          { decibels: 91, minutes: 60 },
          { decibels: 100, minutes: 3 },
        ],
        "NIOSH",
      ),
      70,
      1e-9,
      "NIOSH",
    );
  });

  it("counts from 80 dB(A) under OSHA (29 CFR 1910.95(d)(2)(i)) and all under NIOSH", () => {
    const alone = (decibels: number, rules: NoiseRules) => dosePercent([{ decibels, minutes: 480 }], rules);
    within(alone(80, "OSHA"), 25, 1e-9, "80");
    within(alone(79.9, "OSHA"), 0, 0, "79.9");
    within(alone(79, "NIOSH"), 25, 1e-9, "79");
  });

  it("refuses no exposure, and what is no exposure", () => {
    expect(faultsOf(dosePercent([], "OSHA"))).toContain("at least one");
    for (const bad of [0, -1, Number.NaN]) {
      expect(faultsOf(dosePercent([{ decibels: 90, minutes: bad }], "OSHA"))).toContain("more than 0 min");
      expect(faultsOf(dosePercent([{ decibels: bad, minutes: 5 }], "NIOSH"))).toContain("noise level");
    }
  });
});
