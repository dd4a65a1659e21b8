import { failure, type Result, success } from "../kernel/result.ts";

/** What a signal spans: the value at its lower and at its upper end, both in the measured unit; upper may be the smaller number. */
export interface SignalRange {
  readonly lower: number;
  readonly upper: number;
}

/** What a receiver makes of a loop current: "undefined" is the gap that NAMUR NE 43 leaves between failure and measuring range. */
export type LoopState = "failure" | "undefined" | "saturated" | "measuring";

const LOW_MA = 4;
const SPAN_MA = 16;

// NAMUR NE 43 as read in zeroinstrument.com and g-sensor.net 384 (reference-values §4), mA.
const FAILURE_BELOW_MA = 3.6;
const FAILURE_ABOVE_MA = 21;
const VALID_FROM_MA = 3.8;
const VALID_TO_MA = 20.5;
const HIGH_MA = LOW_MA + SPAN_MA;

const faultOf = (range: SignalRange, given: number): string | undefined => {
  if (![range.lower, range.upper, given].every(Number.isFinite)) return "a loop current needs finite numbers";
  return range.lower === range.upper ? "a 4–20 mA range must not begin and end at the same value" : undefined;
};

/**
 * Current in mA that a 4–20 mA transmitter gives at `value`, linear over `range` and carried on beyond its ends
 * (ask `loopState` what such a current means). Source: I = 4 + 16 (x − lower)/(upper − lower) (reference-values §4).
 * Fails on numbers that are not finite and on a range without width.
 */
export const loopCurrent = (value: number, range: SignalRange): Result<number> => {
  const fault = faultOf(range, value);
  return fault === undefined ? success(LOW_MA + (SPAN_MA * (value - range.lower)) / (range.upper - range.lower)) : failure(fault);
};

/**
 * Value, in the unit of `range`, for which a 4–20 mA transmitter gives `milliamps` mA. Source and failures as `loopCurrent`.
 */
export const loopValue = (milliamps: number, range: SignalRange): Result<number> => {
  const fault = faultOf(range, milliamps);
  return fault === undefined ? success(range.lower + ((milliamps - LOW_MA) / SPAN_MA) * (range.upper - range.lower)) : failure(fault);
};

/**
 * What a receiver that keeps to NAMUR NE 43 makes of `milliamps` mA: failure below 3.6 or above 21, measuring from 4 to 20,
 * saturated on to 3.8 and 20.5, undefined in the gaps between. A number that is not finite is a failure. Source: reference-values §4.
 */
export const loopState = (milliamps: number): LoopState => {
  if (!(milliamps >= FAILURE_BELOW_MA && milliamps <= FAILURE_ABOVE_MA)) return "failure";
  if (milliamps < VALID_FROM_MA || milliamps > VALID_TO_MA) return "undefined";
  return milliamps < LOW_MA || milliamps > HIGH_MA ? "saturated" : "measuring";
};
