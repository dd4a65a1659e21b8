import { failure, type Result, success } from "../kernel/result.ts";

/** Pressure in bar absolute to which free air is referred unless another is stated: one standard atmosphere. */
export const REFERENCE_BAR = 1.01325;

const ZERO_CELSIUS_K = 273.15;

/** How many starts a store holds: as worked out, and whole ones. */
export interface Starts {
  readonly exact: number;
  readonly whole: number;
}

/** A store short of a whole start by the noise of binary fractions only holds that start. */
const NOISE = 1.5e-9;

/** Whole starts in `exact` ones, rounded down; short by 1e-9 counts as the whole. Never fails; what is not a number stays NaN. */
export const wholeStarts = (exact: number): number => Math.floor(exact + NOISE);

/** How far air is drawn from receivers: both pressures gauge or both absolute, in bar, since only their difference counts. */
export interface AirPressures {
  readonly fromBar: number;
  readonly toBar: number;
  /** Pressure in bar absolute at which free air is given, `REFERENCE_BAR` unless stated: makers also use 1 bar. */
  readonly referenceBar?: number | undefined;
  /** In °C: of the air in the receiver, and at which free air is given; both taken to be the same unless stated. */
  readonly temperatures?: { readonly receiverCelsius: number; readonly referenceCelsius: number } | undefined;
}

const isAbove0 = (value: number): boolean => value > 0 && Number.isFinite(value);

/** Free air in m³ that 1 m³ of receiver gives. */
const airPerCubicMetre = ({ fromBar, toBar, referenceBar = REFERENCE_BAR, temperatures }: AirPressures): Result<number> => {
  if (!(toBar >= 0 && fromBar > toBar && Number.isFinite(fromBar))) {
    return failure("air is drawn from a higher pressure down to a lower one of 0 bar or more");
  }
  if (!isAbove0(referenceBar)) return failure("the pressure at which free air is given must be above 0 bar absolute");
  const cold = (fromBar - toBar) / referenceBar;
  if (temperatures === undefined) return success(cold);
  const receiver = temperatures.receiverCelsius + ZERO_CELSIUS_K;
  const reference = temperatures.referenceCelsius + ZERO_CELSIUS_K;
  if (!isAbove0(receiver) || !isAbove0(reference)) return failure("temperatures of air must lie above −273.15 °C");
  return success((cold * reference) / receiver);
};

/**
 * Free air in m³ that receivers of `cubicMetres` m³ give between two pressures, isothermally: V (p1 − p2)/p_ref, and times
 * T_ref/T where temperatures are stated. Source: reference-values §6(a).
 * Fails unless the volume is above 0, the pressures fall and stay at 0 bar or more, and what is stated besides is usable.
 */
export const freeAir = (cubicMetres: number, pressures: AirPressures): Result<number> => {
  if (!isAbove0(cubicMetres)) return failure("receivers need a volume above 0 m³");
  const air = airPerCubicMetre(pressures);
  return air.ok ? success(cubicMetres * air.value) : air;
};

/**
 * Starts in receivers of `cubicMetres` m³ when each takes `perStart` m³ of free air: n = V (p1 − p2)/(p_ref · v_start), no air coming
 * in meanwhile. Source: reference-values §6(a). Fails as `freeAir`, and unless a start takes more than 0 m³.
 */
export const airStarts = (cubicMetres: number, perStart: number, pressures: AirPressures): Result<Starts> => {
  if (!isAbove0(perStart)) return failure("a start takes more than 0 m³ of free air");
  const air = freeAir(cubicMetres, pressures);
  if (!air.ok) return air;
  const exact = air.value / perStart;
  return success({ exact, whole: wholeStarts(exact) });
};

/**
 * Receiver volume in m³ that holds `starts` starts of `perStart` m³ of free air each: V = n · v_start · p_ref/(p1 − p2).
 * Source: reference-values §6(a). Fails unless the starts are a whole number from 1 and a start takes more than 0 m³, and as `freeAir`.
 */
export const receiverVolume = (starts: number, perStart: number, pressures: AirPressures): Result<number> => {
  if (!Number.isInteger(starts) || starts < 1) return failure(`receivers hold a whole number of starts from 1, not ${starts}`);
  if (!isAbove0(perStart)) return failure("a start takes more than 0 m³ of free air");
  const air = airPerCubicMetre(pressures);
  return air.ok ? success((starts * perStart) / air.value) : air;
};

/** A receiver and the pressure in it: m³, and bar, all gauge or all absolute. */
export interface FilledReceiver {
  readonly cubicMetres: number;
  readonly bar: number;
}

/**
 * Pressure in bar, gauge or absolute as given, at which receivers that are joined settle: (p1V1 + p2V2 + …)/(V1 + V2 + …).
 * Source: reference-values §6(a). Fails without a receiver, on a volume not above 0 and on a pressure below 0.
 */
export const joinedPressure = (receivers: readonly FilledReceiver[]): Result<number> => {
  if (receivers.length === 0) return failure("a pressure needs at least one receiver");
  if (!receivers.every(({ cubicMetres, bar }) => isAbove0(cubicMetres) && bar >= 0 && Number.isFinite(bar))) {
    return failure("each receiver needs a volume above 0 m³ and a pressure of 0 bar or more");
  }
  const volume = receivers.reduce((sum, { cubicMetres }) => sum + cubicMetres, 0);
  return success(receivers.reduce((sum, { cubicMetres, bar }) => sum + cubicMetres * bar, 0) / volume);
};
