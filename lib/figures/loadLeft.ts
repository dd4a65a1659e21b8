import { failure, type Result, success } from "../kernel/result.ts";
import type { Cited, Limit } from "./cited.ts";

/** What the sets that remain have to carry, in kW, and the office's limit in % of their rating. */
export interface LoadLeftInput {
  readonly shipLoadKw: number;
  /** What the set under test takes while it is motored; 0 when it is not. */
  readonly motoringKw: number;
  /** The largest consumer that may start by itself; 0 when none does. */
  readonly largestStarterKw: number;
  /** Rated power of each set that remains on the board. */
  readonly remainingRatedKw: readonly number[];
  readonly limitPercent: number;
}

/** Load in % of the rating that carries it, and whether that is within the limit, the limit itself included. */
export interface LoadOnSets {
  readonly percent: number;
  readonly withinLimit: boolean;
}

/** Load on the remaining sets, and on what is left should the largest of them trip. */
export interface LoadLeft extends LoadOnSets {
  readonly totalKw: number;
  readonly largestLost: ({ readonly setsLeft: true } & LoadOnSets) | { readonly setsLeft: false };
}

const isAbove0 = (value: number): boolean => value > 0 && Number.isFinite(value);
const isFrom0 = (value: number): boolean => value >= 0 && Number.isFinite(value);
const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);

/** Noise of binary fractions, far below what a wattmeter shows. */
const NOISE = 1e-9;

/**
 * Load on the sets that remain while one is tested: (ship load + motoring power + largest self-starting consumer) as % of their
 * rating, and the same on the rest should the largest of them trip; nothing is taken off the load for that case. Source: trade.md §7.
 * Fails without a remaining set, on ratings, ship load or limit that are not above 0, and on motoring or starting power below 0.
 */
export const loadLeft = (input: LoadLeftInput): Result<LoadLeft> => {
  const { shipLoadKw, motoringKw, largestStarterKw, remainingRatedKw, limitPercent } = input;
  if (remainingRatedKw.length === 0) return failure("no set remains to carry the ship's load");
  if (!remainingRatedKw.every(isAbove0)) return failure("each remaining set needs a rated power above 0 kW");
  if (!isAbove0(shipLoadKw)) return failure("the ship's load must be above 0 kW");
  if (!isFrom0(motoringKw) || !isFrom0(largestStarterKw)) return failure("motoring and starting power must be 0 kW or more");
  if (!isAbove0(limitPercent)) return failure("the limit for the remaining sets must be above 0 %");
  const totalKw = shipLoadKw + motoringKw + largestStarterKw;
  const on = (ratedKw: number): LoadOnSets => {
    const percent = (100 * totalKw) / ratedKw;
    return { percent, withinLimit: percent <= limitPercent + NOISE };
  };
  const rated = sumOf(remainingRatedKw);
  return success({
    totalKw,
    ...on(rated),
    largestLost: remainingRatedKw.length > 1 ? { setsLeft: true, ...on(rated - Math.max(...remainingRatedKw)) } : { setsLeft: false },
  });
};

const SHARING: Cited = { cite: "class rule quoted at fadian.org", mark: "read", edition: "secondary page" };

/**
 * How far a set's kW may stand from its proportionate share: the smaller of 15 % of the largest and 25 % of the smallest rating, while
 * the total is 20 to 100 % of all ratings. Source: standards.md §3.1; classes usually say 25 % of the set in question (from memory).
 */
export const SHARING_LIMITS = {
  ofLargestPercent: { value: 15, basis: SHARING },
  ofSmallestPercent: { value: 25, basis: SHARING },
  fromTotalPercent: { value: 20, basis: SHARING },
  toTotalPercent: { value: 100, basis: SHARING },
} as const satisfies Readonly<Record<string, Limit>>;

/** One of the sets in parallel: rated power and what its wattmeter shows, both in kW. */
export interface SharingSet {
  readonly ratedKw: number;
  readonly readingKw: number;
}

/** How sets share their load, in kW: what may be, what is (reading less share, in the order given), and whether the rule speaks at all. */
export interface Sharing {
  readonly allowedKw: number;
  readonly deviationsKw: readonly number[];
  readonly within: boolean;
  /** False where the total lies outside the range of load for which the rule is written; `within` then binds nobody. */
  readonly applies: boolean;
}

/**
 * Whether each set in parallel carries its proportionate share of the total within the limits of `SHARING_LIMITS`, ends included.
 * Source: standards.md §9 case 31. Fails with fewer than two sets, ratings not above 0 kW, or readings that are not finite or do not
 * add up to more than 0 kW; one reading alone may be below 0, that set is motored.
 */
export const sharingWithin = (sets: readonly SharingSet[]): Result<Sharing> => {
  if (sets.length < 2) return failure("load is shared by two sets or more");
  const rated = sets.map(({ ratedKw }) => ratedKw);
  if (!rated.every(isAbove0)) return failure("each set that shares load needs a rated power above 0 kW");
  const total = sumOf(sets.map(({ readingKw }) => readingKw));
  if (!isAbove0(total)) return failure("the sets must carry more than 0 kW between them");
  const totalRated = sumOf(rated);
  const { ofLargestPercent, ofSmallestPercent, fromTotalPercent, toTotalPercent } = SHARING_LIMITS;
  const allowedKw = Math.min((Math.max(...rated) * ofLargestPercent.value) / 100, (Math.min(...rated) * ofSmallestPercent.value) / 100);
  const deviationsKw = sets.map(({ ratedKw, readingKw }) => readingKw - (total * ratedKw) / totalRated);
  const percent = (100 * total) / totalRated;
  return success({
    allowedKw,
    deviationsKw,
    within: deviationsKw.every((deviation) => Math.abs(deviation) <= allowedKw + NOISE),
    applies: percent >= fromTotalPercent.value - NOISE && percent <= toTotalPercent.value + NOISE,
  });
};
