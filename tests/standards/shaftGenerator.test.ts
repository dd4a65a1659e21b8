import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../fixtures/tables/shaftGenerator.json";
import { GENERATOR_OVERSPEED_FACTOR, overspeedLimit, PROPULSION_OVERSPEED_FACTOR } from "../../lib/figures/overspeed.ts";
import { FREQUENCY_BAND, generatorSpeed, ratioNeeded, shaftFrequency, shaftSpeed, speedWindow } from "../../lib/figures/shaftGenerator.ts";
import { faultsOf, numberOf, within } from "./check.ts";

describe("shaft generator", () => {
  it("gives the worked frequencies and ratios (reference-values §7 and 9)", () => {
    for (const [rpm, ratio, poles, hertz] of table.frequency.rows as [number, number, number, number][]) {
      within(shaftFrequency(rpm, ratio, poles), hertz, 0.0005, `${rpm} rpm`);
    }
    for (const [shaft, generator, ratio] of table.ratio.rows as [number, number, number][]) {
      within(ratioNeeded(shaft, generator), ratio, 5e-7, `${generator} rpm`);
      within(generatorSpeed(shaft, ratio), generator, 0.0001, `${shaft} rpm`);
      within(shaftSpeed(generator, ratio), shaft, 0.0001, `${generator} rpm`);
    }
  });

  it("takes poles, not pairs: 6 pairs are 12 poles (reference-values §7 and 9)", () => {
    within(shaftFrequency(120, 8.5, 2 * 6), 102, 1e-9, "12 poles");
    within(shaftFrequency(120, 8.5, 6), 51, 1e-9, "6 poles");
    for (const poles of [0, 1, 3, -4, 2.5, Number.NaN]) {
      expect(faultsOf(shaftFrequency(105, 17, poles))).toContain("even number");
      expect(faultsOf(speedWindow({ hertz: 60, ratio: 3.6, poles }))).toContain("even number");
    }
  });

  it("case 23: the generator's limit is 575 rpm at the engine, and the propulsion device's 600 rpm lies over it (standards.md §9)", () => {
    const limit = numberOf(overspeedLimit(1800, GENERATOR_OVERSPEED_FACTOR));
    within(shaftSpeed(limit, 3.6), 575, 1e-9, "575 rpm");
    const device = numberOf(overspeedLimit(500, PROPULSION_OVERSPEED_FACTOR));
    within(generatorSpeed(device, 3.6), 2160, 1e-9, "2160 rpm");
    expect(numberOf(generatorSpeed(device, 3.6))).toBeGreaterThan(limit);
  });

  it("case 24: 95 to 105 % of shaft speed are 57 to 63 Hz (standards.md §9; ±5 % and ±10 % from memory)", () => {
    for (const [percent, lowestRpm, highestRpm, lowestHertz, highestHertz] of table.window.rows as [
      number,
      number,
      number,
      number,
      number,
    ][]) {
      expect(speedWindow({ hertz: 60, ratio: 3.6, poles: 4, percent })).toEqual({
        ok: true,
        value: { lowestRpm, highestRpm, lowestHertz, highestHertz },
      });
    }
    expect(speedWindow({ hertz: 60, ratio: 3.6, poles: 4 })).toMatchObject({ value: { lowestRpm: 475, highestRpm: 525 } });
    expect(Object.values(FREQUENCY_BAND).map(({ value, basis }) => [value, basis.mark])).toEqual([
      [5, "memory"],
      [10, "memory"],
      [5, "memory"],
    ]);
  });

  it("has the frequencies of its window at the ends of it", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(50, 60),
        fc.double({ min: 0.5, max: 30, noNaN: true }),
        fc.integer({ min: 1, max: 12 }),
        fc.double({ min: 0.1, max: 20, noNaN: true }),
        (hertz, ratio, pairs, percent) => {
          const window = speedWindow({ hertz, ratio, poles: 2 * pairs, percent });
          if (!window.ok) throw new Error(window.faults.join("; "));
          within(shaftFrequency(window.value.lowestRpm, ratio, 2 * pairs), window.value.lowestHertz, 1e-9, "lowest");
          within(shaftFrequency(window.value.highestRpm, ratio, 2 * pairs), window.value.highestHertz, 1e-9, "highest");
        },
      ),
    );
  });

  it("needs usable input", () => {
    for (const bad of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      for (const result of [generatorSpeed(bad, 3.6), shaftSpeed(bad, 3.6), ratioNeeded(bad, 1800), ratioNeeded(105, bad)]) {
        expect(faultsOf(result)).toContain("above 0 rpm");
      }
      for (const result of [generatorSpeed(105, bad), shaftSpeed(1800, bad), shaftFrequency(105, bad, 4)]) {
        expect(faultsOf(result)).toContain("ratio above 0");
      }
      expect(faultsOf(speedWindow({ hertz: 60, ratio: bad, poles: 4 }))).toContain("ratio above 0");
      expect(faultsOf(speedWindow({ hertz: bad, ratio: 3.6, poles: 4 }))).toContain("above 0 Hz");
    }
    for (const percent of [0, -5, 100, Number.NaN]) {
      expect(faultsOf(speedWindow({ hertz: 60, ratio: 3.6, poles: 4, percent }))).toContain("between 0 and 100 %");
    }
  });
});

describe("steam turbine (standards.md §9 case 25, LR Ships Pt 5 Ch 3, 6.2.1)", () => {
  it("may trip at 6900 rpm at most when designed for 6000 rpm; a device at 110 % passes", () => {
    const limit = numberOf(overspeedLimit(6000, GENERATOR_OVERSPEED_FACTOR));
    expect(limit).toBe(6900);
    expect(numberOf(overspeedLimit(6000, 1.1))).toBe(6600);
    expect([6600 <= limit, 6900 <= limit, 6901 <= limit]).toEqual([true, true, false]);
  });
});
