import { loadLeft } from "../../figures/loadLeft.ts";
import { longTimePickUpLimit } from "../../figures/overcurrent.ts";
import { reversePowerBand, typicalMotoring } from "../../figures/reversePower.ts";
import { shaftFrequency, speedWindow } from "../../figures/shaftGenerator.ts";
import { loadBeside, motoringPower } from "../../model/carrying.ts";
import { plantAt } from "../../model/facts/plant.ts";
import { PRIME_MOVER, RATED_POWER, STEAM } from "../../model/facts/set.ts";
import { shaftTripsAt } from "../../model/facts/shaft.ts";
import { overcurrentAt, reversePowerAt } from "../../model/facts/switchboard.ts";
import { type Basis, basis } from "../../rulebook/basis.ts";
import type { PlanFigure } from "../schema.ts";
import { type FigureInput, figure, numberAt, rounded } from "./input.ts";

const bandBasis: readonly Basis[] = [basis.reversePowerClass, basis.reversePowerDiesel, basis.reversePowerTurbine];

/** What the others carry while this set is motored, and one more set gone. */
const loadFigures = (input: FigureInput): readonly PlanFigure[] => {
  const { loadLimit } = input.visit.policy;
  const motoringKw = motoringPower(input.answers, input.set);
  const beside =
    motoringKw === undefined
      ? undefined
      : loadBeside(input.answers, input.visit.sets.length, input.set, { motoringKw, limitPercent: loadLimit });
  const starter = numberAt(input, plantAt.largestStarter);
  if (beside === undefined) return [];
  const left = loadLeft(beside);
  if (!left.ok) return [];
  const { percent, withinLimit, largestLost } = left.value;
  const one = largestLost.setsLeft
    ? `if the largest of the others trips too, ${rounded(largestLost.percent, 0)} % on the rest`
    : "if the other set trips too, the ship is without power";
  return [
    {
      name: "load on the others while this set is motored",
      value: rounded(percent, 0),
      unit: "%",
      noteForOffice: true,
      note: `${withinLimit ? "within" : "above"} the office's ${loadLimit} %; ship's load, motoring power${starter === undefined ? "" : " and the largest self-starting consumer"} counted; ${one}`,
      basis: [basis.office, basis.largestSetStopped],
    },
  ];
};

const percentOf = (percent: number, rated: number | undefined): string =>
  rated === undefined ? "" : `${rounded((percent * rated) / 100, 1)} kW`;

export const reversePowerFigures = (input: FigureInput): readonly PlanFigure[] => {
  const rated = numberAt(input, RATED_POWER);
  const [pickUp, motoring, delay] = [
    numberAt(input, reversePowerAt.pickUp),
    numberAt(input, reversePowerAt.motoring),
    numberAt(input, reversePowerAt.delay),
  ];
  const mover = input.answer(PRIME_MOVER);
  const kind = mover === undefined || mover === "shaft" ? null : mover === STEAM ? "turbine" : "diesel";
  const band = kind === null ? null : reversePowerBand(kind, rated ?? 100);
  const typical = kind === null ? null : typicalMotoring(kind === "turbine" ? "condensingSteam" : "diesel");
  return [
    ...(pickUp === undefined
      ? []
      : [
          {
            name: "pick-up",
            value: pickUp,
            unit: "%",
            note: [percentOf(pickUp, rated), delay === undefined ? "" : `after ${delay} s`].filter((part) => part !== "").join(", "),
            basis: [basis.own],
          },
        ]),
    ...(band?.ok !== true
      ? []
      : [
          {
            name: "usual band of class rules",
            value: `${band.value.percent.lower.value} to ${band.value.percent.upper.value}`,
            unit: "%",
            note: `${rated === undefined ? "" : `${rounded(band.value.kilowatts.lower, 1)} to ${rounded(band.value.kilowatts.upper, 1)} kW, `}after ${band.value.seconds.lower.value} to ${band.value.seconds.upper.value} s`,
            officeOnly: true as const,
            basis: bandBasis,
          },
        ]),
    ...(motoring === undefined
      ? typical === null
        ? []
        : [
            {
              name: "typical motoring power",
              value:
                typical.lowestPercent === typical.highestPercent
                  ? typical.lowestPercent
                  : `${typical.lowestPercent} to ${typical.highestPercent}`,
              unit: "%",
              note: "of such a prime mover; this set's own figure decides",
              officeOnly: true as const,
              basis: [basis.motoring],
            },
          ]
      : [
          {
            name: "power taken when motored",
            value: motoring,
            unit: "%",
            note: percentOf(motoring, rated),
            basis: [basis.own],
          },
        ]),
    ...(input.mayUse("motoring") ? loadFigures(input) : []),
  ];
};

export const overcurrentFigures = (input: FigureInput): readonly PlanFigure[] => {
  const [current, pickUp] = [numberAt(input, "/sets/*/plate/current"), numberAt(input, overcurrentAt.pickUp)];
  const limit = current === undefined ? null : longTimePickUpLimit(current);
  return [
    ...(pickUp === undefined ? [] : [{ name: "long-time pick-up", value: pickUp, unit: "%", basis: [basis.own] }]),
    ...(limit === null
      ? []
      : figure("highest long-time pick-up", limit, "A", 1, [basis.overcurrentLimit], { note: "115 % of rated current" })),
  ];
};

export const shaftFigures = (input: FigureInput): readonly PlanFigure[] => {
  const [ratio, shaft, poles, hertz] = [
    numberAt(input, shaftTripsAt.ratio),
    numberAt(input, shaftTripsAt.shaftSpeed),
    numberAt(input, "/sets/*/plate/poles"),
    numberAt(input, "/sets/*/plate/frequency"),
  ];
  if (!input.mayUse("shaft frequency") || ratio === undefined || poles === undefined) return [];
  const window = hertz === undefined ? null : speedWindow({ hertz, ratio, poles });
  return [
    ...(shaft === undefined
      ? []
      : figure("frequency at that shaft speed", shaftFrequency(shaft, ratio, poles), "Hz", 2, [basis.arithmetic], {
          note: `${shaft} rpm × ${ratio} × ${poles} poles / 120`,
        })),
    ...(window?.ok !== true
      ? []
      : [
          {
            name: "shaft speeds for ± 5 % of frequency",
            value: `${rounded(window.value.lowestRpm, 1)} to ${rounded(window.value.highestRpm, 1)}`,
            unit: "rpm",
            note: "lasting band of frequency",
            basis: [{ cite: "IACS UR E5", mark: "memory" as const }],
          },
        ]),
  ];
};
