import { is, never } from "../../logic/condition.ts";
import { both } from "../../model/facts/asking.ts";
import { sensorFailureAt as at, SENSOR_FAILURE, sensorFailureWords } from "../../model/facts/machine.ts";
import { onEngines, ROLE, STOPS_ALLOWED } from "../../model/facts/set.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { BLIND, BLIND_CAUTIONS, method, practical, STANDSTILL_CAUTIONS, setMayStop, underClass } from "./common.ts";
import { atHandStop, inSteps, STARTED_AGAIN } from "./procedure.ts";

const RESULT = "alarmed, never silent; least critical consequence for the system, as the drawing says";

const methods: readonly Method[] = [
  method({
    ...BLIND,
    id: "sf-each",
    inTurn: "circuit",
    approvable: true,
    name: "each monitored circuit opened and shorted, one at a time, at no load",
    technique: 6,
    does: "Engine at no load: one circuit at a time is opened, then shorted, and the answer compared with the drawing. A sensor that governor or cooling control shares is left out.",
    ...inSteps(
      atHandStop("the channel that is opened"),
      "The first circuit is opened and the answer compared with the drawing.",
      "It is closed, then shorted, and the answer compared again.",
      "The circuit is put back, its alarm cleared and its live value seen again.",
      "Each further circuit is opened and shorted, one at a time, in the same way.",
      STARTED_AGAIN,
    ),
    proves: { wiring: "set point", logic: "running value" },
    grade: "action only",
    minutes: 10,
    requirements: [setMayStop],
    needs: ["panel-drawing", "independent-reading", "ships-engineer", "set-available"],
    cautions: [...BLIND_CAUTIONS, "full-fuel", "live-panel", "restore-and-verify"],
    expected: RESULT,
    restore: "each circuit closed, alarm cleared, live value seen again",
    basis: [basis.practice, basis.sensorFailure],
    examples: { fit: { ...underClass, [STOPS_ALLOWED]: "yes" }, barred: { [STOPS_ALLOWED]: "no" }, open: STOPS_ALLOWED },
  }),
  method({
    id: "sf-standstill",
    inTurn: "circuit",
    setIs: "at rest",
    approvable: true,
    name: "each monitored circuit opened and shorted, engine stopped",
    technique: 6,
    does: "Engine stopped, start blocked, control powered: one circuit at a time is opened, then shorted, and the answer compared with the drawing.",
    ...inSteps(
      "The first circuit is opened and the answer compared with the drawing.",
      "It is closed, then shorted, and the answer compared again.",
      "The circuit is put back, its alarm cleared and its value seen again.",
      "Each further circuit is opened and shorted, one at a time, in the same way.",
      "The start block is taken off.",
    ),
    proves: { wiring: "set point", logic: "running value" },
    grade: "action only",
    hazard: 0,
    minutes: 20,
    requirements: [
      practical(
        is(STOPS_ALLOWED, "no"),
        "not planned because the set can be run for tests: the test at standstill is for a set that cannot",
      ),
    ],
    needs: ["panel-drawing", "ships-engineer"],
    cautions: [...STANDSTILL_CAUTIONS, "live-panel"],
    expected: RESULT,
    restore: "each circuit closed, alarm cleared, value seen again, start block taken off",
    basis: [basis.practice, basis.sensorFailure],
    examples: { fit: { ...underClass, [STOPS_ALLOWED]: "no" }, barred: { [STOPS_ALLOWED]: "yes" }, open: STOPS_ALLOWED },
  }),
];

export const sensorFailure: Protection = {
  kind: SENSOR_FAILURE,
  name: sensorFailureWords.name,
  short: "sensor failure",
  applies: both(onEngines, is(at.fitted, "circuits monitored")),
  appliesNot: "the circuits are not monitored: a broken wire is silent",
  notes: [
    {
      when: is(ROLE, "emergency"),
      text: "On an emergency set a broken wire must alarm and must not stop the set.",
      basis: [basis.sensorFailure, basis.emergencySets],
    },
  ],
  danger: never,
  dangerReason: "a circuit opened at no load harms nothing",
  methods,
  basis: [basis.sensorFailure],
};
