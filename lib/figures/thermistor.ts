import { failure, type Result, success } from "../kernel/result.ts";

/** Steinhart–Hart coefficients as the maker states them: 1/T = a + b·ln R + c·(ln R)³, T in K, R in Ω. */
export interface SteinhartHart {
  readonly kind: "steinhart-hart";
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** Beta form as the maker states it: resistance in Ω at 25 °C and beta in K. */
export interface Beta {
  readonly kind: "beta";
  readonly ohmsAt25: number;
  readonly beta: number;
}

/** One NTC thermistor, by the coefficients its maker states. */
export type Thermistor = SteinhartHart | Beta;

const ZERO_CELSIUS_K = 273.15;
const REFERENCE_K = 298.15;

const betaIsUsable = ({ ohmsAt25, beta }: Beta): boolean => ohmsAt25 > 0 && beta > 0 && Number.isFinite(ohmsAt25) && Number.isFinite(beta);

const inverseKelvin = ({ a, b, c }: SteinhartHart, logOhms: number): number => a + b * logOhms + c * logOhms ** 3;

/** A thermistor that cools as its resistance rises: 1/T must grow with ln R. */
const rises = ({ b, c }: SteinhartHart, logOhms: number): boolean => b + 3 * c * logOhms ** 2 > 0;

const asCelsius = (kelvin: number): Result<number> =>
  Number.isFinite(kelvin) && kelvin > 0
    ? success(kelvin - ZERO_CELSIUS_K)
    : failure("the thermistor's coefficients give no temperature for this resistance");

/**
 * Temperature in °C of an NTC thermistor that reads `ohms` Ω. Source: Steinhart–Hart and beta equations (reference-values §3).
 * Fails when the resistance is not above 0 Ω or the stated coefficients give no temperature there.
 */
export const thermistorTemperature = (thermistor: Thermistor, ohms: number): Result<number> => {
  if (!(ohms > 0 && Number.isFinite(ohms))) return failure(`a thermistor's resistance must be above 0 Ω, not ${ohms} Ω`);
  if (thermistor.kind === "beta") {
    if (!betaIsUsable(thermistor)) return failure("a thermistor's resistance at 25 °C and its beta must be above 0");
    return asCelsius(1 / (1 / REFERENCE_K + Math.log(ohms / thermistor.ohmsAt25) / thermistor.beta));
  }
  const logOhms = Math.log(ohms);
  return asCelsius(rises(thermistor, logOhms) ? 1 / inverseKelvin(thermistor, logOhms) : Number.NaN);
};

/**
 * Resistance in Ω of an NTC thermistor at `celsius` °C; Newton on ln R for Steinhart–Hart.
 * Source: Steinhart–Hart and beta equations (reference-values §3). Fails at or below −273.15 °C and when the stated coefficients
 * give no resistance there.
 */
export const thermistorResistance = (thermistor: Thermistor, celsius: number): Result<number> => {
  const kelvin = celsius + ZERO_CELSIUS_K;
  if (!(kelvin > 0 && Number.isFinite(kelvin))) return failure(`${celsius} °C is no temperature of a thermistor`);
  if (thermistor.kind === "beta") {
    if (!betaIsUsable(thermistor)) return failure("a thermistor's resistance at 25 °C and its beta must be above 0");
    return success(thermistor.ohmsAt25 * Math.exp(thermistor.beta * (1 / kelvin - 1 / REFERENCE_K)));
  }
  const { a, b, c } = thermistor;
  let logOhms = (1 / kelvin - a) / b;
  for (let step = 0; step < 50; step += 1) {
    logOhms -= (inverseKelvin(thermistor, logOhms) - 1 / kelvin) / (b + 3 * c * logOhms ** 2);
  }
  const settled = Math.abs(inverseKelvin(thermistor, logOhms) * kelvin - 1) < 1e-9;
  if (!settled || !rises(thermistor, logOhms)) return failure(`the thermistor's coefficients give no resistance at ${celsius} °C`);
  return success(Math.exp(logOhms));
};
