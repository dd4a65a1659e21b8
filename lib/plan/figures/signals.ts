import { loopCurrent } from "../../figures/currentLoop.ts";
import { heatSource } from "../../figures/heatSource.ts";
import { platinumResistance, platinumTolerance } from "../../figures/platinum.ts";
import { ratiometricVoltage } from "../../figures/ratiometric.ts";
import { thermistorResistance } from "../../figures/thermistor.ts";
import { thermocoupleVoltage } from "../../figures/thermocouple.ts";
import { TRANSMITTER } from "../../model/facts/channel.ts";
import { basis } from "../../rulebook/basis.ts";
import type { PlanFigure } from "../schema.ts";
import { type FigureInput, numberAt, rounded, signalFigure } from "./input.ts";

const DEFAULT_PRESSURE = 1000;
const SUPPLY_VOLTS = 5;
const REFERENCE_JUNCTION = 25;

/** Where the answers of a loop stand. */
export interface LoopPointers {
  readonly setPoint: string;
  readonly tolerance: string;
  readonly rangeTo?: string;
  readonly loopSupply?: string;
}

/** Where the answers of a temperature element stand. */
export interface ElementPointers extends LoopPointers {
  readonly element: string;
  readonly ohmsAt25?: string;
  readonly beta?: string;
}

export const FED_IN = "signal to feed in at the set point";

export const loopSignal = (input: FigureInput, at: LoopPointers, kind: "current" | "voltage"): readonly PlanFigure[] => {
  const [setPoint, tolerance, upper] = [
    numberAt(input, at.setPoint),
    numberAt(input, at.tolerance),
    at.rangeTo === undefined ? undefined : numberAt(input, at.rangeTo),
  ];
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
    at.loopSupply !== undefined && input.answer(at.loopSupply) === "the control module"
      ? "the module powers the loop: the source must sink"
      : "see who powers the loop before connecting a source";
  return signalFigure(FED_IN, (value) => loopCurrent(value, range), setPoint, tolerance, "mA", 2, [basis.arithmetic], sinks);
};

/** The signal to feed in for a temperature element, as far as its kind and data are known. */
export const elementSignal = (input: FigureInput, at: ElementPointers): readonly PlanFigure[] => {
  const [setPoint, tolerance] = [numberAt(input, at.setPoint), numberAt(input, at.tolerance)];
  if (setPoint === undefined || !input.mayUse("signal")) return [];
  const element = input.answer(at.element);
  if (element === "Pt100" || element === "Pt1000") {
    const classB = platinumTolerance("B", setPoint);
    const note = classB.ok
      ? `a class B element may itself be off by ${rounded(classB.value, 2)} °C; that is not the set-point tolerance`
      : "";
    return signalFigure(FED_IN, (celsius) => platinumResistance(element, celsius), setPoint, tolerance, "Ω", 2, [basis.platinum], note).map(
      (entry) => ({ ...entry, noteForOffice: true as const }),
    );
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
  const [ohmsAt25, beta] = [numberAt(input, at.ohmsAt25 ?? ""), numberAt(input, at.beta ?? "")];
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
  return element === TRANSMITTER ? loopSignal(input, at, "current") : [];
};

/** What heats the sensor at the place's air pressure. */
export const heatFigures = (input: FigureInput, at: { readonly setPoint: string; readonly tolerance: string }): readonly PlanFigure[] => {
  const setPoint = numberAt(input, at.setPoint);
  if (setPoint === undefined || !input.mayUse("heat")) return [];
  const { place } = input.visit.visit;
  const ambientHpa = place.airPressure ?? DEFAULT_PRESSURE;
  const source = heatSource({
    setPointCelsius: setPoint + (numberAt(input, at.tolerance) ?? 0),
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
      noteForOffice: true,
      note: `water boils at ${rounded(source.value.boilingCelsius, 1)} °C ${assumed}; margin ${input.visit.policy.boilingMargin} K is common practice`,
      basis: [basis.boiling, basis.office],
    },
  ];
};
