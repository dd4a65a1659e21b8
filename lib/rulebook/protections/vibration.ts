import { is } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { vibrationAt as at, VIBRATION, vibrationWords } from "../../model/facts/machine.ts";
import { supportAt } from "../../model/facts/support.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { forbiddenMethod, method, practical, STANDSTILL_CAUTIONS, underClass } from "./common.ts";
import { inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    id: "vp-moved",
    setIs: "at rest",
    approvable: true,
    name: "sensor shaken on a test head or moved against a gauge, at standstill",
    technique: 2,
    does: "Set at rest, start blocked: the sensor is shaken on a test head, or the probe moved against a gauge, through its set point; alarm or stop relay is seen to act.",
    ...inSteps(
      "The sensor is put on the test head, or the probe against its gauge.",
      "It is shaken, or moved, slowly through its set point.",
      "The value is read when the channel acts.",
      "Alarm or stop relay is seen to act.",
      "The sensor is put back at its gap or place and fastened.",
      "It is seen to read as before.",
    ),
    proves: { sensing: "set point", wiring: "set point", logic: "set point", final: "movement" },
    hazard: 0,
    minutes: 30,
    requirements: [practical(is(at.probe, "yes"), "not possible because the sensor cannot be moved")],
    needs: ["ships-engineer", "panel-drawing"],
    cautions: [...STANDSTILL_CAUTIONS],
    expected: "alarm or stop relay, as fitted, acts at the set point within tolerance",
    restore: "sensor back at its gap or place, fastened and seen to read as before",
    examples: { fit: { ...underClass, [at.probe]: "yes" }, barred: { [at.probe]: "no" }, open: at.probe },
  }),
  method({
    id: "vp-signal",
    setIs: "at rest",
    approvable: true,
    name: "signal fed in at the monitor, at standstill",
    technique: 4,
    does: "Set at rest, start blocked: the sensor's signal is fed in at the monitor and raised through the set point; alarm or stop relay is seen to act.",
    proves: { wiring: "set point", logic: "set point", final: "movement" },
    hazard: 0,
    minutes: 20,
    requirements: [practical(is(at.probe, "no"), "not planned because the sensor itself can be moved")],
    needs: ["signal-source", "ships-engineer", "panel-drawing"],
    cautions: [...STANDSTILL_CAUTIONS, "live-panel"],
    expected: "alarm or stop relay, as fitted, acts at the signal of the set point",
    restore: "sensor connected again and seen to read as before",
    examples: {
      fit: { ...underClass, [at.probe]: "no", [supportAt.signalSource]: ABOARD },
      barred: { [at.probe]: "yes" },
      open: at.probe,
    },
  }),
  forbiddenMethod(
    "vp-real",
    "machine made to vibrate or shift",
    "The machine is run out of balance or pushed axially.",
    "never: real vibration or a shifted rotor damages the machine",
  ),
];

export const vibration: Protection = {
  kind: VIBRATION,
  name: vibrationWords.name,
  short: "vibration",
  applies: is(at.fitted, "stop", "alarm only"),
  appliesNot: "no vibration or position sensors are fitted",
  danger: true,
  dangerReason: "real vibration damages the machine",
  methods,
  basis: [basis.practice],
};
