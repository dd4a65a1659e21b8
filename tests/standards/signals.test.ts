import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../fixtures/tables/signals.json";
import { loopCurrent, loopState, loopValue } from "../../lib/figures/currentLoop.ts";
import { pickupFrequency, pickupSpeed } from "../../lib/figures/pickup.ts";
import { ratiometricValue, ratiometricVoltage } from "../../lib/figures/ratiometric.ts";
import { faultsOf, numberOf, within } from "./check.ts";

const ends = fc.integer({ min: -500, max: 500 });
const share = fc.double({ min: -0.2, max: 1.2, noNaN: true });

describe("4–20 mA", () => {
  it("gives the published examples, both ways (blog.isa.org, instrumentationtools.com)", () => {
    for (const [lower, upper, value, milliamps] of table.loop.rows as [number, number, number, number][]) {
      within(loopCurrent(value, { lower, upper }), milliamps, 0.00005, `${value} of ${lower}…${upper}`);
      within(loopValue(milliamps, { lower, upper }), value, 1e-3, `${milliamps} mA`);
    }
  });

  it("names the state of a current as NAMUR NE 43 does", () => {
    for (const [milliamps, state] of table.ne43.rows as [number, string][]) expect(loopState(milliamps), `${milliamps} mA`).toBe(state);
    expect(loopState(Number.NaN)).toBe("failure");
  });

  it("comes back from its own current, for rising and falling ranges", () => {
    fc.assert(
      fc.property(ends, ends, share, (lower, upper, part) => {
        fc.pre(lower !== upper);
        const value = lower + part * (upper - lower);
        const milliamps = loopCurrent(value, { lower, upper });
        within(milliamps, 4 + 16 * part, 1e-6, "mA");
        within(loopValue(numberOf(milliamps), { lower, upper }), value, 1e-6, "value");
      }),
    );
  });

  it("refuses a range without width and numbers that are not finite", () => {
    expect(faultsOf(loopCurrent(1, { lower: 3, upper: 3 }))).toContain("same value");
    expect(faultsOf(loopValue(Number.NaN, { lower: 0, upper: 3 }))).toContain("finite");
  });
});

describe("ratiometric sensors", () => {
  const range = { lower: 0, upper: 10 };

  it("give the published voltages, both ways (onlinesensors.co.uk)", () => {
    for (const [supply, bar, volts] of table.ratiometric.rows as [number, number, number][]) {
      within(ratiometricVoltage(bar, range, supply), volts, 0.00002, `${bar} bar on ${supply} V`);
      within(ratiometricValue(volts, range, supply), bar, 0.00005, `${volts} V on ${supply} V`);
    }
  });

  it("come back from their own voltage on any supply", () => {
    fc.assert(
      fc.property(ends, ends, share, fc.double({ min: 3, max: 12, noNaN: true }), (lower, upper, part, supply) => {
        fc.pre(lower !== upper);
        const value = lower + part * (upper - lower);
        const volts = numberOf(ratiometricVoltage(value, { lower, upper }, supply));
        within(ratiometricValue(volts, { lower, upper }, supply), value, 1e-6, "value");
      }),
    );
  });

  it("refuse a dead supply, a range without width and numbers that are not finite", () => {
    expect(faultsOf(ratiometricValue(2.5, range, 0))).toContain("above 0 V");
    expect(faultsOf(ratiometricVoltage(2.5, { lower: 1, upper: 1 }, 5))).toContain("same value");
    expect(faultsOf(ratiometricVoltage(Number.NaN, range, 5))).toContain("finite");
  });
});

describe("magnetic pick-ups (f = teeth × rpm/60, trade.md §4)", () => {
  it.each([
    [60, 1800, 1800],
    [118, 2070, 4071],
    [1, 600, 10],
  ])("%d teeth at %d rpm give %d Hz", (teeth, rpm, hertz) => {
    within(pickupFrequency(teeth, rpm), hertz, 1e-9, "Hz");
    within(pickupSpeed(teeth, hertz), rpm, 1e-9, "rpm");
  });

  it("refuse wheels without whole teeth and speeds below 0", () => {
    for (const teeth of [0, 1.5, -60, Number.NaN]) expect(faultsOf(pickupFrequency(teeth, 1800))).toContain("whole number of teeth");
    expect(faultsOf(pickupFrequency(60, -1))).toContain("0 or more");
    expect(faultsOf(pickupSpeed(60, Number.NaN))).toContain("0 or more");
  });
});
