import { failure, type Result, success } from "../kernel/result.ts";

/** Every unit a fact, a figure or a letter may carry. */
export type Unit =
  | "bar"
  | "kPa"
  | "MPa"
  | "psi"
  | "kgf/cm2"
  | "°C"
  | "°F"
  | "rpm"
  | "Hz"
  | "kW"
  | "MW"
  | "hp"
  | "kVA"
  | "MVA"
  | "V"
  | "kV"
  | "A"
  | "mm"
  | "in"
  | "h"
  | "min"
  | "s"
  | "m³"
  | "L"
  | "Ah"
  | "dB(A)"
  | "%"
  | "mA"
  | "Ω"
  | "mV"
  | "hPa"
  | "GT";

/** What a unit measures. rpm and Hz stay apart: between them stands a number of poles or teeth. */
export type Dimension =
  | "pressure"
  | "temperature"
  | "rotation"
  | "frequency"
  | "power"
  | "apparent power"
  | "voltage"
  | "current"
  | "length"
  | "time"
  | "ratio"
  | "resistance"
  | "volume"
  | "charge"
  | "sound level"
  | "tonnage";

/** The system of units a reader is shown. */
export type UnitSystem = "metric" | "us";

interface UnitFacts {
  readonly dimension: Dimension;
  /** Value in base units = (value − zero) × times / over; two factors keep defining numbers exact. */
  readonly times: number;
  readonly over: number;
  readonly zero: number;
  /** Most decimals worth showing to a reader. */
  readonly decimals: number;
}

const unit = (dimension: Dimension, decimals: number, times = 1, over = 1, zero = 0): UnitFacts => ({
  dimension,
  times,
  over,
  zero,
  decimals,
});

// Exact definitions (GNU units 2.22 definitions; reference-values §8): pound-force 4.4482216152605 N, square inch 0.00064516 m²,
// bar 100 kPa, kgf/cm² 98.0665 kPa, horsepower 550 ft·lbf/s, °F = 1.8 °C + 32; foot 0.3048 m and inch 25.4 mm follow from the same inch.
const POUND_FORCE_N = 4.4482216152605;
const SQUARE_INCH_M2 = 0.00064516;
const HORSEPOWER_W = 550 * 0.3048 * POUND_FORCE_N;

const FACTS: Readonly<Record<Unit, UnitFacts>> = {
  bar: unit("pressure", 2, 100_000),
  kPa: unit("pressure", 1, 1000),
  MPa: unit("pressure", 3, 1_000_000),
  psi: unit("pressure", 1, POUND_FORCE_N, SQUARE_INCH_M2),
  "kgf/cm2": unit("pressure", 2, 98_066.5),
  hPa: unit("pressure", 1, 100),
  "°C": unit("temperature", 1),
  "°F": unit("temperature", 1, 5, 9, 32),
  rpm: unit("rotation", 1),
  Hz: unit("frequency", 2),
  kW: unit("power", 1),
  MW: unit("power", 3, 1000),
  hp: unit("power", 1, HORSEPOWER_W, 1000),
  kVA: unit("apparent power", 1),
  MVA: unit("apparent power", 3, 1000),
  V: unit("voltage", 2),
  kV: unit("voltage", 3, 1000),
  mV: unit("voltage", 3, 1, 1000),
  A: unit("current", 1),
  mA: unit("current", 2, 1, 1000),
  mm: unit("length", 1),
  in: unit("length", 2, 25.4),
  h: unit("time", 1, 3600),
  min: unit("time", 1, 60),
  s: unit("time", 1),
  "m³": unit("volume", 3, 1000),
  L: unit("volume", 1),
  Ah: unit("charge", 1),
  "dB(A)": unit("sound level", 1),
  "%": unit("ratio", 1),
  Ω: unit("resistance", 2),
  GT: unit("tonnage", 0),
};

/** Every unit there is. */
export const UNITS: readonly Unit[] = Object.keys(FACTS) as Unit[];

