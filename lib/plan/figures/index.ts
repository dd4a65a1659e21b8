import { loopCurrent } from "../figures/currentLoop.ts";
import { heatSource } from "../figures/heatSource.ts";
import { abortWindow, overspeedLimit, verifyPoint } from "../figures/overspeed.ts";
import { pickupFrequency } from "../figures/pickup.ts";
import { platinumResistance, platinumTolerance } from "../figures/platinum.ts";
import { ratiometricVoltage } from "../figures/ratiometric.ts";
import { thermistorResistance } from "../figures/thermistor.ts";
import { thermocoupleVoltage } from "../figures/thermocouple.ts";
import type { Result } from "../kernel/result.ts";
import { RATIOMETRIC, TRANSMITTER } from "../model/facts/channel.ts";
import { JACKET_WATER, jacketWaterAt } from "../model/facts/jacketWater.ts";
import { LUBE_OIL, lubeOilAt } from "../model/facts/lubeOil.ts";
import { OVERSPEED, overspeedAt } from "../model/facts/overspeed.ts";
import { RATED_SPEED } from "../model/facts/set.ts";
import type { Visit } from "../model/visit.ts";
import { type Basis, basis } from "../rulebook/basis.ts";
import type { FigurePart, RuleBasis } from "../rulebook/types.ts";
import type { PlanFigure } from "./schema.ts";

/** What the figures of one protection are worked out from; answers by template. */
export interface FigureInput {
  readonly answer: (template: string) => string | number | undefined;
  readonly visit: Visit;
  /** Whether any of the methods that can still be chosen works like this. */
  readonly mayUse: (part: FigurePart) => boolean;
  /** The rule basis that binds; null while it is open. */
  readonly ruleBasis: RuleBasis | null;
}

const DEFAULT_PRESSURE = 1000;
/** Fraction and spread of the published reduced-threshold test. */
const TEST_MODE = { fraction: 0.75, spread: 25 } as const;
const SUPPLY_VOLTS = 5;
const REFERENCE_JUNCTION = 25;

const rounded = (value: number, decimals: number): number => Math.round(value * 10 ** decimals) / 10 ** decimals;

const figure = (
  name: string,
  value: Result<number>,
  unit: string,
  decimals: number,
  from: readonly Basis[],
  more: Partial<PlanFigure> = {},
): readonly PlanFigure[] => (value.ok ? [{ name, value: rounded(value.value, decimals), unit, ...more, basis: from }] : []);

const numberAt = ({ answer }: FigureInput, at: string): number | undefined => {
  const value = answer(at);
  return typeof value === "number" ? value : undefined;
};

const setPointOf = (
  input: FigureInput,
  at: { readonly setPoint: string; readonly tolerance: string },
  name: string,
  unit: string,
): readonly PlanFigure[] => {
  const [setPoint, tolerance] = [numberAt(input, at.setPoint), numberAt(input, at.tolerance)];
  if (setPoint === undefined) return [];
  return [
    {
      name,
      value: setPoint,
      unit,
      ...(tolerance === undefined ? {} : { tolerance }),
      basis: [{ cite: "the vessel's set-point list and the maker's tolerance", mark: "practice" }],
    },
  ];
};

/** How far the signal moves over the set-point tolerance. */
const spread = (
  signal: (value: number) => Result<number>,
  setPoint: number,
  tolerance: number | undefined,
  decimals: number,
): Partial<PlanFigure> => {
  if (tolerance === undefined) return {};
  const [low, high] = [signal(setPoint - tolerance), signal(setPoint + tolerance)];
  return low.ok && high.ok ? { tolerance: rounded(Math.abs(high.value - low.value) / 2, decimals) } : {};
};

const signalFigure = (
  name: string,
  signal: (value: number) => Result<number>,
  setPoint: number,
  tolerance: number | undefined,
  unit: string,
  decimals: number,
  from: readonly Basis[],
  note: string,
): readonly PlanFigure[] =>
  figure(name, signal(setPoint), unit, decimals, from, { ...spread(signal, setPoint, tolerance, decimals), note });

const FED_IN = "signal to feed in at the set point";

