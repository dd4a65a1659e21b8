import { is, never } from "../../logic/condition.ts";
import { controlSupplyAt as at, CONTROL_SUPPLY, controlSupplyWords } from "../../model/facts/machine.ts";
import { onEngines, STOPS_ALLOWED, SUPPLY_LOSS } from "../../model/facts/set.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { BLIND, BLIND_CAUTIONS, method, practical, STANDSTILL_CAUTIONS, setMayStop, underClass } from "./common.ts";
import { atHandStop, inSteps, STARTED_AGAIN } from "./procedure.ts";

const harmless = practical(
  is(SUPPLY_LOSS, "stops the set", "alarm only"),
  "not possible because loss of the supply takes governor or bus with it",
);

const methods: readonly Method[] = [
  method({
    ...BLIND,
    id: "cs-each",
    inTurn: "supply",
    approvable: true,
    name: "each control supply taken off in turn, at no load",
    technique: 6,
    does: "Engine at no load: each supply of the safety panel is taken off in turn, then all together, and the answer compared with the drawing; battery and charger are read.",
    ...inSteps(
      atHandStop("the set"),
      "The stop at the engine is seen to need none of these supplies.",
      "Battery and charger are read.",
      "The first supply of the safety panel is taken off and the answer compared with the drawing.",
      "It is put back and its alarm cleared.",
      "Each further supply is taken off in turn and put back in the same way.",
      "With a hand at that stop all supplies are taken off together and the answer is compared with the drawing.",
      "All supplies are put back at once and the alarms cleared.",
      STARTED_AGAIN,
    ),
    proves: { logic: "running value", final: "set point" },
    grade: "action only",
    minutes: 10,
    requirements: [harmless, setMayStop],
    needs: ["panel-drawing", "independent-reading", "ships-engineer", "set-available"],
    details: [at.supplies],
    cautions: [...BLIND_CAUTIONS, "panel-dead", "live-panel", "restore-and-verify"],
    expected: "failure of one supply is alarmed and changes nothing else; failure of all does what the drawing says",
    restore: "all supplies back, alarms cleared",
    examples: {
      fit: { ...underClass, [SUPPLY_LOSS]: "alarm only", [STOPS_ALLOWED]: "yes" },
      barred: { [SUPPLY_LOSS]: "drops the governor or the bus" },
      open: SUPPLY_LOSS,
    },
  }),
  method({
    id: "cs-standstill",
    inTurn: "supply",
    setIs: "at rest",
    approvable: true,
    name: "each control supply taken off in turn, engine stopped",
    technique: 6,
    does: "Engine stopped, start blocked: each supply of the safety panel is taken off in turn, then all together, and the alarms compared with the drawing; battery and charger are read.",
    proves: { logic: "running value" },
    grade: "action only",
    hazard: 0,
    minutes: 10,
    needs: ["panel-drawing", "ships-engineer"],
    requirements: [
      practical(
        is(STOPS_ALLOWED, "no"),
        "not planned because the set can be run for tests: the test at standstill is for a set that cannot",
      ),
    ],
    details: [at.supplies],
    cautions: [...STANDSTILL_CAUTIONS, "live-panel"],
    expected: "failure of each supply is alarmed; the start is blocked or not as the drawing says",
    restore: "all supplies back, alarms cleared, start block taken off",
    examples: { fit: { ...underClass, [STOPS_ALLOWED]: "no" }, barred: { [STOPS_ALLOWED]: "yes" }, open: STOPS_ALLOWED },
  }),
];

export const controlSupply: Protection = {
  kind: CONTROL_SUPPLY,
  name: controlSupplyWords.name,
  short: "control supply",
  applies: onEngines,
  appliesNot: "a shaft-driven generator has no safety panel of an engine",
  danger: never,
  dangerReason: "a supply taken off at no load harms nothing",
  methods,
  basis: [basis.practice],
};
