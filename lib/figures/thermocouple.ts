import { failure, type Result, success } from "../kernel/result.ts";

/** Thermocouple types of ITS-90 found on generating sets. */
export type ThermocoupleKind = "K" | "J";

interface Piece {
  readonly to: number;
  readonly coefficients: readonly number[];
  /** a0·exp(a1·(t − a2)²), type K above 0 °C only. */
  readonly bump?: readonly [number, number, number];
}

// NIST SRD 60, ITS-90 reference functions, mV of °C with the cold junction at 0 °C (reference-values §2).
const PIECES: Readonly<Record<ThermocoupleKind, readonly [Piece, Piece]>> = {
  K: [
    {
      to: 0,
      coefficients: [
        0, 3.9450128025e-2, 2.3622373598e-5, -3.2858906784e-7, -4.9904828777e-9, -6.7509059173e-11, -5.7410327428e-13, -3.1088872894e-15,
        -1.0451609365e-17, -1.9889266878e-20, -1.6322697486e-23,
      ],
    },
    {
      to: 1372,
      coefficients: [
        -1.7600413686e-2, 3.8921204975e-2, 1.8558770032e-5, -9.9457592874e-8, 3.1840945719e-10, -5.6072844889e-13, 5.6075059059e-16,
        -3.2020720003e-19, 9.7151147152e-23, -1.2104721275e-26,
      ],
      bump: [1.185976e-1, -1.183432e-4, 126.9686],
    },
  ],
  J: [
    {
      to: 760,
      coefficients: [
        0, 5.0381187815e-2, 3.047583693e-5, -8.568106572e-8, 1.3228195295e-10, -1.7052958337e-13, 2.0948090697e-16, -1.2538395336e-19,
        1.5631725697e-23,
      ],
    },
    {
      to: 1200,
      coefficients: [2.9645625681e2, -1.4976127786, 3.1787103924e-3, -3.1847686701e-6, 1.5720819004e-9, -3.0691369056e-13],
    },
  ],
};

const LOWEST_C: Readonly<Record<ThermocoupleKind, number>> = { K: -270, J: -210 };

const pieceAt = (kind: ThermocoupleKind, celsius: number): Piece => {
  const [lower, upper] = PIECES[kind];
  return celsius < lower.to ? lower : upper;
};

const rangeOf = (kind: ThermocoupleKind): readonly [number, number] => [LOWEST_C[kind], PIECES[kind][1].to];

const inRange = (kind: ThermocoupleKind, celsius: number): boolean => {
  const [low, high] = rangeOf(kind);
  return celsius >= low && celsius <= high;
};

const outside = (kind: ThermocoupleKind, what: string): Result<never> =>
  failure(`type ${kind} is defined from ${rangeOf(kind).join(" to ")} °C; ${what} is outside`);

/** mV against a junction at 0 °C, and its slope in mV/°C. */
const voltageAndSlope = (kind: ThermocoupleKind, celsius: number): readonly [number, number] => {
  const { coefficients, bump } = pieceAt(kind, celsius);
  let voltage = 0;
  let slope = 0;
  for (const coefficient of coefficients.toReversed()) {
    slope = slope * celsius + voltage;
    voltage = voltage * celsius + coefficient;
  }
  if (bump === undefined) return [voltage, slope];
  const [height, width, centre] = bump;
  const rise = height * Math.exp(width * (celsius - centre) ** 2);
  return [voltage + rise, slope + 2 * width * (celsius - centre) * rise];
};

/**
 * Voltage in mV that a type K or J thermocouple gives with its hot junction at `celsius` °C and its cold junction at
 * `coldJunctionCelsius` °C. Source: NIST SRD 60, ITS-90 (reference-values §2).
 * Fails when either junction lies outside the range of the type (K −270…1372 °C, J −210…1200 °C).
 */
export const thermocoupleVoltage = (kind: ThermocoupleKind, celsius: number, coldJunctionCelsius = 0): Result<number> => {
  if (!inRange(kind, celsius)) return outside(kind, `${celsius} °C`);
  if (!inRange(kind, coldJunctionCelsius)) return outside(kind, `a cold junction at ${coldJunctionCelsius} °C`);
  return success(voltageAndSlope(kind, celsius)[0] - voltageAndSlope(kind, coldJunctionCelsius)[0]);
};

/**
 * Temperature in °C of the hot junction when `millivolts` mV are read and the cold junction is at `coldJunctionCelsius` °C.
 * Newton on the reference function, kept inside a shrinking bracket; within 0.001 °C. Source: NIST SRD 60, ITS-90 (reference-values §2).
 * Fails when the voltage or the cold junction lies outside the range of the type.
 */
export const thermocoupleTemperature = (kind: ThermocoupleKind, millivolts: number, coldJunctionCelsius = 0): Result<number> => {
  if (!inRange(kind, coldJunctionCelsius)) return outside(kind, `a cold junction at ${coldJunctionCelsius} °C`);
  const target = millivolts + voltageAndSlope(kind, coldJunctionCelsius)[0];
  let [low, high] = rangeOf(kind);
  // The ends of the range are given to 0.001 mV in the tables: half of that more is still the end.
  const slack = 0.0005;
  if (!(target >= voltageAndSlope(kind, low)[0] - slack && target <= voltageAndSlope(kind, high)[0] + slack)) {
    return outside(kind, `${millivolts} mV with the cold junction at ${coldJunctionCelsius} °C`);
  }
  let celsius = (low + high) / 2;
  for (let step = 0; step < 60; step += 1) {
    const [voltage, slope] = voltageAndSlope(kind, celsius);
    if (voltage > target) high = celsius;
    else low = celsius;
    const newton = celsius - (voltage - target) / slope;
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - celsius) < 1e-7) return success(next);
    celsius = next;
  }
  return success(celsius);
};
