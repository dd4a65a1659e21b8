import { failure, type Result, success } from "../kernel/result.ts";
import type { Limit } from "./cited.ts";
import { frequencyFromSpeed, speedFromFrequency } from "./overspeed.ts";

const isAbove0 = (value: number): boolean => value > 0 && Number.isFinite(value);

/** Permitted deviation of frequency in %: lasting, and for 5 s. From memory, so to be verified (standards.md §3.1). */
export const FREQUENCY_BAND = {
  lastingPercent: { value: 5, basis: { cite: "IACS UR E5", mark: "memory" } },
  transientPercent: { value: 10, basis: { cite: "IACS UR E5", mark: "memory" } },
  transientSeconds: { value: 5, basis: { cite: "IACS UR E5", mark: "memory" } },
} as const satisfies Readonly<Record<string, Limit>>;

const NO_RATIO: Result<never> = failure("a shaft generator needs a step-up ratio above 0");

/**
 * Speed in rpm of a generator driven at `ratio` times a shaft of `shaftRpm` rpm. Source: standards.md §9 case 23. Fails unless both
 * are above 0.
 */
export const generatorSpeed = (shaftRpm: number, ratio: number): Result<number> => {
  if (!isAbove0(ratio)) return NO_RATIO;
  return isAbove0(shaftRpm) ? success(shaftRpm * ratio) : failure("a shaft generator needs a shaft speed above 0 rpm");
};

/**
 * Shaft speed in rpm at which a generator driven at `ratio` times it turns at `generatorRpm` rpm. Source and failures as
 * `generatorSpeed`.
 */
export const shaftSpeed = (generatorRpm: number, ratio: number): Result<number> => {
  if (!isAbove0(ratio)) return NO_RATIO;
  return isAbove0(generatorRpm) ? success(generatorRpm / ratio) : failure("a shaft speed needs a generator speed above 0 rpm");
};

/** Step-up ratio from `shaftRpm` to `generatorRpm`, both in rpm. Source: reference-values §7 and 9. Fails unless both are above 0. */
export const ratioNeeded = (shaftRpm: number, generatorRpm: number): Result<number> =>
  isAbove0(shaftRpm) && isAbove0(generatorRpm) ? success(generatorRpm / shaftRpm) : failure("a ratio needs two speeds above 0 rpm");

/**
 * Frequency in Hz of a shaft generator with `poles` poles (not pole pairs): f = n·i·P/120. Source: reference-values §7 and 9.
 * Fails unless speed and ratio are above 0 and the poles are an even number from 2.
 */
export const shaftFrequency = (shaftRpm: number, ratio: number, poles: number): Result<number> => {
  const speed = generatorSpeed(shaftRpm, ratio);
  return speed.ok ? frequencyFromSpeed(speed.value, poles) : speed;
};

/** What a window of shaft speeds is for: nominal Hz, step-up ratio, poles (not pairs), permitted deviation in %. */
export interface SpeedWindowInput {
  readonly hertz: number;
  readonly ratio: number;
  readonly poles: number;
  /** `FREQUENCY_BAND.lastingPercent` unless stated. */
  readonly percent?: number | undefined;
}

/** Shaft speeds in rpm and their frequencies in Hz between which a shaft generator keeps to its band, ends included. */
export interface SpeedWindow {
  readonly lowestRpm: number;
  readonly highestRpm: number;
  readonly lowestHertz: number;
  readonly highestHertz: number;
}

/**
 * Shaft speeds between which a shaft generator at a fixed ratio stays within ± `percent` % of its nominal frequency. Source:
 * standards.md §9 case 24, whose ±5 % is from memory. Fails unless frequency and ratio are above 0, the poles an even number from 2,
 * and the deviation between 0 and 100 %.
 */
export const speedWindow = (input: SpeedWindowInput): Result<SpeedWindow> => {
  const { hertz, ratio, poles, percent = FREQUENCY_BAND.lastingPercent.value } = input;
  if (!(percent > 0 && percent < 100)) return failure("a frequency band is a deviation between 0 and 100 %");
  const nominal = speedFromFrequency(hertz, poles);
  if (!nominal.ok) return nominal;
  const shaft = shaftSpeed(nominal.value, ratio);
  if (!shaft.ok) return shaft;
  const at = (value: number, sign: 1 | -1): number => (value * (100 + sign * percent)) / 100;
  return success({
    lowestRpm: at(shaft.value, -1),
    highestRpm: at(shaft.value, 1),
    lowestHertz: at(hertz, -1),
    highestHertz: at(hertz, 1),
  });
};
