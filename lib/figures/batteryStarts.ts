import { failure, type Result, success } from "../kernel/result.ts";
import { type Starts, wholeStarts } from "./airStarts.ts";

const SECONDS_PER_HOUR = 3600;

const isAbove0 = (value: number): boolean => value > 0 && Number.isFinite(value);

const isShare = (value: number): boolean => value > 0 && value <= 1;

/**
 * Charge in Ah that one crank of `seconds` s at `amperes` A takes: I·t/3600. Source: sens-usa.com (reference-values §6(b)).
 * Fails unless both are above 0.
 */
export const chargePerCrank = (amperes: number, seconds: number): Result<number> =>
  isAbove0(amperes) && isAbove0(seconds)
    ? success((amperes * seconds) / SECONDS_PER_HOUR)
    : failure("a crank needs a current and a time above 0");

/**
 * Current in A of a starter of `kilowatts` kW at `volts` V with `efficiency` above 0 and up to 1: I = P/(U·η). Source: studyres 7246190
 * (reference-values §6(b)). Fails outside those.
 */
export const crankingCurrent = (kilowatts: number, volts: number, efficiency: number): Result<number> =>
  isAbove0(kilowatts) && isAbove0(volts) && isShare(efficiency)
    ? success((kilowatts * 1000) / (volts * efficiency))
    : failure("a cranking current needs kW and V above 0 and an efficiency above 0 and up to 1");

/** A starting battery. */
export interface StartingBattery {
  /** Capacity in Ah at the temperature for which it is rated. */
  readonly ampereHours: number;
  /** Share of the capacity still in the battery when it no longer cranks; 0 up to, not including, 1. */
  readonly endOfUseFraction: number;
  /**
   * Share of the capacity that cold leaves, above 0 and up to 1: at −18 °C about 0.4 of the cranking capacity at 27 °C (TM 9-8000,
   * reference-values §6(b)).
   */
  readonly coldFactor: number;
}

/**
 * Starts in a battery when each takes `perCrank` Ah: capacity × cold factor × (1 − end of use)/charge per crank, with no charger.
 * Source: charge per crank reference-values §6(b); the shares are the reader's. Capacity at the hour rate flatters a cranking battery,
 * so this bounds from above. Fails unless all are in their ranges.
 */
export const batteryStarts = (battery: StartingBattery, perCrank: number): Result<Starts> => {
  const { ampereHours, endOfUseFraction, coldFactor } = battery;
  if (!isAbove0(ampereHours)) return failure("a battery needs a capacity above 0 Ah");
  if (!(endOfUseFraction >= 0 && endOfUseFraction < 1)) return failure("the end of a battery's use is a share from 0 to below 1");
  if (!isShare(coldFactor)) return failure("cold leaves a share above 0 and up to 1 of a battery's capacity");
  if (!isAbove0(perCrank)) return failure("a crank takes more than 0 Ah");
  const exact = (ampereHours * coldFactor * (1 - endOfUseFraction)) / perCrank;
  return success({ exact, whole: wholeStarts(exact) });
};