/** Whether `text` is one of the units, spelled exactly as in `Unit`. Never fails. */
export const isUnit = (text: string): text is Unit => Object.hasOwn(FACTS, text);

/** What `of` measures. Never fails. */
export const dimensionOf = (of: Unit): Dimension => FACTS[of].dimension;

/**
 * A value in `from` given in `to`, by exact factors (reference-values §8, GNU units definitions).
 * A temperature is a point on the scale, not a difference: a tolerance of 2 °C must not go through here.
 * Fails, naming both units, when the two measure different things or the value is not finite.
 */
export const convert = (value: number, from: Unit, to: Unit): Result<number> => {
  const source = FACTS[from];
  const target = FACTS[to];
  if (source.dimension !== target.dimension) {
    return failure(`${from} cannot be given in ${to}: ${from} measures ${source.dimension}, ${to} measures ${target.dimension}`);
  }
  if (!Number.isFinite(value)) return failure(`a value to convert from ${from} to ${to} must be a finite number`);
  if (from === to) return success(value);
  const base = ((value - source.zero) * source.times) / source.over;
  return success((base * target.over) / target.times + target.zero);
};

/** Every unit that measures what `of` measures, itself among them. Never fails. */
export const unitsLike = (of: Unit): readonly Unit[] => UNITS.filter((other) => dimensionOf(other) === dimensionOf(of));

/** The units to choose from beside a field for `of`: those that measure the same, without its thousandth, in which nobody writes it. Never fails. */
export const unitsOffered = (of: Unit): readonly Unit[] => unitsLike(of).filter((other) => other !== `m${of}`);

/** The unit a reader of `system` is shown for `of`: for "us" bar and kPa become psi, °C becomes °F, all others stay. Never fails. */
export const displayUnit = (of: Unit, system: UnitSystem): Unit => {
  if (system === "metric") return of;
  if (of === "bar" || of === "kPa") return "psi";
  return of === "°C" ? "°F" : of;
};

/** `value` × 10^`places`, done on the decimal notation so that 1.005 counts as 1.005. */
const shiftPoint = (value: number, places: number): number => {
  const [mantissa = "0", exponent = "0"] = String(value).split("e");
  return Number(`${mantissa}e${Number(exponent) + places}`);
};

const digitsOf = (magnitude: number, decimals: number): string => {
  if (magnitude >= 1e15) return BigInt(Math.round(magnitude)).toString();
  return shiftPoint(Math.round(shiftPoint(magnitude, decimals)), -decimals).toFixed(decimals);
};

/**
 * A number as text, the same in every locale: rounded half away from zero to at most `maxDecimals` (0…10, others are brought
 * into that range), trailing zeros dropped, a decimal point, and commas between thousands from 10,000 on.
 * A number that is not finite becomes "–". Never fails.
 */
export const formatNumber = (value: number, maxDecimals: number): string => {
  if (!Number.isFinite(value)) return "–";
  const decimals = Math.min(10, Math.max(0, Math.trunc(maxDecimals) || 0));
  const [whole = "0", fraction = ""] = digitsOf(Math.abs(value), decimals).split(".");
  const grouped = whole.length >= 5 ? whole.replace(/\B(?=(?:\d{3})+$)/g, ",") : whole;
  const kept = fraction.replace(/0+$/, "");
  const text = kept === "" ? grouped : `${grouped}.${kept}`;
  return value < 0 && text !== "0" ? `-${text}` : text;
};

/**
 * A value held in `of` as a reader of `system` is shown it, for example "1.5 bar", "98 °C", "1980 rpm", or "21.8 psi" for "us".
 * Decimals are set per unit shown. A number that is not finite becomes "–" and its unit. Never fails.
 */
export const formatQuantity = (value: number, of: Unit, system: UnitSystem): string => {
  const shown = displayUnit(of, system);
  const converted = convert(value, of, shown);
  return `${formatNumber(converted.ok ? converted.value : Number.NaN, FACTS[shown].decimals)} ${shown}`;
};
