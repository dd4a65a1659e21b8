import { is } from "../../logic/condition.ts";
import { both } from "../../model/facts/asking.ts";
import { fireReleaseAt as at, FIRE_RELEASE, fireReleaseWords } from "../../model/facts/emergency.ts";
import { onEmergencySets } from "../../model/facts/set.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { forbiddenMethod, method, STOPS_ONCE, underClass, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    ...STOPS_ONCE,
    id: "fr-switch",
    name: "pressure switch of the release worked, bottles disconnected",
    technique: 1,
    does: "Bottles and pilot lines disconnected by a competent person: the pressure switch of the release is worked by itself and the running set must stop.",
    ...inSteps(
      "The competent person shows that bottles and pilot lines are disconnected, tagged and counted.",
      "The set is seen running at no load.",
      "The pressure switch of the release is worked by itself.",
      "The set is seen to stop, the ventilation to stop and the flaps to shut as arranged.",
      "The switch is put back and the stop reset by hand.",
      "The competent person connects bottles and pilot lines and counts them, seen by the inspector.",
      "The set is started again, or left at rest as the day says.",
    ),
    proves: WHOLE,
    minutes: 20,
    needs: ["bottles-apart", "ships-engineer"],
    cautions: ["pilot-line", "restore-and-verify"],
    expected: "set stops, ventilation stops and flaps shut as arranged; reset by hand",
    restore: "switch back, bottles and pilot lines connected and counted by the competent person, seen by the inspector",
    basis: [basis.practice, basis.emergencyStops],
    examples: { fit: { ...underClass, [at.bottlesApart]: "offered" }, barred: { [at.bottlesApart]: "refused" }, open: at.bottlesApart },
  }),
  forbiddenMethod(
    "fr-armed",
    "release worked with bottles or pilot line armed",
    "The release is worked while the bottles are connected.",
    "never: the gas is released on people",
  ),
];

export const fireRelease: Protection = {
  kind: FIRE_RELEASE,
  name: fireReleaseWords.name,
  short: "fire release",
  applies: both(onEmergencySets, is(at.fitted, "yes")),
  appliesNot: "this is no emergency set, or the release does not stop it",
  danger: true,
  dangerReason: "a real release kills",
  methods,
  basis: [basis.emergencyStops],
};
