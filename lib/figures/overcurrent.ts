import { failure, type Result, success } from "../kernel/result.ts";
import type { Cited, Limit } from "./cited.ts";

const protection = (paragraph: string): Cited => ({
  cite: "46 CFR",
  paragraph,
  mark: "read",
  edition: "2015 annual edition, may have changed in 2023",
});

/** Limits on the trips of a generator breaker. Source: 46 CFR 111.12-11 (standards.md §1.1). */
export const OVERCURRENT_LIMITS = {
  /** Of rated current, or of the overload rating where that holds for so many hours. */
  longTimePercent: { value: 115, basis: protection("111.12-11(d)") },
  overloadRatingHours: { value: 2, basis: protection("111.12-11(d)(2)") },
  /** AC generators that can be paralleled from which an instantaneous trip is required. */
  instantaneousFromGenerators: { value: 3, basis: protection("111.12-11(c)(3)") },
} as const satisfies Readonly<Record<string, Limit>>;

const isAbove0 = (value: number): boolean => value > 0 && Number.isFinite(value);

/** An overload rating: A, and the hours for which it holds. */
export interface OverloadRating {
  readonly amperes: number;
  readonly hours: number;
}

/**
 * Highest permitted long-time pick-up in A: 115 % of `ratedAmperes`, or of the overload rating if that holds for 2 h or more.
 * Source: 46 CFR 111.12-11(d); standards.md §9 case 11. Fails unless currents and hours are above 0, and on an overload rating below
 * the rated current.
 */
export const longTimePickUpLimit = (ratedAmperes: number, overload?: OverloadRating): Result<number> => {
  if (!isAbove0(ratedAmperes)) return failure("a long-time pick-up needs a rated current above 0 A");
  if (overload !== undefined && !(isAbove0(overload.hours) && Number.isFinite(overload.amperes) && overload.amperes >= ratedAmperes)) {
    return failure("an overload rating holds for more than 0 h and is not below the rated current");
  }
  const { longTimePercent, overloadRatingHours } = OVERCURRENT_LIMITS;
  const counts = overload !== undefined && overload.hours >= overloadRatingHours.value;
  return success(((counts ? overload.amperes : ratedAmperes) * longTimePercent.value) / 100);
};

/**
 * Whether a generator breaker must have an instantaneous trip or must not: required for DC, and where 3 or more AC generators can be
 * paralleled; else not permitted. Source: 46 CFR 111.12-11(c)(3); standards.md §9 case 12.
 * Fails unless `inParallel`, the generators that can be paralleled, is a whole number from 1.
 */
export const instantaneousTrip = (current: "AC" | "DC", inParallel: number): Result<"required" | "not permitted"> => {
  if (!Number.isInteger(inParallel) || inParallel < 1) {
    return failure(`generators that can be paralleled are a whole number from 1, not ${inParallel}`);
  }
  const required = current === "DC" || inParallel >= OVERCURRENT_LIMITS.instantaneousFromGenerators.value;
  return success(required ? "required" : "not permitted");
};
