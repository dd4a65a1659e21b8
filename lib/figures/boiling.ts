import { failure, type Result, success } from "../kernel/result.ts";

// IAPWS-IF97 region 4, coefficients n1…n10 (reference-values §5, read in three independent places).
const N1 = 0.11670521452767e4;
const N2 = -0.72421316703206e6;
const N3 = -0.17073846940092e2;
const N4 = 0.1202082470247e5;
const N5 = -0.32325550322333e7;
const N6 = 0.1491510861353e2;
const N7 = -0.48232657361591e4;
const N8 = 0.40511340542057e6;
const N9 = -0.23855557567849;
const N10 = 0.65017534844798e3;

const LOWEST_K = 273.15;
const HIGHEST_K = 647.096;
const LOWEST_MPA = 611.213e-6;
const HIGHEST_MPA = 22.064;
const HPA_PER_MPA = 10_000;
const ZERO_CELSIUS_K = 273.15;

// International standard atmosphere, geopotential height, up to the tropopause (reference-values §5).
const SEA_LEVEL_HPA = 1013.25;
const LAPSE_PER_M = 2.25577e-5;
const EXPONENT = 5.25588;
const LOWEST_M = -500;
const HIGHEST_M = 11_000;

/**
 * Temperature in K at which water boils at `megapascals` MPa absolute. Source: IAPWS-IF97 region 4 (reference-values §5).
 * Fails outside 611.213 Pa…22.064 MPa.
 */
export const saturationTemperature = (megapascals: number): Result<number> => {
  if (!(megapascals >= LOWEST_MPA && megapascals <= HIGHEST_MPA)) {
    return failure(`boiling is defined from ${LOWEST_MPA} to ${HIGHEST_MPA} MPa absolute, not at ${megapascals} MPa`);
  }
  const beta = megapascals ** 0.25;
  const e = beta ** 2 + N3 * beta + N6;
  const f = N1 * beta ** 2 + N4 * beta + N7;
  const g = N2 * beta ** 2 + N5 * beta + N8;
  const d = (2 * g) / (-f - Math.sqrt(f ** 2 - 4 * e * g));
  return success((N10 + d - Math.sqrt((N10 + d) ** 2 - 4 * (N9 + N10 * d))) / 2);
};

/**
 * Absolute pressure in MPa at which water boils at `kelvin` K. Source: IAPWS-IF97 region 4 (reference-values §5).
 * Fails outside 273.15…647.096 K.
 */
export const saturationPressure = (kelvin: number): Result<number> => {
  if (!(kelvin >= LOWEST_K && kelvin <= HIGHEST_K)) {
    return failure(`boiling is defined from ${LOWEST_K} to ${HIGHEST_K} K, not at ${kelvin} K`);
  }
  const theta = kelvin + N9 / (kelvin - N10);
  const a = theta ** 2 + N1 * theta + N2;
  const b = N3 * theta ** 2 + N4 * theta + N5;
  const c = N6 * theta ** 2 + N7 * theta + N8;
  return success(((2 * c) / (-b + Math.sqrt(b ** 2 - 4 * a * c))) ** 4);
};

/**
 * Temperature in °C at which water boils in an open vessel at an ambient pressure of `ambientHpa` hPa absolute.
 * Source and failures as `saturationTemperature`.
 */
export const boilingPoint = (ambientHpa: number): Result<number> => {
  const kelvin = saturationTemperature(ambientHpa / HPA_PER_MPA);
  return kelvin.ok ? success(kelvin.value - ZERO_CELSIUS_K) : failure(`no boiling point of water at ${ambientHpa} hPa`);
};

/**
 * Ambient pressure in hPa that the international standard atmosphere gives at `metres` m above sea level; the weather of the day
 * moves it by some 3 % either way. Source: reference-values §5. Fails outside −500…11 000 m.
 */
export const ambientPressure = (metres: number): Result<number> => {
  if (!(metres >= LOWEST_M && metres <= HIGHEST_M)) {
    return failure(`the standard atmosphere is used from ${LOWEST_M} to ${HIGHEST_M} m, not at ${metres} m`);
  }
  return success(SEA_LEVEL_HPA * (1 - LAPSE_PER_M * metres) ** EXPONENT);
};
