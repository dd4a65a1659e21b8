import { airStarts } from "../../figures/airStarts.ts";
import { batteryStarts, chargePerCrank } from "../../figures/batteryStarts.ts";
import { changeoverVoltages, EMERGENCY_LIMITS, emergencyHours, fuelHours } from "../../figures/emergencyPower.ts";
import { hydraulicStarts } from "../../figures/hydraulicStarts.ts";
import { numberIn } from "../../model/carrying.ts";
import { ELECTRIC, HYDRAULIC, PNEUMATIC, startAt } from "../../model/facts/starting.ts";
import { CFR_OFFSHORE, CFR_PERIODIC, SOLAS } from "../../model/facts/visit.ts";
import type { Visit } from "../../model/visit.ts";
import { basis } from "../../rulebook/basis.ts";
import type { PlanFigure } from "../schema.ts";
import { type FigureInput, figure, numberAt, rounded } from "./input.ts";

/** Starts in a store, whole ones, and how they were counted; null where they are not known. */
export interface StoredStarts {
  readonly starts: number;
  readonly how: string;
}

const airStore = (numbers: readonly (number | undefined)[]): StoredStarts | null => {
  const [volume, full, lowest, perStart] = numbers;
  if (volume === undefined || full === undefined || lowest === undefined || perStart === undefined) return null;
  const starts = airStarts(volume, perStart, { fromBar: full, toBar: lowest });
  return starts.ok
    ? {
        starts: starts.value.whole,
        how: `${volume} m³ from ${full} to ${lowest} bar, ${perStart} m³ of free air at 1.01325 bar for a start`,
      }
    : null;
};

/** What a set's own store gives: as stated, or worked out from its data. */
export const storedStarts = (input: Pick<FigureInput, "answer" | "visit">): StoredStarts | null => {
  const at = (template: string): number | undefined => {
    const value = input.answer(template);
    return typeof value === "number" ? value : undefined;
  };
  const stated = at(startAt.storedStarts);
  if (stated !== undefined) return { starts: stated, how: "as stated by the vessel" };
  const starter = input.answer(startAt.starter);
  if (starter === PNEUMATIC) {
    return airStore([at(startAt.receiverVolume), at(startAt.fullPressure), at(startAt.lowestPressure), at(startAt.airPerStart)]);
  }
  if (starter === HYDRAULIC) {
    const [litres, precharge, lowest, charged, oil] = [
      at(startAt.accumulatorVolume),
      at(startAt.precharge),
      at(startAt.lowestPressure),
      at(startAt.fullPressure),
      at(startAt.oilPerStart),
    ];
    if (litres === undefined || precharge === undefined || lowest === undefined || charged === undefined || oil === undefined) return null;
    const starts = hydraulicStarts({ litres, prechargeBar: precharge, lowestBar: lowest, chargedBar: charged }, oil);
    return starts.ok
      ? { starts: starts.value.whole, how: `${litres} L of gas, ${charged} to ${lowest} bar, charged slowly and used fast` }
      : null;
  }
  if (starter === ELECTRIC) {
    const [capacity, current, seconds] = [at(startAt.batteryCapacity), at(startAt.crankCurrent), at(startAt.crankSeconds)];
    if (capacity === undefined || current === undefined || seconds === undefined) return null;
    const perCrank = chargePerCrank(current, seconds);
    const { batteryEnd, batteryCold } = input.visit.policy;
    const starts = perCrank.ok
      ? batteryStarts({ ampereHours: capacity, endOfUseFraction: batteryEnd, coldFactor: batteryCold }, perCrank.value)
      : perCrank;
    return starts.ok
      ? {
          starts: starts.value.whole,
          how: `${capacity} Ah, ${current} A for ${seconds} s, ${batteryEnd * 100} % left at the end, ${batteryCold * 100} % in the cold: at most, since a battery gives less at high current`,
        }
      : null;
  }
  return null;
};

