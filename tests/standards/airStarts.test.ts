import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../fixtures/tables/airStarts.json";
import {
  type AirPressures,
  airStarts,
  freeAir,
  joinedPressure,
  REFERENCE_BAR,
  receiverVolume,
  wholeStarts,
} from "../../lib/figures/airStarts.ts";
import { convert } from "../../lib/units/units.ts";
import { faultsOf, numberOf, within } from "./check.ts";

const CUBIC_FOOT_M3 = 0.3048 ** 3;
// The source's own rounding of the gallons in a cubic foot; 7.48052 would move its figures by 0.007 %.
const GALLON_M3 = CUBIC_FOOT_M3 / 7.48;
const EXACT_GALLON_M3 = 0.003785411784;

const bar = (psi: number): number => numberOf(convert(psi, "psi", "bar"));

describe("free air in receivers, in US units", () => {
  const pressures = (fromPsi: number, toPsi: number, paPsi = 14.7): AirPressures => ({
    fromBar: bar(fromPsi),
    toBar: bar(toPsi),
    referenceBar: bar(paPsi),
  });
  const relative = 1e-9;

  it("gives the air in receivers (Oak Ridge AMO-Tools-Suite)", () => {
    for (const [gallons, from, to, feet] of table.receiverAir.rows as [number, number, number, number][]) {
      const expected = feet * CUBIC_FOOT_M3;
      within(freeAir(gallons * GALLON_M3, pressures(from, to)), expected, relative * expected, `${gallons} gal`);
      within(freeAir(gallons * EXACT_GALLON_M3, pressures(from, to)), expected, 1e-4 * expected, `${gallons} exact gal`);
    }
  });

  it("gives the receivers for a flow (Oak Ridge AMO-Tools-Suite)", () => {
    for (const row of table.volumeForFlow.rows) {
      const [minutes, flow, pa, from, to, gallons] = row as [number, number, number, number, number, number];
      const expected = gallons * GALLON_M3;
      within(receiverVolume(1, minutes * flow * CUBIC_FOOT_M3, pressures(from, to, pa)), expected, relative * expected, `${gallons} gal`);
    }
  });

  it("gives the receivers for a demand (Oak Ridge AMO-Tools-Suite, ChiefREH)", () => {
    for (const [feet, fall, pa, gallons] of table.volumeForDemand.rows as [number, number, number, number][]) {
      const expected = gallons * GALLON_M3;
      within(receiverVolume(1, feet * CUBIC_FOOT_M3, pressures(fall, 0, pa)), expected, relative * expected, `${gallons} gal`);
    }
    for (const [flow, minutes, pa, fall, feet] of table.volumeInFeet.rows as [number, number, number, number, number][]) {
      const volume = receiverVolume(1, flow * minutes * CUBIC_FOOT_M3, pressures(fall, 0, pa));
      within(volume, feet * CUBIC_FOOT_M3, 0.005 * CUBIC_FOOT_M3, `${feet} ft³`);
    }
  });
});

describe("joined receivers", () => {
  it("settle at the published pressure, whatever the unit of volume (jirkapok/GasPlanner)", () => {
    for (const [first, firstBar, second, secondBar, joined] of table.joined.rows as [number, number, number, number, number][]) {
      const receivers = [
        { cubicMetres: first / 1000, bar: firstBar },
        { cubicMetres: second / 1000, bar: secondBar },
      ];
      within(joinedPressure(receivers), joined, 1e-9, `${joined} bar`);
      within(joinedPressure(receivers.map((one) => ({ ...one, bar: one.bar + 1.01325 }))), joined + 1.01325, 1e-9, "absolute");
    }
    within(joinedPressure([{ cubicMetres: 2.5, bar: 30 }]), 30, 1e-12, "one alone");
    within(
      joinedPressure([
        { cubicMetres: 2.5, bar: 30 },
        { cubicMetres: 2.5, bar: 0 },
      ]),
      15,
      1e-12,
      "one empty",
    );
  });

  it("need volumes above 0 and pressures from 0", () => {
    expect(faultsOf(joinedPressure([]))).toContain("at least one");
    for (const bad of [0, -1, Number.NaN]) expect(faultsOf(joinedPressure([{ cubicMetres: bad, bar: 30 }]))).toContain("above 0 m³");
    for (const bad of [-1, Number.NaN]) expect(faultsOf(joinedPressure([{ cubicMetres: 1, bar: bad }]))).toContain("0 bar or more");
  });
});

