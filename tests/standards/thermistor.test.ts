import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../fixtures/tables/thermistors.json";
import { type Beta, type SteinhartHart, thermistorResistance, thermistorTemperature } from "../../lib/figures/thermistor.ts";
import { faultsOf, numberOf, within } from "./check.ts";

const steinhartHart = ({ a, b, c }: { readonly a: number; readonly b: number; readonly c: number }): SteinhartHart => ({
  kind: "steinhart-hart",
  a,
  b,
  c,
});
const tenK = steinhartHart(table.tenK);
const threePoint = steinhartHart(table.threePoint);
const beta: Beta = { kind: "beta", ohmsAt25: table.beta.ohmsAt25, beta: table.beta.beta };

describe("NTC thermistors", () => {
  it("give the published 10 kΩ table by its stated coefficients (R package thermocouple; studylibfr 3640921)", () => {
    for (const [celsius, ohms, byCoefficients] of table.tenK.rows as [number, number, number][]) {
      if (celsius <= 120) within(thermistorTemperature(tenK, ohms), celsius, 0.085, `${ohms} Ω`);
      within(thermistorTemperature(tenK, ohms), byCoefficients, 0.0051, `${ohms} Ω`);
      within(thermistorResistance(tenK, celsius), ohms, 0.006 * ohms, `${celsius} °C`);
    }
  });

  it("give the three-point fit of the LDT-5525 manual, both ways", () => {
    for (const [ohms, celsius] of table.threePoint.rows as [number, number][]) {
      within(thermistorTemperature(threePoint, ohms), celsius, 0.0003, `${ohms} Ω`);
      within(thermistorResistance(threePoint, celsius), ohms, 0.5, `${celsius} °C`);
    }
  });

  it("give the beta form, both ways (reference-values §3)", () => {
    for (const [celsius, ohms] of table.beta.rows as [number, number][]) {
      within(thermistorResistance(beta, celsius), ohms, 0.0501, `${celsius} °C`);
    }
    for (const [ohms, celsius] of table.betaInverse.rows as [number, number][]) {
      within(thermistorTemperature(beta, ohms), celsius, 0.0005, `${ohms} Ω`);
    }
    within(thermistorTemperature(beta, 10_000), 25, 1e-9, "25 °C");
  });

  it("are refused where their fitted curve turns back: the slope b + 3c·(ln R)² of the Steinhart–Hart equation (reference-values §3)", () => {
    // The slope is nothing at ln R = 5 and rises above it.
    const turning = steinhartHart({ a: 3e-3, b: -7.5e-6, c: 1e-7 });
    expect(faultsOf(thermistorTemperature(turning, Math.exp(4.98)))).toContain("no temperature");
    within(thermistorTemperature(turning, Math.exp(5.02)), 1 / (3e-3 - 7.5e-6 * 5.02 + 1e-7 * 5.02 ** 3) - 273.15, 1e-9, "above the turn");
  });

  it("come back from their own resistance and fall with temperature", () => {
    fc.assert(
      fc.property(fc.constantFrom(tenK, threePoint, beta), fc.double({ min: -60, max: 250, noNaN: true }), (thermistor, celsius) => {
        const ohms = numberOf(thermistorResistance(thermistor, celsius));
        within(thermistorTemperature(thermistor, ohms), celsius, 1e-6, `${celsius} °C`);
        expect(numberOf(thermistorResistance(thermistor, celsius + 0.5))).toBeLessThan(ohms);
      }),
    );
  });

  it("are taken only while their coefficients still fall with temperature", () => {
    const turning = steinhartHart({ a: 1e-3, b: 2e-4, c: -1e-6 });
    expect(thermistorTemperature(turning, 3000).ok).toBe(true);
    expect(thermistorTemperature(turning, 4000).ok).toBe(false);
  });

  it("refuse what gives no temperature or resistance", () => {
    for (const ohms of [0, -5, Number.NaN]) expect(faultsOf(thermistorTemperature(tenK, ohms))).toContain("above 0 Ω");
    for (const celsius of [-273.15, Number.NaN]) expect(faultsOf(thermistorResistance(beta, celsius))).toContain("no temperature");
    const broken = [
      { kind: "beta", ohmsAt25: 0, beta: 3950 },
      { kind: "beta", ohmsAt25: 10_000, beta: Number.NaN },
      { kind: "steinhart-hart", a: 0, b: 0, c: 0 },
      { kind: "steinhart-hart", a: 1e-3, b: -2e-4, c: 0 },
      { kind: "steinhart-hart", a: -1, b: 2e-4, c: 0 },
    ] as const;
    for (const thermistor of broken) expect(thermistorTemperature(thermistor, 5000).ok).toBe(false);
    for (const thermistor of broken.slice(0, 4)) expect(thermistorResistance(thermistor, 50).ok).toBe(false);
  });
});
