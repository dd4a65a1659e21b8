import { failure, type Result, success } from "../kernel/result.ts";
import { formatNumber, formatQuantity } from "../units/units.ts";
import { boilingPoint } from "./boiling.ts";

/** What decides on the heat source: set point in °C, wanted margin below boiling in K, ambient pressure in hPa absolute. */
export interface HeatSourceInput {
  readonly setPointCelsius: number;
  readonly marginKelvin: number;
  readonly ambientHpa: number;
}

/** Whether an open water bath reaches the set point, the boiling point it was judged by, and one sentence why. */
export interface HeatSource {
  readonly openWaterBath: boolean;
  readonly boilingCelsius: number;
  readonly reason: string;
}

/**
 * An open water bath serves only if set point + margin stays below the boiling point at the ambient pressure, and above freezing;
 * else a dry-block or a closed bath is wanted. Sources: trade.md §7; boiling point IAPWS-IF97, water baths 0…100 °C (reference-values §5).
 * Fails on a margin below 0 K, numbers that are not finite, or an ambient pressure without a boiling point.
 */
export const heatSource = ({ setPointCelsius, marginKelvin, ambientHpa }: HeatSourceInput): Result<HeatSource> => {
  if (!Number.isFinite(setPointCelsius)) return failure("the set point must be a finite number of °C");
  if (!(marginKelvin >= 0 && Number.isFinite(marginKelvin))) return failure("the margin below boiling must be 0 K or more");
  const boiling = boilingPoint(ambientHpa);
  if (!boiling.ok) return boiling;
  const asked = `set point ${formatQuantity(setPointCelsius, "°C", "metric")} with a margin of ${formatNumber(marginKelvin, 1)} K`;
  const limit = `water boils at ${formatQuantity(boiling.value, "°C", "metric")} at ${formatQuantity(ambientHpa, "hPa", "metric")}`;
  const verdict = (openWaterBath: boolean, reason: string): Result<HeatSource> =>
    success({ openWaterBath, boilingCelsius: boiling.value, reason });
  if (setPointCelsius <= 0) return verdict(false, `${asked} is at or below the freezing point of water`);
  if (setPointCelsius + marginKelvin < boiling.value) return verdict(true, `${asked} stays below boiling: ${limit}`);
  return verdict(false, `${asked} does not stay below boiling: ${limit}`);
};
