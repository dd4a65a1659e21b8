import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../fixtures/tables/platinum.json";
import {
  type PlatinumClass,
  type PlatinumConstruction,
  type PlatinumKind,
  platinumResistance,
  platinumTemperature,
  platinumTolerance,
} from "../../lib/figures/platinum.ts";
import { faultsOf, numberOf, within } from "./check.ts";

const pairs = (rows: readonly (readonly number[])[]) => rows as readonly [number, number][];

describe("platinum resistance thermometers (IEC 60751)", () => {
  it("give the published Pt100 table to its last digit (CSDN 95759214, sensorsci.com)", () => {
    expect(table.pt100.rows.length).toBe(48);
    for (const [celsius, ohms] of pairs(table.pt100.rows)) within(platinumResistance("Pt100", celsius), ohms, 0.005, `${celsius} °C`);
  });

  it("give the published Pt1000 table to its last digit (R package thermocouple, rtdPT1000)", () => {
    for (const [celsius, ohms] of pairs(table.pt1000.rows)) within(platinumResistance("Pt1000", celsius), ohms, 0.0005, `${celsius} °C`);
  });

  it("give the published table below 0 °C, both ways (Beckhoff 9827313675)", () => {
    for (const [celsius, ohms] of pairs(table.below0.rows)) {
      within(platinumResistance("Pt100", celsius), ohms, 0.0005, `${celsius} °C`);
      if (celsius > -200) within(platinumTemperature("Pt100", ohms), celsius, 0.002, `${ohms} Ω`);
    }
  });

  it("give temperatures of rtd-sensor 0.7.0", () => {
    for (const [ohms, celsius] of pairs(table.inverse.rows)) {
      within(platinumTemperature("Pt100", ohms), celsius, 0.0005, `${ohms} Ω`);
      within(platinumTemperature("Pt1000", 10 * ohms), celsius, 0.0005, `${10 * ohms} Ω`);
    }
  });

  it("do not follow the curve from before 1995, which reads 138.50 Ω at 100 °C and 313.65 Ω at 600 °C", () => {
    expect(numberOf(platinumResistance("Pt100", 100))).toBeCloseTo(138.5055, 4);
    expect(numberOf(platinumResistance("Pt100", 600))).toBeGreaterThan(313.7);
  });

  it("hold the class tolerances (IEC 60751:2022)", () => {
    for (const [tolerance, celsius, expected] of table.tolerance.rows as [PlatinumClass, number, number][]) {
      within(platinumTolerance(tolerance, celsius), expected, 1e-9, `class ${tolerance} at ${celsius} °C`);
    }
    expect(platinumTolerance("B", -100)).toEqual(platinumTolerance("B", 100));
  });

  it("hold the class ranges by construction (IEC 60751:2022)", () => {
    for (const [tolerance, construction, from, to] of table.toleranceRange.rows as [
      PlatinumClass,
      PlatinumConstruction,
      number,
      number,
    ][]) {
      for (const celsius of [from, to]) expect(platinumTolerance(tolerance, celsius, construction).ok).toBe(true);
      for (const celsius of [from - 0.1, to + 0.1]) {
        expect(faultsOf(platinumTolerance(tolerance, celsius, construction))).toContain(`from ${from} to ${to} °C`);
      }
    }
  });

  it("refuse what lies outside −200…850 °C (Beckhoff 9827313675)", () => {
    for (const celsius of [-200.1, 850.1, Number.NaN]) expect(faultsOf(platinumResistance("Pt100", celsius))).toContain("-200 to 850 °C");
    for (const celsius of [-200, 850]) expect(platinumResistance("Pt1000", celsius).ok).toBe(true);
    for (const ohms of [18, 391, -1, Number.NaN]) expect(faultsOf(platinumTemperature("Pt100", ohms))).toContain("outside");
  });

  it("come back from their own resistance and rise with temperature", () => {
    const kinds = fc.constantFrom<PlatinumKind>("Pt100", "Pt1000");
    fc.assert(
      fc.property(kinds, fc.double({ min: -200, max: 849, noNaN: true }), (kind, celsius) => {
        const ohms = numberOf(platinumResistance(kind, celsius));
        within(platinumTemperature(kind, ohms), celsius, 1e-6, `${celsius} °C`);
        expect(numberOf(platinumResistance(kind, celsius + 0.5))).toBeGreaterThan(ohms);
      }),
    );
  });
});
