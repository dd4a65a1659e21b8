import fc from "fast-check";
import { describe, expect, it } from "vitest";
import table from "../../fixtures/tables/hydraulicStarts.json";
import {
  type Accumulator,
  type GasChange,
  hydraulicStarts,
  prechargeAt,
  prechargeFits,
  usableOil,
} from "../../lib/figures/hydraulicStarts.ts";
import { convert } from "../../lib/units/units.ts";
import { faultsOf, numberOf, within } from "./check.ts";

type Row = [GasChange, number, number, number, number, number];
const gallonLitres = 3.785411784;

const accumulator = (litres: number, prechargeBar: number, lowestBar: number, chargedBar: number): Accumulator => ({
  litres,
  prechargeBar,
  lowestBar,
  chargedBar,
});

const inPsi = (litres: number, ...psi: readonly [number, number, number]): Accumulator => {
  const [precharge, lowest, charged] = psi.map((value) => numberOf(convert(value, "psi", "bar"))) as [number, number, number];
  return accumulator(litres, precharge, lowest, charged);
};

describe("oil in an accumulator", () => {
  it("is the published one, by absolute pressures (machinecalcs.com)", () => {
    for (const [change, precharge, lowest, charged, bracket, volume] of table.bracket.rows as Row[]) {
      const oil = usableOil(accumulator(1, precharge, lowest, charged), change);
      within(oil, bracket, 0.00005, change);
      expect(Math.abs(1 / numberOf(oil) - volume), change).toBeLessThanOrEqual(0.0005);
      within(usableOil(accumulator(volume, precharge, lowest, charged), change), 1, 0.0003, `${volume} L`);
    }
  });

  it("is not what gauge pressures would give", () => {
    for (const [change, precharge, lowest, charged, bracket, volume] of table.gaugeMistake.rows as Row[]) {
      const oil = numberOf(usableOil(accumulator(1, precharge, lowest, charged), change));
      expect(bracket - oil).toBeGreaterThan(0.0015);
      expect(1 / oil - volume).toBeGreaterThan(0.01);
    }
    for (const [gallons, precharge, lowest, charged, usable, onGauge] of table.boyle.rows as [
      number,
      number,
      number,
      number,
      number,
      number,
    ][]) {
      const oil = usableOil(inPsi(gallons * gallonLitres, precharge, lowest, charged), "slow");
      within(oil, usable * gallonLitres, 0.0005 * gallonLitres, "gal");
      expect(onGauge * gallonLitres - numberOf(oil)).toBeGreaterThan(0.01 * gallonLitres);
    }
  });

  it("of a starter is the least when charged slowly and used fast (TM 55-1905-219-14-1; reference-values §6(c))", () => {
    const usable = (table.starter.rows as [GasChange, number, number, number, number][]).map(
      ([change, precharge, lowest, charged, litres]) => {
        const oil = usableOil(inPsi(1, precharge, lowest, charged), change);
        within(oil, litres, 0.00005, change);
        return numberOf(oil);
      },
    );
    expect(usable).toEqual([...usable].sort((a, b) => b - a));
    expect(usable).toHaveLength(3);
  });

  it("slow charge, fast use never gives more than any other change, nor more than the volume", () => {
    const share = fc.double({ min: 0.001, max: 5, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: 1, max: 300, noNaN: true }), share, share, (precharge, above, charge) => {
        const one = accumulator(10, precharge, precharge * (1 + above), precharge * (1 + above) * (1 + charge));
        const starter = numberOf(usableOil(one, "slow charge, fast use"));
        for (const change of ["slow", "fast"] as const) expect(starter).toBeLessThanOrEqual(numberOf(usableOil(one, change)) + 1e-9);
        expect(starter).toBeGreaterThan(0);
        expect(starter).toBeLessThan(10);
      }),
    );
  });

  it("is refused where pressures or volume cannot be", () => {
    for (const bad of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(faultsOf(usableOil(accumulator(bad, 90, 100, 200), "slow"))).toContain("above 0 L");
      expect(faultsOf(usableOil(accumulator(10, bad, 100, 200), "slow"))).toContain("above 0 bar gauge");
    }
    for (const bad of [89, 0, -100, Number.NaN]) {
      expect(faultsOf(usableOil(accumulator(10, 90, bad, 200), "slow"))).toContain("below the precharge");
    }
    for (const bad of [100, 99, -200, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(faultsOf(usableOil(accumulator(10, 90, 100, bad), "slow"))).toContain("above its lowest pressure");
    }
    expect(usableOil(accumulator(10, 90, 90, 200), "slow").ok).toBe(true);
  });
});

