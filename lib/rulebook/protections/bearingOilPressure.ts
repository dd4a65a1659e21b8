import { any, is } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { both } from "../../model/facts/asking.ts";
import { ALONGSIDE, onShafts, SHAFT_TURNS, UNDER_WAY } from "../../model/facts/set.ts";
import { BEARING_ALARM, BEARING_OIL, bearingOilAt, bearingOilWords, DISCONNECTS } from "../../model/facts/shaft.ts";
import { supportAt } from "../../model/facts/support.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { BLIND, BLIND_CAUTIONS, forbiddenMethod, method, practical, shaftTurns, underClass, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

const DROPS = "generator disconnects (clutch or breaker opens) at the set point within tolerance; the driving engine keeps running";

const methods: readonly Method[] = [
  method({
    ...BLIND,
    id: "bo-bleed",
    name: "bearing-oil sensor isolated and bled, generator disconnects",
    technique: 1,
    does: "Shaft turning as agreed, generator unloaded: the sensor is shut off and bled slowly; clutch or breaker opens and the engine keeps running; the gauge is read.",
    ...inSteps(
      "One person stands at the disconnection by hand, another watches an independent reading of the bearing oil.",
      "The sensor is shut off at its isolating valve.",
      "It is bled slowly at the test cock, with the gauge watched.",
      "The gauge is read when clutch or breaker opens.",
      "The driving engine is seen to keep running.",
      "The cock is shut, the valve opened and running pressure seen on the channel.",
      "The trip is reset by hand and the generator excited and connected again, or left apart as the day says.",
    ),
    proves: WHOLE,
    minutes: 15,
    requirements: [
      practical(is(bearingOilAt.isolatingValve, "with test cock"), "not possible because there is no test cock behind an isolating valve"),
      shaftTurns,
    ],
    needs: ["reference-gauge", "independent-reading", "shaft-turning", "ships-engineer"],
    details: [bearingOilAt.setPoint, bearingOilAt.tolerance],
    cautions: [...BLIND_CAUTIONS, "turning-shaft", "pressurised-oil", "restore-and-verify"],
    expected: DROPS,
    restore: "cock shut, valve opened and seen open, channel shows running pressure",
    basis: [basis.practice, basis.bearingOilLoss],
    examples: {
      fit: { ...underClass, [bearingOilAt.isolatingValve]: "with test cock", [SHAFT_TURNS]: ALONGSIDE, [supportAt.referenceGauge]: ABOARD },
      barred: { [bearingOilAt.isolatingValve]: "none" },
      open: SHAFT_TURNS,
    },
  }),
  method({
    ...BLIND,
    id: "bo-pump",
    name: "pump on the isolated bearing-oil sensor, generator disconnects",
    technique: 2,
    does: "Shaft turning as agreed, generator unloaded: the sensor is shut off and a pump on its connection lowered through the set point; clutch or breaker opens and the engine keeps running.",
    proves: WHOLE,
    minutes: 20,
    requirements: [
      practical(
        is(bearingOilAt.isolatingValve, "with test connection"),
        "not possible because there is no connection for a pump behind an isolating valve",
      ),
      shaftTurns,
    ],
    needs: ["pressure-comparator", "independent-reading", "shaft-turning", "ships-engineer"],
    details: [bearingOilAt.setPoint, bearingOilAt.tolerance],
    cautions: [...BLIND_CAUTIONS, "turning-shaft", "pressurised-oil", "restore-and-verify"],
    expected: DROPS,
    restore: "pump taken off, valve opened and seen open, channel shows running pressure",
    basis: [basis.practice, basis.bearingOilLoss],
    examples: {
      fit: {
        ...underClass,
        [bearingOilAt.isolatingValve]: "with test connection",
        [SHAFT_TURNS]: UNDER_WAY,
        [supportAt.pressureComparator]: ABOARD,
      },
      barred: { [SHAFT_TURNS]: "not during the visit" },
      open: SHAFT_TURNS,
    },
  }),
  method({
    id: "bo-standstill",
    setIs: "at rest",
    name: "shaft at rest: bearing-oil sensor pumped on the bench, breaker or clutch control seen to move",
    technique: 2,
    does: "Shaft at rest and blocked, oil pump off: the sensor is screwed out, pumped to running pressure on its own plug and lowered through its set point; breaker or clutch control is seen to move.",
    ...inSteps(
      "The sensing line is seen without pressure.",
      "The sensor is screwed out and put on the pump, on its own plug.",
      "It is pumped to running pressure.",
      "It is lowered slowly through its set point and the gauge read when the channel acts.",
      "Breaker or clutch control is seen to move.",
      "The sensor is refitted with a new washer.",
    ),
    proves: { ...WHOLE, final: "movement" },
    hazard: 0,
    minutes: 45,
    requirements: [
      practical(
        any(is(SHAFT_TURNS, "not during the visit"), is(bearingOilAt.isolatingValve, "none")),
        "not planned because the sensor can be shut off while the shaft turns, which shows that the engine keeps running",
      ),
    ],
    needs: ["pressure-comparator", "sealing-washer", "ships-engineer"],
    details: [bearingOilAt.setPoint, bearingOilAt.tolerance],
    cautions: ["unexpected-start", "restore-and-verify"],
    expected: "alarm at the set point within tolerance; breaker or clutch control seen to open",
    restore: "sensor refitted with a new washer, no leak at the next turn of the shaft, running pressure seen",
    basis: [basis.practice],
    examples: {
      fit: { ...underClass, [SHAFT_TURNS]: "not during the visit", [supportAt.pressureComparator]: ABOARD },
      barred: { [supportAt.pressureComparator]: "not to be had" },
      open: supportAt.pressureComparator,
    },
  }),
  forbiddenMethod(
    "bo-real",
    "bearing oil taken away on a turning shaft",
    "The oil supply of the bearings is shut while the shaft turns.",
    "never: bearings without oil are destroyed",
  ),
];

export const bearingOilPressure: Protection = {
  kind: BEARING_OIL,
  name: bearingOilWords.name,
  short: "bearing oil",
  applies: both(onShafts, is(bearingOilAt.fitted, DISCONNECTS, BEARING_ALARM)),
  appliesNot: "the generator is not shaft-driven, or its bearings are not fed under pressure (bearing temperature instead)",
  danger: true,
  dangerReason: "bearings without oil are destroyed",
  methods,
  setPoint: bearingOilAt.setPoint,
  tolerance: bearingOilAt.tolerance,
  basis: [basis.bearingOilLoss],
};
