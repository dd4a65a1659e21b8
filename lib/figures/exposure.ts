import { failure, type Result, success } from "../kernel/result.ts";
import type { Cited } from "./cited.ts";

/** Whose limits: "OSHA" 29 CFR 1910.95, which is law ashore in the US; "NIOSH" its stricter recommendation. */
export type NoiseRules = "OSHA" | "NIOSH";

interface Criterion {
  readonly minutes: number;
  readonly decibels: number;
  /** Every so many dB(A) more halve the time. */
  readonly exchange: number;
  /** Levels below it do not count towards a dose. */
  readonly countsFrom: number;
  readonly basis: Cited;
}

const CRITERIA: Readonly<Record<NoiseRules, Criterion>> = {
  OSHA: {
    minutes: 480,
    decibels: 90,
    exchange: 5,
    countsFrom: 80,
    basis: { cite: "29 CFR", paragraph: "1910.95 Table G-16 and Appendix A", mark: "read", edition: "2015 annual edition" },
  },
  // Counting every level errs on the safe side; no lower end was read.
  NIOSH: { minutes: 480, decibels: 85, exchange: 3, countsFrom: 0, basis: { cite: "NIOSH recommended exposure limit", mark: "read" } },
};

/**
 * Rows of 29 CFR 1910.95 Table G-16 that permit less than the formula gives, dB(A) and minutes a day: they are rounded down. The other
 * rows are the formula's own values, and none stands above 115 dB(A). Source: standards.md §7.
 */
const ROUNDED_DOWN: readonly (readonly [decibels: number, minutes: number])[] = [
  [92, 360],
  [97, 180],
  [102, 90],
];
const HIGHEST_ROW = 115;

/** Level in dB(A) above which hearing protection is wanted. Source: standards.md §7. */
export const HEARING_PROTECTION_ABOVE = {
  value: 85,
  basis: { cite: "IMO noise code, MSC.337(91)", paragraph: "5.1", mark: "read", edition: "attributed by its section numbers" },
} as const;

/** No sustained sound in air is louder, so that a slip of the pen is refused. */
const LOUDEST = 194;

const isLevel = (decibels: number): boolean => decibels > 0 && decibels <= LOUDEST;

const NO_LEVEL: Result<never> = failure(`a noise level must be above 0 and up to ${LOUDEST} dB(A)`);

/** Where the limits of `rules` stand. Never fails. */
export const noiseBasis = (rules: NoiseRules): Cited => CRITERIA[rules].basis;

/**
 * Time in min of which a whole day's dose consists at `decibels` dB(A): OSHA 480/2^((L − 90)/5), as Table G-16a; NIOSH
 * 480/2^((L − 85)/3). Source: 29 CFR 1910.95 Appendix A, standards.md §7 and §9 case 28. Fails unless the level is above 0 and up to 194.
 */
export const referenceMinutes = (decibels: number, rules: NoiseRules): Result<number> => {
  const { minutes, decibels: criterion, exchange } = CRITERIA[rules];
  return isLevel(decibels) ? success(minutes / 2 ** ((decibels - criterion) / exchange)) : NO_LEVEL;
};

/**
 * Minutes a day permitted at `decibels` dB(A) without protection: the reference time, under OSHA never more than the next lower row of
 * Table G-16 and 0 above its last, 115 dB(A). More than 1440 means all day. Source and failures as
 * `referenceMinutes`.
 */
export const permittedMinutes = (decibels: number, rules: NoiseRules): Result<number> => {
  const reference = referenceMinutes(decibels, rules);
  if (!reference.ok || rules === "NIOSH") return reference;
  if (decibels > HIGHEST_ROW) return success(0);
  const rows = ROUNDED_DOWN.flatMap(([from, minutes]) => (decibels >= from ? [minutes] : []));
  return success(Math.min(reference.value, ...rows));
};

/** Whether hearing protection is wanted: above 85 dB(A), whatever the time. Source: standards.md §7. Fails as `referenceMinutes`. */
export const hearingProtectionWanted = (decibels: number): Result<boolean> =>
  isLevel(decibels) ? success(decibels > HEARING_PROTECTION_ABOVE.value) : NO_LEVEL;

/** A stay in noise: dB(A) and min. */
export interface Exposure {
  readonly decibels: number;
  readonly minutes: number;
}

/**
 * Dose of a day in % of what is permitted: D = 100 (C1/T1 + C2/T2 + …), T the reference time; 100 is the limit. Under OSHA levels
 * below 80 dB(A) do not count, and any stay above 115 dB(A) is refused by `permittedMinutes` whatever the dose.
 * Source: 29 CFR 1910.95 Appendix A I, (d)(2)(i). Fails on no exposure at all, a level as `referenceMinutes`, or minutes not above 0.
 */
export const dosePercent = (exposures: readonly Exposure[], rules: NoiseRules): Result<number> => {
  if (exposures.length === 0) return failure("a dose needs at least one exposure");
  let dose = 0;
  for (const { decibels, minutes } of exposures) {
    const reference = referenceMinutes(decibels, rules);
    if (!reference.ok) return reference;
    if (!(minutes > 0 && Number.isFinite(minutes))) return failure("an exposure lasts more than 0 min");
    if (decibels >= CRITERIA[rules].countsFrom) dose += (100 * minutes) / reference.value;
  }
  return success(dose);
};
