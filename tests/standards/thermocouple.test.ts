import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../fixtures/tables/thermocouples.json";
import { type ThermocoupleKind, thermocoupleTemperature, thermocoupleVoltage } from "../../lib/figures/thermocouple.ts";
import { faultsOf, numberOf, within } from "./check.ts";

const rowsOf = (kind: ThermocoupleKind) => table[kind].rows as [number, number][];
const LIMITS = { K: [-270, 1372], J: [-210, 1200] } as const;

describe.each<ThermocoupleKind>(["K", "J"])("type %s (NIST SRD 60, ITS-90)", (kind) => {
  it("gives the published table to its last digit", () => {
    for (const [celsius, millivolts] of rowsOf(kind)) within(thermocoupleVoltage(kind, celsius), millivolts, 0.0005, `${celsius} °C`);
  });

  it("gives the temperature of a table voltage within what the last digit leaves open", () => {
    for (const [celsius, millivolts] of rowsOf(kind)) {
      if (celsius < -200) continue;
      within(thermocoupleTemperature(kind, millivolts), celsius, 0.04, `${millivolts} mV`);
    }
  });

  it("comes back within 0.001 °C and rises, whatever the cold junction", () => {
    const [low, high] = LIMITS[kind];
    const celsiusFrom = (min: number) => fc.double({ min, max: high - 1, noNaN: true });
    fc.assert(
      fc.property(celsiusFrom(low), fc.double({ min: -40, max: 80, noNaN: true }), (celsius, cold) => {
        const millivolts = numberOf(thermocoupleVoltage(kind, celsius, cold));
        within(thermocoupleTemperature(kind, millivolts, cold), celsius, 0.001, `${celsius} °C`);
        expect(numberOf(thermocoupleVoltage(kind, celsius + 1, cold))).toBeGreaterThan(millivolts);
      }),
    );
  });

  it("refuses what lies outside its range", () => {
    const [low, high] = LIMITS[kind];
    for (const celsius of [low - 0.1, high + 0.1, Number.NaN]) {
      expect(faultsOf(thermocoupleVoltage(kind, celsius))).toContain(`from ${low} to ${high} °C`);
      expect(faultsOf(thermocoupleVoltage(kind, 100, celsius))).toContain("cold junction");
      expect(faultsOf(thermocoupleTemperature(kind, 1, celsius))).toContain("cold junction");
    }
    for (const millivolts of [-8.2, 70, Number.NaN]) expect(thermocoupleTemperature(kind, millivolts).ok).toBe(false);
  });
});

describe("cold junctions", () => {
  it("give the voltages of thermocouple-its90 1.0.2", () => {
    for (const [kind, hot, cold, millivolts] of table.coldJunction.rows as [ThermocoupleKind, number, number, number][]) {
      within(thermocoupleVoltage(kind, hot, cold), millivolts, 0.00005, `${kind} ${hot}/${cold} °C`);
      within(thermocoupleTemperature(kind, millivolts, cold), hot, 0.002, `${kind} ${millivolts} mV`);
    }
  });

  it("give the published reading of 4.096 mV at 25 °C (pypi.org thermocouple-its90)", () => {
    for (const [kind, millivolts, cold, celsius] of table.coldJunctionReading.rows as [ThermocoupleKind, number, number, number][]) {
      within(thermocoupleTemperature(kind, millivolts, cold), celsius, 0.0005, `${millivolts} mV`);
    }
  });

  it("give nothing between equal junctions", () => {
    expect(thermocoupleVoltage("J", 40, 40)).toEqual({ ok: true, value: 0 });
  });
});
