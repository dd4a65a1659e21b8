import { is, never } from "../../logic/condition.ts";
import { both } from "../../model/facts/asking.ts";
import { onDiesels } from "../../model/facts/set.ts";
import { fuelShutOffAt as at, FUEL_SHUT_OFF, fuelShutOffWords } from "../../model/facts/stops.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { method, practical, STOPS_ONCE, underClass, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    ...STOPS_ONCE,
    id: "fs-together",
    inTurn: "valve",
    name: "all valves of one control closed together",
    technique: 1,
    does: "Sets stopped or fed otherwise: all valves of one remote control are closed together, and none is opened again before all have been seen shut at the valve.",
    ...inSteps(
      "Every set that these valves feed is seen stopped, or fed otherwise.",
      "All valves of the remote control are closed together from its place.",
      "Each valve is seen shut at the valve.",
      "When all have been seen shut, each is opened again and seen open at the valve.",
      "The fuel lines are vented.",
      "The sets are started once and looked over for leaks.",
    ),
    // No logic stands between a pulled handle and its valves; where a control cabinet does, it acts with them.
    proves: WHOLE,
    minutes: 60,
    requirements: [practical(is(at.fedOtherwise, "yes"), "not possible because the set that carries the ship is fed through these valves")],
    needs: ["ships-engineer", "set-available"],
    cautions: ["others-carry", "fuel-vented", "restore-and-verify"],
    expected: "every valve of the control shuts fully and at once; the emergency set's tank has a control of its own",
    restore: "every valve opened and seen open, lines vented, sets started once",
    examples: { fit: { ...underClass, [at.fedOtherwise]: "yes" }, barred: { [at.fedOtherwise]: "no" }, open: at.fedOtherwise },
  }),
];

export const fuelShutOff: Protection = {
  kind: FUEL_SHUT_OFF,
  name: fuelShutOffWords.name,
  short: "fuel shut-off",
  applies: both(onDiesels, is(at.fitted, "yes")),
  appliesNot: "the set burns no fuel of its own, or its fuel cannot be shut off from outside",
  danger: never,
  dangerReason: "shutting the fuel of stopped sets harms nothing",
  methods,
  basis: [basis.practice],
};
