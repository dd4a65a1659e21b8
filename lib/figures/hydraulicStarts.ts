import { failure, type Result, success } from "../kernel/result.ts";
import { REFERENCE_BAR, type Starts, wholeStarts } from "./airStarts.ts";

/** A gas-loaded accumulator: gas volume in L when empty of oil, and pressures in bar gauge, which is how makers and gauges give them. */
export interface Accumulator {
  readonly litres: number;
  /** Of the gas without oil, at the temperature the accumulator has now (see `prechargeAt`). */
  readonly prechargeBar: number;
  /** The lowest at which the starter still turns the engine. */
  readonly lowestBar: number;
  readonly chargedBar: number;
}

/**
 * How gas changes: "slow" isothermally both ways, "fast" adiabatically both ways, "slow charge, fast use" as in a starter: pumped up
 * slowly and spent in seconds. The last gives the least and is what starts are counted by.
 */
export type GasChange = "slow" | "fast" | "slow charge, fast use";

/** Exponent of nitrogen that changes too fast to exchange heat (reference-values §6(c)). */
const ADIABATIC = 1.4;

const ZERO_CELSIUS_K = 273.15;

// Limits for bladder accumulators on the pressures as makers write them: hydrospeichertechnik.de (reference-values §6(c)).
const LOWEST_OVER_PRECHARGE = 1.1;
const CHARGED_OVER_PRECHARGE = 4;

const isAbove0 = (value: number): boolean => value > 0 && Number.isFinite(value);

const absolute = (gauge: number): number => gauge + REFERENCE_BAR;

const faultOf = ({ litres, prechargeBar, lowestBar, chargedBar }: Accumulator): string | undefined => {
  if (!isAbove0(litres)) return "an accumulator needs a gas volume above 0 L";
  if (!isAbove0(prechargeBar)) return "an accumulator needs a precharge above 0 bar gauge";
  if (!(lowestBar >= prechargeBar)) return "the lowest pressure must not lie below the precharge, where no oil is left";
  return chargedBar > lowestBar && Number.isFinite(chargedBar) ? undefined : "an accumulator is charged above its lowest pressure";
};

/**
 * Oil in L that an accumulator gives from charged to lowest pressure. Slow: V0(p0/p1 − p0/p2); fast: the same with each quotient to
 * the power 1/1.4; slow charge, fast use: V0 (p0/p2)((p2/p1)^(1/1.4) − 1); all pressures absolute. Source: reference-values §6(c).
 * Fails unless volume and precharge are above 0 and precharge ≤ lowest < charged.
 */
export const usableOil = (accumulator: Accumulator, change: GasChange): Result<number> => {
  const fault = faultOf(accumulator);
  if (fault !== undefined) return failure(fault);
  const [precharge, lowest, charged] = [accumulator.prechargeBar, accumulator.lowestBar, accumulator.chargedBar].map(absolute) as [
    number,
    number,
    number,
  ];
  const charging = change === "fast" ? ADIABATIC : 1;
  const using = change === "slow" ? 1 : ADIABATIC;
  const gasCharged = accumulator.litres * (precharge / charged) ** (1 / charging);
  return success(gasCharged * ((charged / lowest) ** (1 / using) - 1));
};

/**
 * Starts in an accumulator when each takes `litresPerStart` L of oil, charged slowly and used fast. Source: reference-values §6(c).
 * Fails as `usableOil`, and unless a start takes more than 0 L.
 */
export const hydraulicStarts = (accumulator: Accumulator, litresPerStart: number): Result<Starts> => {
  if (!isAbove0(litresPerStart)) return failure("a start takes more than 0 L of oil");
  const oil = usableOil(accumulator, "slow charge, fast use");
  if (!oil.ok) return oil;
  const exact = oil.value / litresPerStart;
  return success({ exact, whole: wholeStarts(exact) });
};

/**
 * Precharge in bar gauge at `celsius` °C of an accumulator precharged to `bar` bar gauge at `chargedAtCelsius` °C: p·T/T0, absolute.
 * Source: reference-values §6(c). Fails unless the precharge is above 0 and the temperatures lie above −273.15 °C.
 */
export const prechargeAt = (bar: number, chargedAtCelsius: number, celsius: number): Result<number> => {
  if (!isAbove0(bar)) return failure("an accumulator needs a precharge above 0 bar gauge");
  const [then, now] = [chargedAtCelsius + ZERO_CELSIUS_K, celsius + ZERO_CELSIUS_K];
  if (!isAbove0(then) || !isAbove0(now)) return failure("temperatures of gas must lie above −273.15 °C");
  return success((absolute(bar) * now) / then - REFERENCE_BAR);
};

/**
 * Whether a bladder accumulator is used within its limits: lowest pressure at least 1.1 times and charged pressure at most 4 times the
 * precharge, as gauge pressures. Source: hydrospeichertechnik.de (reference-values §6(c)). Fails as `usableOil`.
 */
export const prechargeFits = (accumulator: Accumulator): Result<boolean> => {
  const fault = faultOf(accumulator);
  if (fault !== undefined) return failure(fault);
  const { prechargeBar, lowestBar, chargedBar } = accumulator;
  const noise = 1e-9 * prechargeBar;
  return success(lowestBar >= LOWEST_OVER_PRECHARGE * prechargeBar - noise && chargedBar <= CHARGED_OVER_PRECHARGE * prechargeBar + noise);
};
