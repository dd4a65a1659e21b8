import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../fixtures/tables/plates.json";
import { frequencyFromSpeed, speedFromFrequency } from "../../lib/figures/overspeed.ts";
import { activePower, apparentPower, plateContradictions, ratedCurrent } from "../../lib/figures/plate.ts";
import { faultsOf, numberOf, within } from "./check.ts";

describe("rated current and power", () => {
  it("give the published example of 114 kW, 440 V, 0.8 (scienceaq.com 397975)", () => {
    for (const [kilowatts, volts, powerFactor, amperes] of table.published.rows as [number, number, number, number][]) {
      within(ratedCurrent(numberOf(apparentPower(kilowatts, powerFactor)), volts), amperes, 0.0005, "A");
    }
  });

  it("give the worked table (reference-values §7, standards.md §9 case 11)", () => {
    for (const [kilowatts, volts, powerFactor, kva, amperes] of table.current.rows as [number, number, number, number, number][]) {
      within(apparentPower(kilowatts, powerFactor), kva, 0.0005, `${kilowatts} kW`);
      within(activePower(kva, powerFactor), kilowatts, 0.0005, `${kva} kVA`);
      within(ratedCurrent(numberOf(apparentPower(kilowatts, powerFactor)), volts), amperes, 0.051, `${kilowatts} kW`);
    }
  });

  it("refuse what is not above 0 and power factors beyond 1", () => {
    for (const bad of [0, -1, Number.NaN]) {
      for (const result of [ratedCurrent(bad, 440), ratedCurrent(100, bad), activePower(bad, 0.8), apparentPower(100, bad)]) {
        expect(faultsOf(result)).toContain("above 0");
      }
    }
    expect(activePower(100, 80).ok || apparentPower(100, 1.01).ok).toBe(false);
  });
});

describe("synchronous speed", () => {
  it("gives the published speeds, both ways (edurev.in 516103, NEETS 14177, mcqfinder.com)", () => {
    for (const [poles, hertz, rpm] of table.speed.rows as [number, number, number][]) {
      within(speedFromFrequency(hertz, poles), rpm, 0.0005, `${poles} poles at ${hertz} Hz`);
      within(frequencyFromSpeed(rpm, poles), hertz, 0.0001, `${poles} poles at ${rpm} rpm`);
    }
  });

  it("takes poles, not pairs (worldpowerfaqs.com)", () => {
    for (const [pairs, rpm, hertz] of table.polePairs.rows as [number, number, number][]) {
      within(frequencyFromSpeed(rpm, 2 * pairs), hertz, 1e-9, `${pairs} pairs at ${rpm} rpm`);
    }
    for (const poles of [0, 1, 3, 2.5, -4, Number.NaN]) {
      expect(faultsOf(frequencyFromSpeed(1800, poles))).toContain("even number");
      expect(faultsOf(speedFromFrequency(60, poles))).toContain("even number");
    }
    expect(faultsOf(frequencyFromSpeed(0, 4))).toContain("above 0 rpm");
    expect(faultsOf(speedFromFrequency(0, 4))).toContain("above 0 Hz");
  });

  it("comes back from its own frequency", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 30 }), fc.double({ min: 1, max: 400, noNaN: true }), (pairs, hertz) => {
        within(frequencyFromSpeed(numberOf(speedFromFrequency(hertz, 2 * pairs)), 2 * pairs), hertz, 1e-9, "Hz");
      }),
    );
  });
});

describe("a plate that contradicts itself", () => {
  const plate = {
    ratedPower: 1250,
    apparentPower: 1562.5,
    powerFactor: 0.8,
    voltage: 450,
    current: 2005,
    frequency: 60,
    poles: 4,
    ratedSpeed: 1800,
  } as const;

  it("is told nothing when it agrees or says too little", () => {
    expect(plateContradictions(plate)).toEqual([]);
    expect(plateContradictions({})).toEqual([]);
    for (const absent of Object.keys(plate)) expect(plateContradictions({ ...plate, [absent]: undefined })).toEqual([]);
    expect(plateContradictions({ ...plate, ratedPower: 0, current: Number.NaN, ratedSpeed: -1 })).toEqual([]);
  });

  it("is told each entry, what was expected and by how much", () => {
    expect(plateContradictions({ ...plate, ratedPower: 1300 })).toEqual([
      { what: "ratedPower", given: 1300, expected: 1250, unit: "kW", differencePercent: 4 },
    ]);
    expect(plateContradictions({ ...plate, ratedSpeed: 1200 })).toEqual([
      { what: "ratedSpeed", given: 1200, expected: 1800, unit: "rpm", differencePercent: -33.33 },
    ]);
    const [current, ...others] = plateContradictions({ ...plate, voltage: 400 });
    expect(others).toEqual([]);
    expect(current).toMatchObject({ what: "current", given: 2005, unit: "A", differencePercent: -11.1 });
    expect(current?.expected).toBeCloseTo(2255.27, 2);
  });

  it("is told where the kW are above the kVA, since no power factor is above 1 (trade.md §7: P = S·pf)", () => {
    expect(plateContradictions({ ratedPower: 336, apparentPower: 100 })).toMatchObject([{ what: "ratedPower", expected: 100 }]);
    expect(plateContradictions({ ratedPower: 100, apparentPower: 100 })).toEqual([]);
    expect(plateContradictions({ ratedPower: 336 })).toEqual([]);
  });

  it("is judged by kW and power factor where kVA is missing", () => {
    expect(plateContradictions({ ratedPower: 114, powerFactor: 0.8, voltage: 440, current: 187 })).toEqual([]);
    expect(plateContradictions({ ratedPower: 114, powerFactor: 0.8, voltage: 440, current: 108 })).toMatchObject([{ what: "current" }]);
  });

  it("is told from 1 % on, either way", () => {
    for (const [ratedSpeed, count] of [
      [1818, 0],
      [1819, 1],
      [1782, 0],
      [1781, 1],
    ] as const) {
      expect(plateContradictions({ ...plate, ratedSpeed })).toHaveLength(count);
    }
  });
});
