import { failure, type Result, success } from "../kernel/result.ts";

const SECONDS_PER_MINUTE = 60;

const faultOf = (teeth: number, given: number): string | undefined => {
  if (!Number.isInteger(teeth) || teeth < 1) return `a toothed wheel has a whole number of teeth, not ${teeth}`;
  return given >= 0 && Number.isFinite(given) ? undefined : "a pick-up signal needs a speed or frequency of 0 or more";
};

/**
 * Frequency in Hz of a magnetic pick-up over a wheel of `teeth` teeth at `rpm`: f = teeth × rpm/60. Source: trade.md §4.
 * Fails on a tooth count that is not a whole number from 1 and on a speed below 0.
 */
export const pickupFrequency = (teeth: number, rpm: number): Result<number> => {
  const fault = faultOf(teeth, rpm);
  return fault === undefined ? success((teeth * rpm) / SECONDS_PER_MINUTE) : failure(fault);
};

/**
 * Speed in rpm that a pick-up over a wheel of `teeth` teeth stands for at `hertz` Hz: n = 60 f/teeth. Source: trade.md §4.
 * Fails on a tooth count that is not a whole number from 1 and on a frequency below 0.
 */
export const pickupSpeed = (teeth: number, hertz: number): Result<number> => {
  const fault = faultOf(teeth, hertz);
  return fault === undefined ? success((hertz * SECONDS_PER_MINUTE) / teeth) : failure(fault);
};
