import { JACKET_WATER_ALARM, jacketWaterAlarmAt, LUBE_OIL_ALARM, lubeOilAlarmAt } from "../../model/facts/alarmSensor.ts";
import { RATIOMETRIC, TRANSMITTER } from "../../model/facts/channel.ts";
import { EMERGENCY_START, LOSS_OF_POWER } from "../../model/facts/emergency.ts";
import { JACKET_WATER, jacketWaterAt } from "../../model/facts/jacketWater.ts";
import { LUBE_OIL, lubeOilAt } from "../../model/facts/lubeOil.ts";
import { BEARING, bearingAt, WINDING, windingAt } from "../../model/facts/machine.ts";
import { OVERSPEED, overspeedAt } from "../../model/facts/overspeed.ts";
import {
  SECOND_OVERSPEED,
  SECOND_TURBINE_OVERSPEED,
  secondOverspeedAt,
  secondTurbineOverspeedAt,
} from "../../model/facts/secondOverspeed.ts";
import { BEARING_OIL, bearingOilAt, SHAFT_TRIPS } from "../../model/facts/shaft.ts";
import { AIR_FLAP, airFlapAt } from "../../model/facts/stops.ts";
import { OVERCURRENT, REVERSE_POWER } from "../../model/facts/switchboard.ts";
import { EXHAUST, exhaustAt, STANDBY_OIL, standbyOilAt, TURBINE_OVERSPEED, turbineOverspeedAt } from "../../model/facts/turbine.ts";
import { basis } from "../../rulebook/basis.ts";
import type { PlanFigure } from "../schema.ts";
import { lossOfPowerFigures, storeFigures } from "./emergency.ts";
import { type FigureInput, setPointOf } from "./input.ts";
import { type ElementPointers, elementSignal, heatFigures, loopSignal } from "./signals.ts";
import { overspeedFigures } from "./speeds.ts";
import { overcurrentFigures, reversePowerFigures, shaftFigures } from "./switchboard.ts";

export type { FigureInput } from "./input.ts";

const oilFigures = (input: FigureInput, at: ElementPointers): readonly PlanFigure[] => [
  ...setPointOf(input, at, "set point", "bar"),
  ...(input.mayUse("signal") && input.answer(at.element) === TRANSMITTER ? loopSignal(input, at, "current") : []),
  ...(input.mayUse("signal") && input.answer(at.element) === RATIOMETRIC ? loopSignal(input, at, "voltage") : []),
];

const temperatureFigures = (input: FigureInput, at: ElementPointers): readonly PlanFigure[] => [
  ...setPointOf(input, at, "set point", "°C"),
  ...elementSignal(input, at),
  ...heatFigures(input, at),
];

/** The temperature above which a drained circuit is not opened: the office's, since no published value was read. */
const drainFigures = ({ mayUse, visit }: FigureInput): readonly PlanFigure[] =>
  mayUse("drain")
    ? [
        {
          name: "circuit opened only at or under",
          value: visit.policy.coldTemperature,
          unit: "°C",
          noteForOffice: true,
          note: "local thermometer; office policy, common practice",
          basis: [basis.office],
        },
      ]
    : [];

const byKind: Readonly<Record<string, (input: FigureInput) => readonly PlanFigure[]>> = {
  [LUBE_OIL]: (input) => oilFigures(input, lubeOilAt),
  [LUBE_OIL_ALARM]: (input) => oilFigures(input, lubeOilAlarmAt),
  [JACKET_WATER]: (input) => [...temperatureFigures(input, jacketWaterAt), ...drainFigures(input)],
  [JACKET_WATER_ALARM]: (input) => temperatureFigures(input, jacketWaterAlarmAt),
  [SECOND_OVERSPEED]: (input) => overspeedFigures(input, secondOverspeedAt),
  [SECOND_TURBINE_OVERSPEED]: (input) => overspeedFigures(input, secondTurbineOverspeedAt),
  [OVERSPEED]: (input) => overspeedFigures(input, overspeedAt),
  [TURBINE_OVERSPEED]: (input) => overspeedFigures(input, turbineOverspeedAt),
  [EXHAUST]: (input) => [
    ...setPointOf(input, exhaustAt, "set point, absolute", "bar"),
    ...(input.mayUse("signal") && input.answer(exhaustAt.element) === TRANSMITTER ? loopSignal(input, exhaustAt, "current") : []),
  ],
  [STANDBY_OIL]: (input) => setPointOf(input, { setPoint: standbyOilAt.pressure }, "starting pressure", "bar"),
  [BEARING_OIL]: (input) => setPointOf(input, bearingOilAt, "set point", "bar"),
  [BEARING]: (input) => temperatureFigures(input, bearingAt),
  [WINDING]: (input) => [...setPointOf(input, windingAt, "set point", "°C"), ...elementSignal(input, windingAt)],
  [REVERSE_POWER]: reversePowerFigures,
  [OVERCURRENT]: overcurrentFigures,
  [SHAFT_TRIPS]: shaftFigures,
  [AIR_FLAP]: (input) => setPointOf(input, { setPoint: airFlapAt.speed }, "highest speed at which the maker lets the flap be shut", "rpm"),
  [EMERGENCY_START]: storeFigures,
  [LOSS_OF_POWER]: lossOfPowerFigures,
};

/** The figures that what is known of a protection yields; those that none of the planned methods is worked out with are marked. */
export const figuresOf = (kind: string, input: FigureInput, planned: FigureInput["mayUse"]): readonly PlanFigure[] => {
  const figures = byKind[kind];
  if (figures === undefined) return [];
  const now = new Set(figures({ ...input, mayUse: planned }).map(({ name }) => name));
  return figures(input).map((figure) => (now.has(figure.name) ? figure : { ...figure, later: true }));
};
