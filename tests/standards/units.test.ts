import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import table from "../../fixtures/tables/units.json";
import { convert, isUnit, type Unit } from "../../lib/units/units.ts";
import { numberOf, within } from "./check.ts";

type UnitMath = (value: number, unit: string) => { to(unit: string): { getValue(): number } };
const unitmath: UnitMath = createRequire(import.meta.url)("unitmath");

const converted = (value: number, from: string, to: string) =>
  isUnit(from) && isUnit(to) ? convert(value, from, to) : ({ ok: false, faults: [`${from} or ${to} is no unit`] } as const);

describe("unit factors", () => {
  it("agree with the defining values (GNU units)", () => {
    for (const row of table.factors.rows) {
      const [from, value, to, result] = row as [string, number, string, number];
      within(converted(value, from, to), result, 1e-9 * result, `${value} ${from}`);
    }
  });

  it("agree with published bands (US Army TM tolerances)", () => {
    for (const row of table.bands.rows) {
      const [from, value, to, result] = row as [string, number, string, number];
      within(converted(value, from, to), result, 0.05, `${value} ${from}`);
    }
  });

  it("carry no binary noise where a reader would see it", () => {
    expect(convert(100, "°C", "°F")).toEqual({ ok: true, value: 212 });
    expect(convert(203, "°F", "°C")).toEqual({ ok: true, value: 95 });
    expect(convert(1.5, "bar", "kPa")).toEqual({ ok: true, value: 150 });
  });

  it.each<[Unit, string, Unit, string]>([
    ["psi", "psi", "kPa", "kPa"],
    ["bar", "bar", "psi", "psi"],
    ["MPa", "MPa", "bar", "bar"],
    ["hPa", "hPa", "psi", "psi"],
    ["hp", "hp", "kW", "kW"],
    ["in", "in", "mm", "mm"],
    ["min", "min", "s", "s"],
    ["mA", "mA", "A", "A"],
    ["mV", "mV", "V", "V"],
    ["°F", "degF", "°C", "degC"],
  ])("%s agrees with unitmath", (from, theirs, to, theirTarget) => {
    for (const value of [-40, 0.37, 15, 98, 1234.5]) {
      const expected = unitmath(value, theirs).to(theirTarget).getValue();
      expect(numberOf(convert(value, from, to))).toBeCloseTo(expected, 8);
      expect(numberOf(convert(expected, to, from))).toBeCloseTo(value, 8);
    }
  });
});
