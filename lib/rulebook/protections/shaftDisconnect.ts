import { is, never } from "../../logic/condition.ts";
import { ALONGSIDE, onShafts, SHAFT_TURNS } from "../../model/facts/set.ts";
import { SHAFT_DISCONNECT, shaftDisconnectAt, shaftDisconnectWords } from "../../model/facts/shaft.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { method, practical, shaftTurns, underClass, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    id: "sd-by-hand",
    setIs: "on the board",
    name: "disconnected by hand: breaker, excitation, clutch",
    technique: 1,
    does: "Shaft turning as agreed, load taken over: breaker, excitation and clutch, where there is one, are worked in turn from each place; the driving engine keeps running.",
    ...inSteps(
      "The load is seen taken over by others.",
      "The breaker is opened by hand and seen to stay open.",
      "The excitation is taken off and seen to fall.",
      "The clutch, where there is one, is opened and seen open.",
      "The driving engine is seen to keep running.",
      "Each is put back and worked in turn from each further place.",
      "The generator is excited and connected again, or left apart as the day says.",
    ),
    proves: WHOLE,
    minutes: 10,
    requirements: [shaftTurns],
    needs: ["switchboard-hand", "shaft-turning", "ships-engineer"],
    details: [shaftDisconnectAt.clutch],
    cautions: ["turning-shaft", "others-carry"],
    expected: "breaker opens and does not reclose, excitation falls, clutch opens; the driving engine keeps running",
    examples: { fit: { ...underClass, [SHAFT_TURNS]: ALONGSIDE }, barred: { [SHAFT_TURNS]: "not during the visit" }, open: SHAFT_TURNS },
  }),
  method({
    id: "sd-standstill",
    setIs: "at rest",
    name: "shaft at rest: breaker and clutch worked, seen to move",
    technique: 1,
    does: "Shaft at rest and blocked: the breaker is closed in its test position and opened from each place, the clutch worked and seen to move.",
    ...inSteps(
      "The breaker is put into its test position and closed.",
      "It is opened from the first place, then closed and opened from each further place.",
      "The clutch is worked and seen to move.",
      "Breaker and clutch are put back as they were found.",
    ),
    proves: { ...WHOLE, final: "movement" },
    hazard: 0,
    minutes: 20,
    requirements: [practical(is(SHAFT_TURNS, "not during the visit"), "not planned because the shaft can turn for the tests")],
    needs: ["switchboard-hand", "ships-engineer"],
    details: [shaftDisconnectAt.clutch],
    cautions: ["unexpected-start", "switchboard"],
    expected: "breaker opens from each place; clutch seen to open",
    examples: { fit: { ...underClass, [SHAFT_TURNS]: "not during the visit" }, barred: { [SHAFT_TURNS]: ALONGSIDE }, open: SHAFT_TURNS },
  }),
];

export const shaftDisconnect: Protection = {
  kind: SHAFT_DISCONNECT,
  name: shaftDisconnectWords.name,
  short: "disconnection",
  applies: onShafts,
  appliesNot: "the generator is not shaft-driven",
  danger: never,
  dangerReason: "disconnecting an unloaded generator harms nothing",
  methods,
  basis: [basis.practice],
};
