import { failure, type Result, success } from "../kernel/result.ts";
import type { Unit } from "../units/units.ts";
import { speedFromFrequency } from "./overspeed.ts";

const isAbove0 = (value: number): boolean => value > 0 && Number.isFinite(value);

/**
 * Line current in A of a three-phase generator of `kilovoltAmperes` kVA at `volts` V between lines: I = S/(√3·V).
 * Source: standards.md §5, reference-values §7. Fails unless both are above 0.
 */
export const ratedCurrent = (kilovoltAmperes: number, volts: number): Result<number> =>
  isAbove0(kilovoltAmperes) && isAbove0(volts)
    ? success((kilovoltAmperes * 1000) / (Math.sqrt(3) * volts))
    : failure("a rated current needs kVA and V above 0");

/**
 * Active power in kW of `kilovoltAmperes` kVA at a power factor above 0 and up to 1: P = S·pf. Source: trade.md §7.
 * Fails outside those.
 */
export const activePower = (kilovoltAmperes: number, powerFactor: number): Result<number> =>
  isAbove0(kilovoltAmperes) && isAbove0(powerFactor) && powerFactor <= 1
    ? success(kilovoltAmperes * powerFactor)
    : failure("an active power needs kVA above 0 and a power factor above 0 and up to 1");

/**
 * Apparent power in kVA of `kilowatts` kW at a power factor above 0 and up to 1: S = P/pf. Source: trade.md §7. Fails outside those.
 */
export const apparentPower = (kilowatts: number, powerFactor: number): Result<number> =>
  isAbove0(kilowatts) && isAbove0(powerFactor) && powerFactor <= 1
    ? success(kilowatts / powerFactor)
    : failure("an apparent power needs kW above 0 and a power factor above 0 and up to 1");

/** A generator's data plate as far as it is known: kW, kVA, power factor, V between lines, A, Hz, poles (not pairs), rpm. */
export interface Plate {
  readonly ratedPower?: number | undefined;
  readonly apparentPower?: number | undefined;
  readonly powerFactor?: number | undefined;
  readonly voltage?: number | undefined;
  readonly current?: number | undefined;
  readonly frequency?: number | undefined;
  readonly poles?: number | undefined;
  readonly ratedSpeed?: number | undefined;
}

/** One entry of a plate that does not follow from the others: what it says, what the others give, and by how much it differs. */
export interface PlateContradiction {
  readonly what: "ratedPower" | "current" | "ratedSpeed";
  readonly given: number;
  readonly expected: number;
  readonly unit: Unit;
  /** Given against expected, in % of expected, to 0.01: positive when the plate says more. */
  readonly differencePercent: number;
}

/** Difference beyond which a plate contradicts itself, in %: rounding on plates stays below it. */
const PERMITTED_PERCENT = 1;

const compare = (
  what: PlateContradiction["what"],
  unit: Unit,
  given: number | undefined,
  expected: Result<number>,
): readonly PlateContradiction[] => {
  if (given === undefined || !isAbove0(given) || !expected.ok) return [];
  const percent = (100 * (given - expected.value)) / expected.value;
  if (!(Math.abs(percent) > PERMITTED_PERCENT)) return [];
  return [{ what, given, expected: expected.value, unit, differencePercent: Math.round(percent * 100) / 100 }];
};

const UNKNOWN: Result<never> = failure("not on the plate");

const both = (
  first: number | undefined,
  second: number | undefined,
  figure: (first: number, second: number) => Result<number>,
): Result<number> => (first === undefined || second === undefined ? UNKNOWN : figure(first, second));

/** Without a power factor the kW must at least not be above the kVA, since no power factor is above 1. */
const powerAbove = ({ ratedPower = 0, apparentPower: most = 0 }: Plate): readonly PlateContradiction[] =>
  ratedPower > most ? compare("ratedPower", "kW", ratedPower, activePower(most, 1)) : [];

/**
 * Where a synchronous generator's plate contradicts itself by more than 1 %: power against kVA and power factor, current against kVA
 * (or kW and power factor) and voltage, speed against frequency and poles. What is absent or not above 0 is not compared.
 * Sources: P = S·pf, I = S/(√3·V), n = 120 f/p (trade.md §7, reference-values §7). Never fails; no contradiction is an empty list.
 */
export const plateContradictions = (plate: Plate): readonly PlateContradiction[] => {
  const fromPower = both(plate.ratedPower, plate.powerFactor, apparentPower);
  const apparent = plate.apparentPower ?? (fromPower.ok ? fromPower.value : undefined);
  return [
    ...compare("ratedPower", "kW", plate.ratedPower, both(plate.apparentPower, plate.powerFactor, activePower)),
    ...(plate.powerFactor === undefined ? powerAbove(plate) : []),
    ...compare("current", "A", plate.current, both(apparent, plate.voltage, ratedCurrent)),
    ...compare("ratedSpeed", "rpm", plate.ratedSpeed, both(plate.frequency, plate.poles, speedFromFrequency)),
  ];
};