describe("air starts", () => {
  const pressures: AirPressures = { fromBar: 30, toBar: 18 };

  it("are the worked ones: 15 at 1 bar, 14 whole at 1.01325 bar (reference-values §6(a))", () => {
    for (const row of table.starts.rows) {
      const [volume, perStart, fromBar, toBar, referenceBar, starts, whole] = row as [
        number,
        number,
        number,
        number,
        number,
        number,
        number,
      ];
      const result = airStarts(volume, perStart, { fromBar, toBar, referenceBar });
      expect(result).toMatchObject({ ok: true, value: { whole } });
      if (result.ok) expect(Math.abs(result.value.exact - starts)).toBeLessThanOrEqual(0.005);
    }
  });

  it("are referred to one standard atmosphere unless another is stated", () => {
    expect(REFERENCE_BAR).toBe(1.01325);
    expect(airStarts(5, 4, pressures)).toEqual(airStarts(5, 4, { ...pressures, referenceBar: 1.01325 }));
    expect(airStarts(5, 4, pressures)).toMatchObject({ value: { whole: 14 } });
  });

  it("are the same for gauge and absolute pressures, and wrong for one of each", () => {
    const absolute = airStarts(5, 4, { fromBar: 31.01325, toBar: 19.01325 });
    expect(absolute).toMatchObject({ value: { whole: 14 } });
    expect(airStarts(5, 4, { fromBar: 31.01325, toBar: 18 })).toMatchObject({ value: { whole: 16 } });
  });

  it("are rounded down, except for the noise of fractions", () => {
    for (const [exact, whole] of [
      [15, 15],
      [15 - 1e-9, 15],
      [15 - 1e-8, 14],
      [14.999999, 14],
      [14.8, 14],
      [0.999, 0],
      [0, 0],
    ] as const) {
      expect(wholeStarts(exact), `${exact}`).toBe(whole);
    }
    // 3 starts of 0.1 m³ from 0.3 m³ of free air, which binary fractions put just below 3.
    expect(0.3 / 0.1).toBeLessThan(3);
    expect(airStarts(0.3, 0.1, { fromBar: 2, toBar: 1, referenceBar: 1 })).toMatchObject({ value: { whole: 3 } });
  });

  it("come back from the receiver made for them", () => {
    const positive = fc.double({ min: 0.1, max: 20, noNaN: true });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), positive, positive, (starts, perStart, fall) => {
        const air = { fromBar: 18 + fall, toBar: 18 };
        expect(airStarts(numberOf(receiverVolume(starts, perStart, air)), perStart, air)).toMatchObject({ value: { whole: starts } });
      }),
    );
  });

  it("need the worked receiver and filling (reference-values §6(a))", () => {
    for (const row of table.volumeForStarts.rows) {
      const [starts, perStart, fromBar, toBar, referenceBar, volume] = row as [number, number, number, number, number, number];
      within(receiverVolume(starts, perStart, { fromBar, toBar, referenceBar }), volume, 1e-9, `${volume} m³`);
    }
    for (const [volume, fromBar, toBar, referenceBar, air] of table.filling.rows as [number, number, number, number, number][]) {
      within(freeAir(volume, { fromBar, toBar, referenceBar }), air, 0.005, `${air} m³`);
    }
  });

  it("lose air with the receiver's temperature where it is stated (scribd 393671403)", () => {
    for (const row of table.withTemperature.rows) {
      const [flow, minutes, fromBar, toBar, receiverCelsius, referenceBar, referenceCelsius, volume] = row as [
        number,
        number,
        number,
        number,
        number,
        number,
        number,
        number,
      ];
      const air = { fromBar, toBar, referenceBar, temperatures: { receiverCelsius, referenceCelsius } };
      within(receiverVolume(1, (flow * minutes) / 60, air), volume, 0.0005, `${volume} m³`);
    }
    const hot = { ...pressures, temperatures: { receiverCelsius: 45, referenceCelsius: 0 } };
    expect(airStarts(5, 4, hot)).toMatchObject({ value: { whole: 12 } });
    expect(airStarts(5, 4, { ...pressures, temperatures: { receiverCelsius: 20, referenceCelsius: 20 } })).toEqual(
      airStarts(5, 4, pressures),
    );
  });

  it("need usable input", () => {
    for (const bad of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(faultsOf(airStarts(bad, 4, pressures))).toContain("volume above 0 m³");
      expect(faultsOf(airStarts(5, bad, pressures))).toContain("more than 0 m³");
      expect(faultsOf(receiverVolume(6, bad, pressures))).toContain("more than 0 m³");
      expect(faultsOf(airStarts(5, 4, { ...pressures, referenceBar: bad }))).toContain("above 0 bar absolute");
    }
    for (const bad of [0, -6, 2.5, Number.NaN]) expect(faultsOf(receiverVolume(bad, 4, pressures))).toContain("whole number");
    for (const bad of [18, 17, -30, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(faultsOf(airStarts(5, 4, { ...pressures, fromBar: bad }))).toContain("higher pressure");
      expect(faultsOf(receiverVolume(6, 4, { ...pressures, fromBar: bad }))).toContain("higher pressure");
    }
    for (const bad of [-1, Number.NaN]) expect(faultsOf(freeAir(5, { ...pressures, toBar: bad }))).toContain("higher pressure");
    for (const temperatures of [
      { receiverCelsius: -273.15, referenceCelsius: 0 },
      { receiverCelsius: 20, referenceCelsius: Number.NaN },
    ]) {
      expect(faultsOf(freeAir(5, { ...pressures, temperatures }))).toContain("−273.15 °C");
    }
  });
});
