import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { convert, dimensionOf, displayUnit, formatNumber, formatQuantity, isUnit, type Unit } from "../../lib/units/units.ts";

const PRESSURES: readonly Unit[] = ["bar", "kPa", "MPa", "psi", "kgf/cm2", "hPa"];
const UNITS: readonly Unit[] = [
  ...PRESSURES,
  "°C",
  "°F",
  "rpm",
  "Hz",
  "kW",
  "MW",
  "hp",
  "kVA",
  "MVA",
  "V",
  "kV",
  "A",
  "mm",
  "in",
  "min",
  "s",
  "%",
  "mA",
  "Ω",
  "mV",
  "GT",
];

describe("units", () => {
  it("knows its own units and nothing else", () => {
    expect(UNITS.every(isUnit)).toBe(true);
    for (const text of ["", "Bar", "toString", "__proto__", "K", "rpm "]) expect(isUnit(text)).toBe(false);
  });

  it("keeps apart what only looks alike", () => {
    for (const [first, second] of [
      ["rpm", "Hz"],
      ["kW", "kVA"],
      ["V", "A"],
      ["%", "GT"],
    ] as const) {
      expect(dimensionOf(first)).not.toBe(dimensionOf(second));
      const refused = convert(1, first, second);
      expect(refused.ok ? "" : refused.faults.join()).toContain(`${first} cannot be given in ${second}`);
    }
    expect(PRESSURES.every((of) => dimensionOf(of) === "pressure")).toBe(true);
  });

  // Prefixes of the SI (BIPM, SI Brochure, 9th edition, table 7): kilo 10³, mega 10⁶, milli 10⁻³.
  it.each([
    ["MW", "kW", 1000],
    ["MVA", "kVA", 1000],
    ["kV", "V", 1000],
    ["mV", "V", 0.001],
    ["MPa", "kPa", 1000],
  ] as const)("1 %s is so many %s: %d", (from, to, expected) => {
    expect(convert(1, from, to)).toEqual({ ok: true, value: expected });
  });

  it("refuses numbers that are not finite and names both units", () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(convert(value, "bar", "psi")).toEqual({ ok: false, faults: ["a value to convert from bar to psi must be a finite number"] });
    }
  });

  it("converts there and back for every pair that measures the same", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...UNITS),
        fc.constantFrom(...UNITS),
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        (from, to, value) => {
          const there = convert(value, from, to);
          expect(there.ok).toBe(dimensionOf(from) === dimensionOf(to));
          if (!there.ok) return;
          const back = convert(there.value, to, from);
          expect(back.ok && Math.abs(back.value - value) <= 1e-9 * Math.max(1, Math.abs(value))).toBe(true);
        },
      ),
    );
  });

  it("shows pressures and temperatures in the reader's system and leaves the rest", () => {
    for (const of of UNITS) {
      expect(displayUnit(of, "metric")).toBe(of);
      const expected = of === "bar" || of === "kPa" ? "psi" : of === "°C" ? "°F" : of;
      expect(displayUnit(of, "us")).toBe(expected);
    }
  });
});

describe("formatNumber", () => {
  it.each([
    [1980, 1, "1980"],
    [9999.4, 0, "9999"],
    [9999.5, 0, "10,000"],
    [10000, 0, "10,000"],
    [1234567.891, 2, "1,234,567.89"],
    [1.5, 2, "1.5"],
    [1.005, 2, "1.01"],
    [-1.005, 2, "-1.01"],
    [2.5, 0, "3"],
    [-0.04, 1, "0"],
    [-0, 0, "0"],
    [100, 1, "100"],
    [1e-7, 3, "0"],
    [1e21, 2, "1,000,000,000,000,000,000,000"],
    [1.26, -4, "1"],
    [0.123456789012, 12, "0.123456789"],
    [Number.NaN, 1, "–"],
    [Number.NEGATIVE_INFINITY, 1, "–"],
  ])("%d to %d decimals is %s", (value, decimals, expected) => {
    expect(formatNumber(value, decimals)).toBe(expected);
  });

  it("stays within half of the last decimal and reads back", () => {
    fc.assert(
      fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), fc.integer({ min: 0, max: 4 }), (value, decimals) => {
        const text = formatNumber(value, decimals);
        expect(text).toMatch(/^-?\d{1,3}(,?\d{3})*(\.\d*[1-9])?$/);
        expect(Math.abs(Number(text.replaceAll(",", "")) - value)).toBeLessThanOrEqual(0.5 * 10 ** -decimals + 1e-6);
      }),
    );
  });
});

describe("formatQuantity", () => {
  it.each([
    [1.5, "bar", "metric", "1.5 bar"],
    [1.5, "bar", "us", "21.8 psi"],
    [150, "kPa", "us", "21.8 psi"],
    [98, "°C", "metric", "98 °C"],
    [98, "°C", "us", "208.4 °F"],
    [95, "°C", "us", "203 °F"],
    [1980, "rpm", "us", "1980 rpm"],
    [1552.5, "rpm", "metric", "1552.5 rpm"],
    [20000, "GT", "metric", "20,000 GT"],
    [138.5055, "Ω", "metric", "138.51 Ω"],
    [12.8584, "mA", "metric", "12.86 mA"],
    [4.096, "mV", "metric", "4.096 mV"],
    [1013.25, "hPa", "us", "1013.3 hPa"],
    [0.35, "MPa", "us", "0.35 MPa"],
    [69, "Hz", "metric", "69 Hz"],
    [8.5, "%", "us", "8.5 %"],
    [Number.NaN, "bar", "us", "– psi"],
  ] as const)("%d %s for %s is %s", (value, of, system, expected) => {
    expect(formatQuantity(value, of, system)).toBe(expected);
  });

  it("shows each unit to its own number of decimals", () => {
    const decimals: Readonly<Record<number, readonly Unit[]>> = {
      0: ["GT"],
      1: ["kPa", "psi", "hPa", "°C", "°F", "rpm", "kW", "hp", "kVA", "A", "mm", "min", "s", "%"],
      2: ["bar", "kgf/cm2", "Hz", "V", "mA", "in", "Ω"],
      3: ["MPa", "mV", "MW", "MVA", "kV"],
    };
    const shown = ["7", "7.1", "7.12", "7.123"];
    expect(Object.values(decimals).flat().toSorted()).toEqual(UNITS.toSorted());
    for (const [count, units] of Object.entries(decimals)) {
      for (const of of units) expect(formatQuantity(7.1234, of, "metric")).toBe(`${shown[Number(count)]} ${of}`);
    }
  });
});
