import { is, never } from "../../logic/condition.ts";
import { both } from "../../model/facts/asking.ts";
import { interlockAt as at, INTERLOCK, interlockWords } from "../../model/facts/machine.ts";
import { onEngines } from "../../model/facts/set.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { method, underClass, veto, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    id: "si-tried",
    setIs: "at rest",
    name: "start tried with the turning gear engaged, starting energy shut off and vented",
    technique: 1,
    does: "Starting energy shut off and vented or disconnected, turning gear engaged, nobody near the flywheel: a start is tried and must be refused; then the same with the gear out.",
    ...inSteps(
      "Everybody is seen away from the flywheel.",
      "A start is tried with the turning gear engaged, and must be refused and shown as blocked.",
      "Start valve or relay is watched and seen not to move.",
      "The turning gear is taken out and locked.",
      "A start is tried in the same way with the gear out, and the set is shown as ready.",
      "The starting energy is put back and the start block taken off.",
    ),
    proves: { ...WHOLE, final: "movement" },
    minutes: 10,
    requirements: [
      veto(is(at.energy, "yes"), "never: a start is not tried with the turning gear in while starting energy stands at the engine"),
    ],
    needs: ["ships-engineer"],
    cautions: ["flywheel", "unexpected-start", "restore-and-verify"],
    expected: "start refused and shown as blocked with the gear in; start valve or relay not seen to move; ready again with the gear out",
    restore: "turning gear out and locked, starting energy back, start block taken off",
    basis: [basis.practice, basis.turningGear],
    examples: { fit: { ...underClass, [at.energy]: "yes" }, barred: { [at.energy]: "no" }, open: at.energy },
  }),
];

export const startInterlock: Protection = {
  kind: INTERLOCK,
  name: interlockWords.name,
  short: "turning gear",
  applies: both(onEngines, is(at.fitted, "interlocked")),
  appliesNot: "there is no turning gear, or it does not block the start",
  danger: never,
  dangerReason: "a start tried without energy harms nothing",
  methods,
  basis: [basis.turningGear],
};