const loopSignal = (
  input: FigureInput,
  at: { readonly setPoint: string; readonly tolerance: string; readonly rangeTo: string; readonly loopSupply: string },
  kind: "current" | "voltage",
): readonly PlanFigure[] => {
  const [setPoint, tolerance, upper] = [numberAt(input, at.setPoint), numberAt(input, at.tolerance), numberAt(input, at.rangeTo)];
  if (setPoint === undefined || upper === undefined) return [];
  const range = { lower: 0, upper };
  if (kind === "voltage") {
    const signal = (value: number) => ratiometricVoltage(value, range, SUPPLY_VOLTS);
    return signalFigure(
      FED_IN,
      signal,
      setPoint,
      tolerance,
      "V",
      3,
      [basis.arithmetic],
      "at exactly 5 V supply; measure the supply and scale",
    );
  }
  const sinks =
    input.answer(at.loopSupply) === "the control module"
      ? "the module powers the loop: the source must sink"
      : "see who powers the loop before connecting a source";
  return signalFigure(FED_IN, (value) => loopCurrent(value, range), setPoint, tolerance, "mA", 2, [basis.arithmetic], sinks);
};

const lubeOilFigures = (input: FigureInput): readonly PlanFigure[] => [
  ...setPointOf(input, lubeOilAt, "set point", "bar"),
  ...(input.mayUse("signal") && input.answer(lubeOilAt.element) === TRANSMITTER ? loopSignal(input, lubeOilAt, "current") : []),
  ...(input.mayUse("signal") && input.answer(lubeOilAt.element) === RATIOMETRIC ? loopSignal(input, lubeOilAt, "voltage") : []),
];

const elementSignal = (input: FigureInput): readonly PlanFigure[] => {
  const [setPoint, tolerance] = [numberAt(input, jacketWaterAt.setPoint), numberAt(input, jacketWaterAt.tolerance)];
  if (setPoint === undefined || !input.mayUse("signal")) return [];
  const element = input.answer(jacketWaterAt.element);
  if (element === "Pt100" || element === "Pt1000") {
    const classB = platinumTolerance("B", setPoint);
    const note = classB.ok
      ? `a class B element may itself be off by ${rounded(classB.value, 2)} °C; that is not the set-point tolerance`
      : "";
    return signalFigure(FED_IN, (celsius) => platinumResistance(element, celsius), setPoint, tolerance, "Ω", 2, [basis.platinum], note);
  }
  if (element === "thermocouple K" || element === "thermocouple J") {
    const kind = element === "thermocouple K" ? "K" : "J";
    const signal = (celsius: number) => thermocoupleVoltage(kind, celsius, REFERENCE_JUNCTION);
    return signalFigure(
      FED_IN,
      signal,
      setPoint,
      tolerance,
      "mV",
      3,
      [basis.thermocouple],
      "for terminals at 25 °C; let the source compensate, or measure the terminals",
    );
  }
  const [ohmsAt25, beta] = [numberAt(input, jacketWaterAt.ohmsAt25), numberAt(input, jacketWaterAt.beta)];
  if (element === "NTC" && ohmsAt25 !== undefined && beta !== undefined) {
    const signal = (celsius: number) => thermistorResistance({ kind: "beta", ohmsAt25, beta }, celsius);
    return signalFigure(
      FED_IN,
      signal,
      setPoint,
      tolerance,
      "Ω",
      1,
      [basis.arithmetic],
      "by the resistance at 25 °C and beta of this element",
    );
  }
  return element === TRANSMITTER ? loopSignal(input, jacketWaterAt, "current") : [];
};

const heatFigures = (input: FigureInput): readonly PlanFigure[] => {
  const setPoint = numberAt(input, jacketWaterAt.setPoint);
  if (setPoint === undefined || !input.mayUse("heat")) return [];
  const { place } = input.visit.visit;
  const ambientHpa = place.airPressure ?? DEFAULT_PRESSURE;
  const source = heatSource({
    setPointCelsius: setPoint + (numberAt(input, jacketWaterAt.tolerance) ?? 0),
    marginKelvin: input.visit.policy.boilingMargin,
    ambientHpa,
  });
  if (!source.ok) return [];
  const assumed = place.airPressure === undefined ? `at ${ambientHpa} hPa, taken since no air pressure was given` : `at ${ambientHpa} hPa`;
  return [
    {
      name: "heat source",
      value: source.value.openWaterBath
        ? "an open water bath would do; dry block or closed bath preferred"
        : "dry block or closed stirred bath only",
      unit: "",
      note: `water boils at ${rounded(source.value.boilingCelsius, 1)} °C ${assumed}; margin ${input.visit.policy.boilingMargin} K is common practice`,
      basis: [basis.boiling, basis.office],
    },
  ];
};

