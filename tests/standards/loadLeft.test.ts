import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type LoadLeft, type LoadLeftInput, loadLeft, SHARING_LIMITS, type Sharing, sharingWithin } from "../../lib/figures/loadLeft.ts";
import type { Result } from "../../lib/kernel/result.ts";
import { faultsOf } from "./check.ts";

const numbersOf = <Value>(result: Result<Value>): Value => {
  if (!result.ok) throw new Error(result.faults.join("; "));
  return result.value;
};

describe("load left on the remaining sets (trade.md §7)", () => {
  const input: LoadLeftInput = {
    shipLoadKw: 800,
    motoringKw: 100,
    largestStarterKw: 100,
    remainingRatedKw: [750, 500],
    limitPercent: 80,
  };
  const left = (change: Partial<LoadLeftInput>): LoadLeft => numbersOf(loadLeft({ ...input, ...change }));

  it("is load, motoring power and largest starter as % of the rating that remains", () => {
    expect(left({})).toEqual({
      totalKw: 1000,
      percent: 80,
      withinLimit: true,
      largestLost: { setsLeft: true, percent: 200, withinLimit: false },
    });
    expect(left({ motoringKw: 101 })).toMatchObject({ totalKw: 1001, percent: 80.08, withinLimit: false });
    expect(left({ largestStarterKw: 0, motoringKw: 0 })).toMatchObject({ totalKw: 800, percent: 64, withinLimit: true });
  });

  it("says what happens should the largest of them trip", () => {
    expect(left({ remainingRatedKw: [500, 1250, 800] }).largestLost).toMatchObject({ setsLeft: true, withinLimit: true });
    expect(left({ remainingRatedKw: [500, 1250, 750] }).largestLost).toEqual({ setsLeft: true, percent: 80, withinLimit: true });
    expect(left({ remainingRatedKw: [1250, 1250] }).largestLost).toEqual({ setsLeft: true, percent: 80, withinLimit: true });
    expect(left({ remainingRatedKw: [1250] })).toEqual({ totalKw: 1000, percent: 80, withinLimit: true, largestLost: { setsLeft: false } });
  });

  it("case 8: motoring a diesel of 1250 kW costs the other set 62.5 to 312.5 kW (standards.md §4)", () => {
    const motored = (motoringKw: number) => left({ shipLoadKw: 700, largestStarterKw: 0, motoringKw, remainingRatedKw: [1250] }).percent;
    expect([motored(62.5), motored(312.5)]).toEqual([61, 81]);
  });

  it("is not decided by the noise of fractions", () => {
    expect(left({ shipLoadKw: 0.1, motoringKw: 0.2, largestStarterKw: 0, remainingRatedKw: [1], limitPercent: 30 }).withinLimit).toBe(true);
  });

  it("never gets better when a set is lost or load is added", () => {
    const rated = fc.array(fc.integer({ min: 1, max: 5000 }), { minLength: 1, maxLength: 6 });
    const kw = fc.integer({ min: 1, max: 5000 });
    fc.assert(
      fc.property(rated, kw, kw, (remainingRatedKw, shipLoadKw, motoringKw) => {
        const now = left({ remainingRatedKw, shipLoadKw, motoringKw });
        expect(left({ remainingRatedKw, shipLoadKw, motoringKw: motoringKw + 1 }).percent).toBeGreaterThan(now.percent);
        expect(now.largestLost.setsLeft).toBe(remainingRatedKw.length > 1);
        if (now.largestLost.setsLeft) expect(now.largestLost.percent).toBeGreaterThan(now.percent);
      }),
    );
  });

  it("refuses what cannot be", () => {
    const fault = (change: Partial<LoadLeftInput>): string => faultsOf(loadLeft({ ...input, ...change }));
    expect(fault({ remainingRatedKw: [] })).toContain("no set remains");
    for (const bad of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(fault({ remainingRatedKw: [750, bad] })).toContain("rated power");
      expect(fault({ shipLoadKw: bad })).toContain("ship's load");
      expect(fault({ limitPercent: bad })).toContain("limit");
    }
    for (const bad of [-1, Number.NaN]) {
      expect(fault({ motoringKw: bad })).toContain("0 kW or more");
      expect(fault({ largestStarterKw: bad })).toContain("0 kW or more");
    }
  });
});

describe("load sharing (class rule quoted at fadian.org; standards.md §3.1, §9 case 31)", () => {
  const share = (...sets: readonly (readonly [number, number])[]): Sharing =>
    numbersOf(sharingWithin(sets.map(([ratedKw, readingKw]) => ({ ratedKw, readingKw }))));

  it("case 31: 900 and 600 kW pass on two sets of 1250 kW, 950 and 550 kW fail", () => {
    expect(share([1250, 900], [1250, 600])).toEqual({ allowedKw: 187.5, deviationsKw: [150, -150], within: true, applies: true });
    expect(share([1250, 950], [1250, 550])).toEqual({ allowedKw: 187.5, deviationsKw: [200, -200], within: false, applies: true });
    expect((1250 * SHARING_LIMITS.ofSmallestPercent.value) / 100).toBe(312.5);
  });

  it("includes the limit itself", () => {
    expect(share([1250, 937.5], [1250, 562.5]).within).toBe(true);
    expect(share([1250, 938], [1250, 562]).within).toBe(false);
  });

  it("takes 25 % of the smallest set where that is less, and shares in proportion", () => {
    expect(share([1250, 1000], [500, 400])).toEqual({ allowedKw: 125, deviationsKw: [0, 0], within: true, applies: true });
    expect(share([1250, 1125], [500, 275])).toMatchObject({ deviationsKw: [125, -125], within: true });
    expect(share([1250, 1126], [500, 274]).within).toBe(false);
  });

  it("speaks from 20 to 100 % of all ratings", () => {
    for (const [total, applies] of [
      [499, false],
      [500, true],
      [2500, true],
      [2501, false],
    ] as const) {
      expect(share([1250, total / 2], [1250, total / 2]).applies, `${total} kW`).toBe(applies);
    }
  });

  it("takes the reading of a motored set", () => {
    expect(share([1250, 600], [1250, -50])).toMatchObject({ deviationsKw: [325, -325], within: false });
  });

  it("refuses what cannot be", () => {
    expect(faultsOf(sharingWithin([{ ratedKw: 1250, readingKw: 900 }]))).toContain("two sets");
    for (const ratedKw of [0, -1, Number.NaN]) {
      expect(
        faultsOf(
          sharingWithin([
            { ratedKw, readingKw: 900 },
            { ratedKw: 1250, readingKw: 1 },
          ]),
        ),
      ).toContain("rated power");
    }
    for (const readingKw of [-900, -901, Number.NaN]) {
      expect(
        faultsOf(
          sharingWithin([
            { ratedKw: 1250, readingKw },
            { ratedKw: 1250, readingKw: 900 },
          ]),
        ),
      ).toContain("more than 0 kW");
    }
  });
});
