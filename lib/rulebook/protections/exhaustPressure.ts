import { is } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { both } from "../../model/facts/asking.ts";
import { TRANSMITTER } from "../../model/facts/channel.ts";
import { onTurbines, STOPS_ALLOWED } from "../../model/facts/set.ts";
import { supportAt } from "../../model/facts/support.ts";
import { exhaustAt as at, EXHAUST, exhaustWords } from "../../model/facts/turbine.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import {
  BLIND,
  BLIND_CAUTIONS,
  BREAKER_OPENS,
  forbiddenMethod,
  method,
  practical,
  STANDSTILL_CAUTIONS,
  setMayStop,
  underClass,
  WHOLE,
} from "./common.ts";
import { atHandStop, inSteps, STARTED_AGAIN } from "./procedure.ts";

const valve = practical(is(at.valve, "yes"), "not possible because the sensor cannot be shut off and pumped");
const TRIPS = `turbine trips (or alarm, as fitted) at the set point within tolerance, counted as absolute pressure; ${BREAKER_OPENS}`;

const methods: readonly Method[] = [
  method({
    ...BLIND,
    id: "ep-pump",
    approvable: true,
    name: "pressure pump on the isolated exhaust sensor",
    technique: 2,
    does: "Turbine at no load: the sensor is shut off and pumped from running exhaust pressure up to the trip; gauge and barometer are read.",
    ...inSteps(
      atHandStop("the exhaust"),
      "The barometer is read.",
      "The sensor is shut off and the pump put on its test connection.",
      "It is pumped slowly from running exhaust pressure up to the trip.",
      "The gauge is read at the trip and counted as absolute pressure by the barometer.",
      "The pump is taken off, the valve opened and running exhaust pressure seen on the channel.",
      STARTED_AGAIN,
    ),
    proves: WHOLE,
    minutes: 30,
    requirements: [valve, setMayStop],
    needs: ["absolute-gauge", "independent-reading", "steam-plant", "ships-engineer", "set-available"],
    details: [at.setPoint, at.tolerance],
    cautions: [...BLIND_CAUTIONS, "standby-oil-first", "restore-and-verify"],
    expected: TRIPS,
    restore: "pump taken off, valve opened and seen open, channel shows running exhaust pressure",
    basis: [basis.practice, basis.backPressure],
    examples: {
      fit: { ...underClass, [at.valve]: "yes", [STOPS_ALLOWED]: "yes", [supportAt.absoluteGauge]: ABOARD },
      barred: { [at.valve]: "no" },
      open: at.valve,
    },
  }),
  method({
    id: "ep-standstill",
    setIs: "at rest",
    name: "turbine stopped: isolated exhaust sensor pumped, stop valve seen to move",
    technique: 2,
    does: "Turbine at rest, steam isolated, oil pressure on the trip gear: the isolated sensor is pumped through its set point and the stop valve seen to shut.",
    proves: { ...WHOLE, final: "movement" },
    hazard: 0,
    minutes: 20,
    requirements: [
      valve,
      practical(
        is(STOPS_ALLOWED, "no"),
        "not planned because the set can be run and stopped for tests: the test at standstill is for a set that cannot",
      ),
    ],
    needs: ["absolute-gauge", "ships-engineer"],
    details: [at.setPoint, at.tolerance],
    cautions: [...STANDSTILL_CAUTIONS],
    expected: "trip at the set point within tolerance, counted as absolute pressure; stop valve shuts",
    restore: "pump taken off, valve opened and seen open, steam isolation taken off",
    examples: {
      fit: { ...underClass, [at.valve]: "yes", [STOPS_ALLOWED]: "no", [supportAt.absoluteGauge]: ABOARD },
      barred: { [STOPS_ALLOWED]: "yes" },
      open: at.valve,
    },
  }),
  method({
    ...BLIND,
    id: "ep-plug",
    approvable: true,
    figures: ["signal"],
    name: "signal fed in at the plug of the exhaust-pressure transmitter",
    technique: 4,
    does: "Turbine at no load: the transmitter's plug is drawn and its signal fed in and raised through the set point.",
    proves: { wiring: "set point", logic: "set point", final: "set point" },
    minutes: 20,
    requirements: [practical(is(at.element, TRANSMITTER), "not possible because a plain switch has no signal to feed in"), setMayStop],
    needs: ["signal-source", "independent-reading", "steam-plant", "ships-engineer", "set-available"],
    details: [at.setPoint, at.rangeTo],
    cautions: [...BLIND_CAUTIONS, "standby-oil-first", "live-panel", "restore-and-verify"],
    expected: TRIPS,
    restore: "plug refitted and locked, channel shows running exhaust pressure",
    examples: {
      fit: { ...underClass, [at.element]: TRANSMITTER, [STOPS_ALLOWED]: "yes", [supportAt.signalSource]: ABOARD },
      barred: { [at.element]: "plain switch" },
      open: at.element,
    },
  }),
  forbiddenMethod(
    "ep-real",
    "circulating water or exhaust shut to raise the pressure",
    "Circulating water or the exhaust valve is shut until the pressure rises.",
    "never: shutting circulating water or exhaust overheats the turbine and can burst its casing",
  ),
];

export const exhaustPressure: Protection = {
  kind: EXHAUST,
  name: exhaustWords.name,
  short: "exhaust pressure",
  applies: both(onTurbines, is(at.fitted, "trip", "alarm only")),
  appliesNot: "no steam turbine drives this set, or no such protection is fitted",
  danger: true,
  dangerReason: "the real loss of vacuum or exhaust overheats the turbine",
  methods,
  setPoint: at.setPoint,
  tolerance: at.tolerance,
  basis: [basis.backPressure, basis.practice],
};
