import { is, never } from "../../logic/condition.ts";
import { both } from "../../model/facts/asking.ts";
import { ALONGSIDE, onShafts, SHAFT_TURNS, UNDER_WAY } from "../../model/facts/set.ts";
import { HANDOVER, handoverAt, handoverWords, shaftTripsAt } from "../../model/facts/shaft.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { method, practical, underClass, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    id: "ho-slowed",
    setIs: "under way",
    name: "shaft slowed under way, another set connects before the trip",
    technique: 1,
    does: "Under way in clear water: the engine is slowed; another set must start and connect by itself before the shaft generator's breaker opens; the supply is not interrupted.",
    ...inSteps(
      "Bridge and control room are told that the speed is changed.",
      "The engine is slowed.",
      "Another set is seen to start and connect by itself.",
      "The shaft generator's breaker is seen to open after that, and the seconds between are read.",
      "The supply is seen not to be interrupted.",
    ),
    proves: WHOLE,
    hazard: 2,
    minutes: 30,
    requirements: [practical(is(SHAFT_TURNS, UNDER_WAY), "not possible because the shaft does not turn under way during the visit")],
    needs: ["sea-room", "stop-watch", "switchboard-hand", "ships-engineer"],
    cautions: ["turning-shaft", "others-carry", "starts-by-itself"],
    expected: "a ship-service set is on the board before the shaft generator trips; no consumer drops",
    basis: [basis.shaftCredit],
    examples: {
      fit: { ...underClass, [SHAFT_TURNS]: UNDER_WAY, [shaftTripsAt.seaRoom]: "offered" },
      barred: { [shaftTripsAt.seaRoom]: "refused" },
      open: SHAFT_TURNS,
    },
  }),
  method({
    id: "ho-ordered",
    setIs: "on the board",
    name: "hand-over ordered at the power management, shaft turning alongside",
    technique: 1,
    does: "Shaft turning alongside, declutched or at zero pitch: the hand-over is ordered at the power management; another set starts, synchronises and takes the load. The falling speed that should order it is not shown.",
    ...inSteps(
      "The hand-over is ordered at the power management.",
      "Another set is seen to start and to synchronise.",
      "It is seen to take the load without a break.",
      "The shaft generator's breaker is seen to open after that.",
    ),
    proves: { wiring: "set point", logic: "running value", final: "set point" },
    grade: "action only",
    minutes: 20,
    requirements: [practical(is(SHAFT_TURNS, ALONGSIDE), "not possible because the shaft does not turn alongside")],
    needs: ["switchboard-hand", "shaft-turning", "ships-engineer"],
    cautions: ["turning-shaft", "others-carry", "starts-by-itself"],
    expected: "another set takes the load without a break, then the shaft generator's breaker opens",
    basis: [basis.practice],
    examples: { fit: { ...underClass, [SHAFT_TURNS]: ALONGSIDE }, barred: { [SHAFT_TURNS]: UNDER_WAY }, open: SHAFT_TURNS },
  }),
];

export const shaftHandover: Protection = {
  kind: HANDOVER,
  name: handoverWords.name,
  short: "hand-over",
  applies: both(onShafts, is(handoverAt.fitted, "by itself, before the shaft generator trips")),
  appliesNot: "the generator is not shaft-driven, or the hand-over is done by hand",
  danger: never,
  dangerReason: "a hand-over harms nothing",
  methods,
  basis: [basis.shaftCredit],
};