describe("hydraulic starts", () => {
  it("are counted by slow charge and fast use, rounded down", () => {
    // 0.2831 L a litre (reference-values §6(c)): 20 L give 5.66 L; slow discharge would promise 8.95 L.
    const store = inPsi(20, 1250, 1500, 3250);
    expect(hydraulicStarts(store, 0.9)).toMatchObject({ ok: true, value: { whole: 6 } });
    expect(hydraulicStarts(store, 0.95)).toMatchObject({ ok: true, value: { whole: 5 } });
    const oil = numberOf(usableOil(store, "slow charge, fast use"));
    expect(hydraulicStarts(store, oil / 3)).toMatchObject({ value: { whole: 3 } });
    expect(hydraulicStarts(store, oil / 2.999)).toMatchObject({ value: { whole: 2 } });
  });

  it("need usable input", () => {
    for (const bad of [0, -1, Number.NaN]) expect(faultsOf(hydraulicStarts(accumulator(20, 90, 100, 200), bad))).toContain("more than 0 L");
    expect(faultsOf(hydraulicStarts(accumulator(0, 90, 100, 200), 1))).toContain("above 0 L");
  });
});

describe("precharge", () => {
  it("follows temperature by absolute pressure (reference-values §6(c))", () => {
    for (const [bar, then, now, expected] of table.precharge.rows as [number, number, number, number][]) {
      within(prechargeAt(bar, then, now), expected, 0.005, `${now} °C`);
      within(prechargeAt(numberOf(prechargeAt(bar, then, now)), now, then), bar, 1e-9, "back");
    }
    within(prechargeAt(100, 20, 20), 100, 1e-12, "unchanged");
  });

  // One atmosphere weighs little at 100 bar: at 1 bar gauge, (1 + 1.01325) × 273.15/293.15 − 1.01325, it decides.
  it("counts the atmosphere", () => within(prechargeAt(1, 20, 0), 0.8626471, 1e-7, "1 bar"));

  it("fits within 1.1 and 4 times (hydrospeichertechnik.de)", () => {
    for (const [lowest, charged, fits] of [
      [110, 400, true],
      [109, 400, false],
      [110, 401, false],
      [150, 300, true],
    ] as const) {
      expect(prechargeFits(accumulator(10, 100, lowest, charged)), `${lowest} to ${charged} bar`).toEqual({ ok: true, value: fits });
    }
    for (const [precharge, lowest, charged] of [
      [1000, 1200, 3000],
      [1250, 1500, 3250],
    ] as const) {
      expect(prechargeFits(inPsi(1, precharge, lowest, charged))).toEqual({ ok: true, value: true });
    }
  });

  it("needs usable input", () => {
    for (const bad of [0, -1, Number.NaN]) expect(faultsOf(prechargeAt(bad, 20, 0))).toContain("above 0 bar gauge");
    for (const bad of [-273.15, -300, Number.NaN]) {
      expect(faultsOf(prechargeAt(100, bad, 0))).toContain("−273.15 °C");
      expect(faultsOf(prechargeAt(100, 20, bad))).toContain("−273.15 °C");
    }
    expect(faultsOf(prechargeFits(accumulator(10, 0, 100, 200)))).toContain("above 0 bar gauge");
  });
});
