import { failure, type Result, success } from "../kernel/result.ts";
import type { SignalRange } from "./currentLoop.ts";

// 10 % and 90 % of supply at the ends of the range: onlinesensors.co.uk (reference-values §4).
const LOW_SHARE = 0.1;
const SPAN_SHARE = 0.8;

const faultOf = (range: SignalRange, supplyVolts: number, given: number): string | undefined => {
  if (![range.lower, range.upper, supplyVolts, given].every(Number.isFinite)) return "a ratiometric signal needs finite numbers";
  if (supplyVolts <= 0) return `a ratiometric sensor's supply must be above 0 V, not ${supplyVolts} V`;
  return range.lower === range.upper ? "a ratiometric range must not begin and end at the same value" : undefined;
};

/**
 * Voltage in V that a ratiometric sensor gives at `value` on a measured supply of `supplyVolts` V: 0.1 to 0.9 of supply over `range`.
 * Source: reference-values §4. Fails on numbers that are not finite, a supply not above 0 V, and a range without width.
 */
export const ratiometricVoltage = (value: number, range: SignalRange, supplyVolts: number): Result<number> => {
  const fault = faultOf(range, supplyVolts, value);
  if (fault !== undefined) return failure(fault);
  return success(supplyVolts * (LOW_SHARE + (SPAN_SHARE * (value - range.lower)) / (range.upper - range.lower)));
};

/**
 * Value, in the unit of `range`, for which a ratiometric sensor on a measured supply of `supplyVolts` V gives `volts` V.
 * Source and failures as `ratiometricVoltage`.
 */
export const ratiometricValue = (volts: number, range: SignalRange, supplyVolts: number): Result<number> => {
  const fault = faultOf(range, supplyVolts, volts);
  if (fault !== undefined) return failure(fault);
  return success(range.lower + ((volts / supplyVolts - LOW_SHARE) / SPAN_SHARE) * (range.upper - range.lower));
};
