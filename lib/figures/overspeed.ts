import { failure, type Result, success } from "../kernel/result.ts";
import { formatQuantity } from "../units/units.ts";

/** Highest permitted trip of an engine or turbine that drives a generator, as a factor of rated speed: 46 CFR 111.12-1(b) (standards.md §1, §9). */
export const GENERATOR_OVERSPEED_FACTOR = 1.15;

/** Highest permitted trip of a main engine that can be declutched or drives a controllable-pitch propeller: IACS UR M3.1.2 (standards.md §3.1). */
export const PROPULSION_OVERSPEED_FACTOR = 1.2;

const isAbove0 = (value: number): boolean => value > 0 && Number.isFinite(value);

/** Drops the noise of binary fractions, far below anything a tachometer shows. */
const withoutNoise = (value: number): number => Math.round(value * 1e6) / 1e6;

/**
 * Highest permitted trip speed in rpm: `factor` × `ratedRpm`, rounded down to 0.1 rpm so that rounding never raises a limit.
 * Source: standards.md §9 cases 1–3, 23, 25. Fails unless both are above 0.
 */
export const overspeedLimit = (ratedRpm: number, factor: number): Result<number> => {
  if (!isAbove0(ratedRpm) || !isAbove0(factor)) return failure("an overspeed limit needs a rated speed and a factor above 0");
  return success(Math.floor(withoutNoise(ratedRpm * factor * 10)) / 10);
};

/** Where a reduced-threshold test mode is proven, all in rpm: the threshold itself, and the speeds that must not and must trip. */
export interface VerifyPoint {
  readonly thresholdRpm: number;
  readonly holdsAtRpm: number;
  readonly tripsAtRpm: number;
}

/**
 * Verify point of a test mode that lowers the threshold to `fraction` of the set point, with the speeds `spreadRpm` below (no trip)
 * and above (trip). Source: standards.md §6.3 and §9 cases 9, 10. Fails unless the set point is above 0, the fraction between 0 and 1,
 * and the spread 0 or more and below the threshold.
 */
export const verifyPoint = (setPointRpm: number, fraction: number, spreadRpm: number): Result<VerifyPoint> => {
  if (!isAbove0(setPointRpm)) return failure("a verify point needs a set point above 0 rpm");
  if (!(fraction > 0 && fraction < 1)) return failure("a test mode lowers the threshold to a fraction between 0 and 1 of the set point");
  const threshold = withoutNoise(setPointRpm * fraction);
  if (!(spreadRpm >= 0 && spreadRpm < threshold)) return failure("the spread about a verify point must be 0 rpm or more and below it");
  return success({
    thresholdRpm: threshold,
    holdsAtRpm: withoutNoise(threshold - spreadRpm),
    tripsAtRpm: withoutNoise(threshold + spreadRpm),
  });
};

/** What bounds a real overspeed, all in rpm; tolerance and tachometer error are ± values. A limit that is not known is left out. */
export interface AbortWindowInput {
  readonly setPoint: number;
  readonly tolerance: number;
  readonly tachometerError: number;
  readonly ruleLimit?: number | undefined;
  readonly makersMaximum?: number | undefined;
  readonly alternatorLimit?: number | undefined;
}

/** The limit that ends an abort window. */
export type AbortLimit = "ruleLimit" | "makersMaximum" | "alternatorLimit";

/** Speeds in rpm between which a real overspeed without a trip is broken off, or why there are none. */
export type AbortWindow =
  | { readonly empty: false; readonly from: number; readonly to: number; readonly limitedBy: AbortLimit }
  | { readonly empty: true; readonly reason: string };

const LIMITS: readonly AbortLimit[] = ["ruleLimit", "makersMaximum", "alternatorLimit"];

const LIMIT_NAMES: Readonly<Record<AbortLimit, string>> = {
  ruleLimit: "the rule limit",
  makersMaximum: "the maker's maximum",
  alternatorLimit: "the alternator's limit",
};

const lowestLimit = (input: AbortWindowInput): readonly [AbortLimit, number] | undefined => {
  let lowest: readonly [AbortLimit, number] | undefined;
  for (const limit of LIMITS) {
    const speed = input[limit];
    if (speed !== undefined && (lowest === undefined || speed < lowest[1])) lowest = [limit, speed];
  }
  return lowest;
};

/**
 * The abort window of a real overspeed: from set point + tolerance + tachometer error to the lowest of the known limits; the first
 * of equal limits names it. Empty, with the reason, when no limit is known, when the limits leave no room, or when a number cannot be
 * used. Source: trade.md §4. Never fails: an empty window is an answer.
 */
export const abortWindow = (input: AbortWindowInput): AbortWindow => {
  const { setPoint, tolerance, tachometerError } = input;
  const lowest = lowestLimit(input);
  const usable = isAbove0(setPoint) && [tolerance, tachometerError].every((error) => error >= 0 && Number.isFinite(error));
  if (!usable) return { empty: true, reason: "set point, tolerance and tachometer error must be usable numbers" };
  if (lowest === undefined) return { empty: true, reason: "no upper limit is known" };
  const [limitedBy, to] = lowest;
  if (!LIMITS.every((limit) => input[limit] === undefined || isAbove0(input[limit]))) {
    return { empty: true, reason: "a limit must be a speed above 0" };
  }
  const from = withoutNoise(setPoint + tolerance + tachometerError);
  if (from < to) return { empty: false, from, to, limitedBy };
  const reach = `a trip may come as late as ${formatQuantity(from, "rpm", "metric")}`;
  return { empty: true, reason: `${reach}, and ${LIMIT_NAMES[limitedBy]} is ${formatQuantity(to, "rpm", "metric")}` };
};

const polesAreUsable = (poles: number): boolean => Number.isInteger(poles) && poles >= 2 && poles % 2 === 0;

/**
 * Frequency in Hz of a synchronous generator with `poles` poles (not pole pairs) at `rpm`: f = n·p/120.
 * Source: standards.md §5, reference-values §7. Fails unless the speed is above 0 and the poles are an even number from 2.
 */
export const frequencyFromSpeed = (rpm: number, poles: number): Result<number> => {
  if (!polesAreUsable(poles)) return failure(`a generator has an even number of poles, not ${poles}`);
  return isAbove0(rpm) ? success((rpm * poles) / 120) : failure("a frequency needs a speed above 0 rpm");
};

/**
 * Synchronous speed in rpm of a generator with `poles` poles (not pole pairs) at `hertz` Hz: n = 120·f/p.
 * Source: standards.md §5, reference-values §7. Fails unless the frequency is above 0 and the poles are an even number from 2.
 */
export const speedFromFrequency = (hertz: number, poles: number): Result<number> => {
  if (!polesAreUsable(poles)) return failure(`a generator has an even number of poles, not ${poles}`);
  return isAbove0(hertz) ? success((120 * hertz) / poles) : failure("a synchronous speed needs a frequency above 0 Hz");
};
