import { failure, type Result, success } from "../kernel/result.ts";

/** Platinum resistance thermometers by their resistance at 0 °C: 100 Ω or 1000 Ω. */
export type PlatinumKind = "Pt100" | "Pt1000";

/** Tolerance classes of IEC 60751. */
export type PlatinumClass = "AA" | "A" | "B" | "C";

/** How the element is built: the classes hold over different ranges. */
export type PlatinumConstruction = "wire-wound" | "film";

const OHMS_AT_ZERO: Readonly<Record<PlatinumKind, number>> = { Pt100: 100, Pt1000: 1000 };

// IEC 60751:2008 coefficients (reference-values §1), not the curve before 1995. Range −200…850 °C: infosys.beckhoff.com 9827313675.
const A = 3.9083e-3;
const B = -5.775e-7;
const C = -4.183e-12;
const LOWEST_C = -200;
const HIGHEST_C = 850;

interface ClassFacts {
  readonly base: number;
  readonly slope: number;
  readonly range: Readonly<Record<PlatinumConstruction, readonly [number, number]>>;
}

// IEC 60751:2022 as read in rtd-sensor 0.7.0, tolerance.py (reference-values §1).
const CLASSES: Readonly<Record<PlatinumClass, ClassFacts>> = {
  AA: { base: 0.1, slope: 0.0017, range: { "wire-wound": [-50, 250], film: [0, 150] } },
  A: { base: 0.15, slope: 0.002, range: { "wire-wound": [-100, 450], film: [-30, 300] } },
  B: { base: 0.3, slope: 0.005, range: { "wire-wound": [-196, 600], film: [-50, 500] } },
  C: { base: 0.6, slope: 0.01, range: { "wire-wound": [-196, 600], film: [-50, 600] } },
};

const ratioAt = (celsius: number): number => 1 + A * celsius + B * celsius ** 2 + (celsius < 0 ? C * (celsius - 100) * celsius ** 3 : 0);

const slopeAt = (celsius: number): number => A + 2 * B * celsius + (celsius < 0 ? C * (4 * celsius ** 3 - 300 * celsius ** 2) : 0);

/**
 * Resistance in Ω of a platinum thermometer at `celsius` °C. Source: IEC 60751 (reference-values §1).
 * Fails outside −200…850 °C.
 */
export const platinumResistance = (kind: PlatinumKind, celsius: number): Result<number> => {
  if (!(celsius >= LOWEST_C && celsius <= HIGHEST_C)) {
    return failure(`${kind} is defined from ${LOWEST_C} to ${HIGHEST_C} °C, not at ${celsius} °C`);
  }
  return success(OHMS_AT_ZERO[kind] * ratioAt(celsius));
};

/**
 * Temperature in °C of a platinum thermometer that reads `ohms` Ω; the quadratic solved directly from 0 °C up, Newton below.
 * Source: IEC 60751 (reference-values §1). Fails when the resistance lies outside that of −200…850 °C.
 */
export const platinumTemperature = (kind: PlatinumKind, ohms: number): Result<number> => {
  const ratio = ohms / OHMS_AT_ZERO[kind];
  if (!(ratio >= ratioAt(LOWEST_C) && ratio <= ratioAt(HIGHEST_C))) {
    return failure(`${ohms} Ω is outside the resistance of ${kind} from ${LOWEST_C} to ${HIGHEST_C} °C`);
  }
  let celsius = (-A + Math.sqrt(A ** 2 - 4 * B * (1 - ratio))) / (2 * B);
  for (let step = 0; celsius < 0 && step < 8; step += 1) celsius -= (ratioAt(celsius) - ratio) / slopeAt(celsius);
  return success(Math.min(HIGHEST_C, Math.max(LOWEST_C, celsius)));
};

/**
 * Class tolerance of the element at `celsius` °C, as ± °C. It is not the tolerance of the set point.
 * Source: IEC 60751:2022 (reference-values §1). Fails outside the range in which the class holds for that construction.
 */
export const platinumTolerance = (
  tolerance: PlatinumClass,
  celsius: number,
  construction: PlatinumConstruction = "wire-wound",
): Result<number> => {
  const { base, slope, range } = CLASSES[tolerance];
  const [low, high] = range[construction];
  if (!(celsius >= low && celsius <= high)) {
    return failure(`class ${tolerance}, ${construction}, holds from ${low} to ${high} °C, not at ${celsius} °C`);
  }
  return success(base + slope * Math.abs(celsius));
};
