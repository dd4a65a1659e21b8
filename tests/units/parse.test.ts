import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readQuantity, type Written } from "../../lib/units/parse.ts";
import { formatNumber, UNITS, type Unit } from "../../lib/units/units.ts";

const read = (text: string, unit?: Unit): Written | string => {
  const found = readQuantity(text, unit);
  return found.ok ? found.value : found.faults.join();
};

describe("numbers as people write them", () => {
  test.each<[string, Unit | undefined, Written]>([
    ["1,250 kW", "kW", { value: 1250, unit: "kW" }],
    ["98°C", "°C", { value: 98, unit: "°C" }],
    ["208 °F", "°C", { value: 208, unit: "°F" }],
    ["208F", "°C", { value: 208, unit: "°F" }],
    ["98 ºC", "°C", { value: 98, unit: "°C" }],
    ["2,5 bar", "bar", { value: 2.5, unit: "bar" }],
    ["22 PSI", "bar", { value: 22, unit: "psi" }],
    ["0,250", "m³", { value: 0.25 }],
    ["1,25", "bar", { value: 1.25 }],
    ["1.250,5", "kW", { value: 1250.5 }],
    ["1,250.5", "kW", { value: 1250.5 }],
    ["1 250", "kW", { value: 1250 }],
    ["1\u202f250\u00a0kW", "kW", { value: 1250, unit: "kW" }],
    ["1'250 kW", "kW", { value: 1250, unit: "kW" }],
    ["1’250 kW", "kW", { value: 1250, unit: "kW" }],
    ["12,345,678", "kW", { value: 12345678 }],
    ["± 0.2 bar", "bar", { value: 0.2, unit: "bar" }],
    ["+/- 0.2", "bar", { value: 0.2 }],
    ["−5 °C", "°C", { value: -5, unit: "°C" }],
    [".5", "bar", { value: 0.5 }],
    ["1800 r/min", "rpm", { value: 1800, unit: "rpm" }],
    ["1800 min⁻¹", "rpm", { value: 1800, unit: "rpm" }],
    ["100 ohm", "Ω", { value: 100, unit: "Ω" }],
    ["\u200b1250\u200b", "kW", { value: 1250 }],
    ["120", undefined, { value: 120 }],
    ["0.25 m3", "m³", { value: 0.25, unit: "m³" }],
    ["-0", "°C", { value: 0 }],
  ])("%s", (text, unit, wanted) => {
    expect(read(text, unit)).toEqual(wanted);
  });
});

describe("what is no such number is told with what is wanted", () => {
  test.each<[string, Unit | undefined]>([
    ["", "kW"],
    ["about 1250", "kW"],
    ["4-20 mA", "mA"],
    ["12,34,56", "kW"],
    ["1.2.3,4.5", "kW"],
    ["1,250 kg", "kW"],
    ["98 °C", "kW"],
    ["120 teeth", undefined],
    ["1e400", "kW"],
    ["12 50", "kW"],
    ["1,2 3", "kW"],
    ["=1+1", "kW"],
    ["9".repeat(400), "kW"],
  ])("%s", (text, unit) => {
    expect(read(text, unit)).toMatch(/^a number such as 1250 or 2\.5/);
  });

  test("the units it may be in are named", () => {
    expect(read("98 kW", "bar")).toBe("a number such as 1250 or 2.5, in bar, kPa, MPa, psi, kgf/cm2, hPa");
  });
});

test("what the program writes, it reads back: every unit, every size", () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...UNITS),
      fc.integer({ min: -5_000_000, max: 5_000_000 }),
      fc.integer({ min: 0, max: 3 }),
      (unit, whole, places) => {
        const value = whole / 10 ** places;
        expect(read(`${formatNumber(value, 3)} ${unit}`, unit)).toEqual({ value: value === 0 ? 0 : value, unit });
      },
    ),
    { numRuns: 2000 },
  );
});

test("no text makes it fail otherwise than by saying what is wanted, nor gives what is no number", () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string({ unit: "binary", maxLength: 60 }),
        fc.string({ unit: fc.constantFrom(..."0123456789.,' -+±°CFkW\u00a0"), maxLength: 20 }),
      ),
      (text) => {
        const found = readQuantity(text, "bar");
        if (found.ok) expect(Number.isFinite(found.value.value)).toBe(true);
        else expect(found.faults).toHaveLength(1);
      },
    ),
    { numRuns: 5000 },
  );
});
