import { createRequire } from "node:module";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../fixtures/tables/boiling.json";
import { ambientPressure, boilingPoint, saturationPressure, saturationTemperature } from "../../lib/figures/boiling.ts";
import { heatSource } from "../../lib/figures/heatSource.ts";
import { faultsOf, numberOf, within } from "./check.ts";

interface Region4 {
  readonly r4_P_Tsat: (megapascals: number) => number;
  readonly r4_T_Psat: (kelvin: number) => number;
}
const neutrium: Region4 = createRequire(import.meta.url)("@neutrium/thermo.eos.iapws97/dist/PT.js");

const rows = (part: { readonly rows: readonly (readonly number[])[] }) => part.rows as readonly [number, number, number][];

describe("boiling of water (IAPWS-IF97 region 4)", () => {
  it("gives the official verification values", () => {
    for (const [megapascals, kelvin] of rows(table.temperature))
      within(saturationTemperature(megapascals), kelvin, megapascals === 20 ? 1e-9 : 6e-7, `${megapascals} MPa`);
    for (const [kelvin, megapascals] of rows(table.pressure)) {
      within(saturationPressure(kelvin), megapascals, 5e-9 * megapascals, `${kelvin} K`);
    }
  });

  it("gives the boiling points of ambient pressures and the pressures needed", () => {
    for (const [hPa, celsius] of rows(table.ambient)) within(boilingPoint(hPa), celsius, 0.0005, `${hPa} hPa`);
    for (const [celsius, kPa] of rows(table.needed)) within(saturationPressure(celsius + 273.15), kPa / 1000, 5.1e-7, `${celsius} °C`);
  });

  // That package's n9 has a digit too many (−0.238558557567849): it moves results in the tenth digit, so no closer than this.
  it("agrees with @neutrium/thermo.eos.iapws97, both ways", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 22, noNaN: true }),
        fc.double({ min: 274, max: 646, noNaN: true }),
        (megapascals, kelvin) => {
          within(saturationTemperature(megapascals), neutrium.r4_P_Tsat(megapascals), 1e-6, `${megapascals} MPa`);
          const theirs = neutrium.r4_T_Psat(kelvin);
          within(saturationPressure(kelvin), theirs, 2e-8 * theirs, `${kelvin} K`);
        },
      ),
    );
  });

  it("comes back from its own pressure and rises with it", () => {
    fc.assert(
      fc.property(fc.double({ min: 273.16, max: 646, noNaN: true }), (kelvin) => {
        const megapascals = numberOf(saturationPressure(kelvin));
        within(saturationTemperature(megapascals), kelvin, 1e-5, `${kelvin} K`);
        expect(numberOf(saturationPressure(kelvin + 0.5))).toBeGreaterThan(megapascals);
      }),
    );
  });

  it("refuses what lies outside region 4", () => {
    for (const megapascals of [0.000611, 22.065, Number.NaN])
      expect(faultsOf(saturationTemperature(megapascals))).toContain("MPa absolute");
    for (const kelvin of [273, 647.1, Number.NaN]) expect(faultsOf(saturationPressure(kelvin))).toContain("647.096 K");
    for (const megapascals of [0.000612, 22.064]) expect(saturationTemperature(megapascals).ok).toBe(true);
    for (const kelvin of [273.15, 647.096]) expect(saturationPressure(kelvin).ok).toBe(true);
    expect(faultsOf(boilingPoint(-1))).toContain("-1 hPa");
  });

  it("gives the standard atmosphere and the boiling point at altitude", () => {
    for (const [metres, pascals, celsius] of rows(table.altitude)) {
      const hPa = ambientPressure(metres);
      within(hPa, pascals / 100, 0.00051, `${metres} m`);
      within(boilingPoint(numberOf(hPa)), celsius, 0.0006, `${metres} m`);
    }
    for (const metres of [-501, 11_001, Number.NaN]) expect(faultsOf(ambientPressure(metres))).toContain("-500 to 11000 m");
    for (const metres of [-500, 11_000]) expect(ambientPressure(metres).ok).toBe(true);
  });
});

describe("heat source", () => {
  const judged = (setPointCelsius: number, marginKelvin: number, ambientHpa: number) => {
    const result = heatSource({ setPointCelsius, marginKelvin, ambientHpa });
    return result.ok ? result.value : { openWaterBath: undefined, boilingCelsius: Number.NaN, reason: result.faults.join() };
  };

  it.each([
    [98, 0, 944, true],
    [98, 0, 943.8, false],
    [100, 0, 1014.3, true],
    [100, 0, 1014.1, false],
    [95, 3, 1000, true],
    [97, 3, 1000, false],
    [110, 0, 1040, false],
    [0, 3, 1013, false],
  ])("set point %d °C, margin %d K at %d hPa: open water bath %s (limits of reference-values §5)", (setPoint, margin, hPa, expected) => {
    expect(judged(setPoint, margin, hPa).openWaterBath).toBe(expected);
  });

  it("says why, and by which boiling point", () => {
    expect(judged(98, 2, 1000).boilingCelsius).toBeCloseTo(99.606, 3);
    expect(judged(98, 2, 1000).reason).toBe(
      "set point 98 °C with a margin of 2 K does not stay below boiling: water boils at 99.6 °C at 1000 hPa",
    );
    expect(judged(90, 2, 1000).reason).toContain("stays below boiling");
    expect(judged(-5, 2, 1000).reason).toContain("freezing");
  });

  it("never takes a bath that would boil", () => {
    const input = { setPoint: fc.double({ min: 1, max: 130, noNaN: true }), margin: fc.double({ min: 0, max: 10, noNaN: true }) };
    fc.assert(
      fc.property(input.setPoint, input.margin, fc.double({ min: 500, max: 1080, noNaN: true }), (setPoint, margin, hPa) => {
        const { openWaterBath, boilingCelsius } = judged(setPoint, margin, hPa);
        expect(openWaterBath).toBe(setPoint + margin < boilingCelsius);
      }),
    );
  });

  it("refuses unusable input", () => {
    expect(faultsOf(heatSource({ setPointCelsius: Number.NaN, marginKelvin: 2, ambientHpa: 1000 }))).toContain("set point");
    expect(faultsOf(heatSource({ setPointCelsius: 90, marginKelvin: -1, ambientHpa: 1000 }))).toContain("margin");
    expect(faultsOf(heatSource({ setPointCelsius: 90, marginKelvin: 2, ambientHpa: 0 }))).toContain("0 hPa");
  });
});