/** What the common store of the ship-service sets gives. */
export const commonStarts = (answers: FigureInput["answers"]): StoredStarts | null => {
  const at = (name: string): number | undefined => numberIn(answers, `/plant/start/${name}`);
  const stated = at("storedStarts");
  if (stated !== undefined) return { starts: stated, how: "as stated by the vessel" };
  return airStore([at("receiverVolume"), at("fullPressure"), at("lowestPressure"), at("airPerStart")]);
};

export type EmergencyRules = "46 CFR" | "SOLAS";

/** Whose limits on emergency power bind under a rule basis; null where it sets none. */
export const emergencyRules = (ruleBasis: string | undefined): EmergencyRules | null =>
  ruleBasis === SOLAS ? "SOLAS" : ruleBasis === CFR_PERIODIC || ruleBasis === CFR_OFFSHORE ? "46 CFR" : null;

/** Hours for which emergency power must last, where the vessel's kind and tonnage are known. */
export const hoursWanted = (visit: Visit, rules: EmergencyRules | null): ReturnType<typeof emergencyHours> | null => {
  const { kind, grossTonnage } = visit.visit.vessel;
  if (rules === null || kind === undefined || kind === "not known") return null;
  return emergencyHours({
    rules,
    kind: kind === "passenger" ? "passenger" : "cargo",
    grossTonnage: typeof grossTonnage === "number" ? grossTonnage : undefined,
    voyage: "open",
  });
};

export const storeFigures = (input: FigureInput): readonly PlanFigure[] => {
  const own = storedStarts(input);
  const second = numberAt(input, startAt.secondStarts);
  return [
    ...(own === null
      ? []
      : [{ name: "starts in the first source", value: own.starts, unit: "", note: own.how, basis: [basis.starts, basis.arithmetic] }]),
    ...(second === undefined ? [] : [{ name: "starts in the second source", value: second, unit: "", basis: [basis.own] }]),
  ];
};

export const lossOfPowerFigures = (input: FigureInput): readonly PlanFigure[] => {
  const rules = emergencyRules(input.ruleBasis?.id);
  const wanted = hoursWanted(input.visit, rules);
  const voltage = numberAt(input, "/sets/*/plate/voltage");
  const [tank, perHour] = [numberAt(input, startAt.fuelTank), numberAt(input, startAt.fuelPerHour)];
  const volts = voltage === undefined || rules !== "46 CFR" ? null : changeoverVoltages(voltage);
  const limit = rules === "46 CFR" ? EMERGENCY_LIMITS.cfrConnectionSeconds : EMERGENCY_LIMITS.solasConnectionSeconds;
  return [
    ...(rules === null
      ? []
      : [
          {
            name: "emergency power within",
            value: limit.value,
            unit: "s",
            note: rules === "46 CFR" ? "from failure; full load within 45 s of cranking" : "from the loss of power",
            basis: rules === "46 CFR" ? [basis.emergencyTransfer, basis.emergencyFullLoad] : [basis.solasEmergency],
          },
        ]),
    ...(volts?.ok !== true
      ? []
      : [
          {
            name: "starts when the normal voltage falls to",
            value: `${rounded(volts.value.startLowest, 1)} to ${rounded(volts.value.startHighest, 1)}`,
            unit: "V",
            note: `loads transfer at ${rounded(volts.value.transferLowest, 1)} to ${rounded(volts.value.transferHighest, 1)} V`,
            basis: [basis.emergencyStart, basis.emergencyTransfer],
          },
        ]),
    ...(wanted?.ok === true
      ? [{ name: "emergency power must last", value: wanted.value.hours, unit: "h", basis: [wanted.value.basis] }]
      : []),
    ...(tank === undefined || perHour === undefined
      ? []
      : figure("fuel lasts", fuelHours(tank, 1, perHour), "h", 1, [basis.arithmetic], {
          note: `${tank} L usable at ${perHour} L in an hour`,
        })),
  ];
};