/** The temperature above which a drained circuit is not opened: the office's, since no published value was read. */
const drainFigures = ({ mayUse, visit }: FigureInput): readonly PlanFigure[] =>
  mayUse("drain")
    ? [
        {
          name: "circuit opened only at or under",
          value: visit.policy.coldTemperature,
          unit: "°C",
          note: "local thermometer; office policy, common practice",
          basis: [basis.office],
        },
      ]
    : [];

const overspeedFigures = (input: FigureInput): readonly PlanFigure[] => {
  const [setPoint, tolerance, makersMaximum] = [
    numberAt(input, overspeedAt.setPoint),
    numberAt(input, overspeedAt.tolerance),
    numberAt(input, overspeedAt.makersMaximum),
  ];
  const [rated, teeth] = [numberAt(input, RATED_SPEED), numberAt(input, overspeedAt.toothCount)];
  const factor = input.ruleBasis?.overspeedFactor ?? null;
  const limit = rated === undefined || factor === null ? undefined : overspeedLimit(rated, factor);
  const limits = [basis.overspeedLimitUs, basis.overspeedLimitClass];
  const window =
    setPoint === undefined || tolerance === undefined
      ? undefined
      : abortWindow({
          setPoint,
          tolerance,
          tachometerError: input.visit.policy.tachometerError,
          ...(limit?.ok === true ? { ruleLimit: limit.value } : {}),
          ...(makersMaximum === undefined ? {} : { makersMaximum }),
        });
  const mode = setPoint === undefined ? undefined : verifyPoint(setPoint, TEST_MODE.fraction, TEST_MODE.spread);
  return [
    ...setPointOf(input, overspeedAt, "set point", "rpm"),
    ...(limit === undefined ? [] : figure("highest permitted trip speed", limit, "rpm", 1, limits, { note: `${factor} × rated speed` })),
    ...(window === undefined || !input.mayUse("raise") || (limit === undefined && makersMaximum === undefined)
      ? []
      : [
          {
            name: "abort window",
            value: window.empty ? "empty" : `${rounded(window.from, 1)} to ${rounded(window.to, 1)}`,
            unit: window.empty ? "" : "rpm",
            note: window.empty
              ? window.reason
              : `true speeds: the test ends at the latest when the tachometer, which may read ${input.visit.policy.tachometerError} rpm low, shows the upper end less its error`,
            basis: [basis.practice, ...(limit === undefined ? [] : limits)],
          },
        ]),
    ...(mode?.ok === true && input.mayUse("test mode")
      ? [
          {
            name: "test mode at 75 %: reduced threshold",
            value: rounded(mode.value.thresholdRpm, 1),
            unit: "rpm",
            note: `holds at ${rounded(mode.value.holdsAtRpm, 1)} rpm, trips at ${rounded(mode.value.tripsAtRpm, 1)} rpm; the control's own fraction goes first`,
            basis: [basis.reducedThreshold],
          },
        ]
      : []),
    ...(setPoint === undefined || teeth === undefined || !input.mayUse("frequency")
      ? []
      : figure("pick-up frequency at the trip", pickupFrequency(teeth, setPoint), "Hz", 1, [basis.arithmetic], {
          ...spread((rpm) => pickupFrequency(teeth, rpm), setPoint, tolerance, 1),
          note: `${teeth} teeth × speed / 60`,
        })),
  ];
};

const byKind: Readonly<Record<string, (input: FigureInput) => readonly PlanFigure[]>> = {
  [LUBE_OIL]: lubeOilFigures,
  [JACKET_WATER]: (input) => [
    ...setPointOf(input, jacketWaterAt, "set point", "°C"),
    ...elementSignal(input),
    ...heatFigures(input),
    ...drainFigures(input),
  ],
  [OVERSPEED]: overspeedFigures,
};

/** The figures that what is known of a protection yields. */
export const figuresOf = (kind: string, input: FigureInput): readonly PlanFigure[] => byKind[kind]?.(input) ?? [];
