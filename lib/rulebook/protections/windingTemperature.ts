import { any, is } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { windingAt as at, WINDING, windingWords } from "../../model/facts/machine.ts";
import { PRIME_MOVER, STOPS_ALLOWED } from "../../model/facts/set.ts";
import { supportAt } from "../../model/facts/support.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import {
  BLIND,
  BLIND_CAUTIONS,
  cannotBeRun,
  forbiddenMethod,
  method,
  practical,
  STANDSTILL_CAUTIONS,
  setMayStopIfItCan,
  underClass,
  veto,
} from "./common.ts";
import { atHandStop, inSteps, STARTED_AGAIN } from "./procedure.ts";

const APART = "in a panel apart from the machine";
const ACTS = "alarm or stop, as fitted, at the set point within tolerance";

const methods: readonly Method[] = [
  method({
    ...BLIND,
    id: "wt-panel",
    inTurn: "sensor",
    approvable: true,
    figures: ["signal"],
    name: "resistance fed in at the panel, one winding sensor at a time",
    technique: 4,
    does: "Machine running at no load: in the panel apart from the machine the sensor's leads are taken off and a resistance fed in and raised through the set point, one sensor at a time.",
    ...inSteps(
      atHandStop("the windings"),
      "In the panel apart from the machine the leads of the first sensor are taken off.",
      "A resistance is fed in and raised slowly through the set point.",
      "It is read when the channel acts.",
      "The leads are put back and the live value is seen.",
      "Each further sensor is done in the same way, one at a time.",
      STARTED_AGAIN,
    ),
    proves: { wiring: "set point", logic: "set point", final: "set point" },
    minutes: 20,
    requirements: [
      veto(is(at.terminals, APART), "never: the leads end only in the terminal box of a live machine, which stays shut"),
      setMayStopIfItCan,
    ],
    needs: ["signal-source", "independent-reading", "ships-engineer", "set-available"],
    details: [at.setPoint],
    cautions: [...BLIND_CAUTIONS, "live-winding", "live-panel", "restore-and-verify"],
    expected: ACTS,
    restore: "leads back, live value seen",
    examples: {
      fit: { ...underClass, [at.terminals]: APART, [STOPS_ALLOWED]: "yes", [supportAt.signalSource]: ABOARD },
      barred: { [at.terminals]: "only in the machine's terminal box" },
      open: at.terminals,
    },
  }),
  method({
    id: "wt-dead",
    inTurn: "sensor",
    setIs: "at rest",
    approvable: true,
    figures: ["signal"],
    name: "machine dead and locked: resistance fed in at its terminal box",
    technique: 4,
    does: "Set stopped, start blocked, breaker racked out and locked, windings earthed: the resistance is fed in at the terminal box and raised through the set point; alarm or stop relay is seen to act.",
    ...inSteps(
      "The breaker is seen racked out and locked and the windings earthed, then the terminal box is opened.",
      "The sensor's leads are taken off and the resistance put in their place.",
      "The resistance is raised slowly through the set point.",
      "It is read when the channel acts.",
      "Alarm or stop relay is seen to act.",
      "The leads are put back and the box is shut.",
      "Earths and locks are taken off.",
    ),
    proves: { wiring: "set point", logic: "set point", final: "movement" },
    hazard: 0,
    minutes: 30,
    requirements: [
      practical(
        any(is(at.terminals, "only in the machine's terminal box"), cannotBeRun),
        "not planned because the leads can be reached in a panel apart from the machine, which can be run for tests",
      ),
    ],
    needs: ["signal-source", "ships-engineer"],
    details: [at.setPoint],
    cautions: [...STANDSTILL_CAUTIONS, "live-winding", "switchboard"],
    expected: `${ACTS}; stop relay seen to move`,
    restore: "leads back, box shut, earths and locks off, live value seen at the next start",
    examples: {
      fit: {
        ...underClass,
        [at.terminals]: "only in the machine's terminal box",
        [PRIME_MOVER]: "diesel",
        [STOPS_ALLOWED]: "yes",
        [supportAt.signalSource]: ABOARD,
      },
      barred: { [at.terminals]: APART, [STOPS_ALLOWED]: "yes" },
      open: at.terminals,
    },
  }),
  method({
    id: "wt-comparison",
    setIs: "cold",
    lastResort: true,
    name: "cold winding compared with the air around it, then with its fellows under load",
    technique: 7,
    does: "Before the first start of the day, after a night at rest, the winding temperatures are compared with a thermometer in the air around, then under load with one another. Nothing is stimulated.",
    ...inSteps(
      "Before the first start of the day, after the night at rest, a thermometer in the air around the machine is read.",
      "The winding temperatures are read and compared with it.",
      "Under load, later in the day, they are read again and compared with one another.",
    ),
    proves: { sensing: "running value", wiring: "set point" },
    grade: "running value",
    hazard: 0,
    minutes: 10,
    requirements: [practical(is(at.element, "Pt100", "Pt1000"), "not possible because a PTC thermistor shows no value")],
    needs: ["reference-thermometer", "cold-machine", "ships-engineer"],
    expected: "cold readings agree with the air; under load the windings agree with one another within a few degrees",
    examples: {
      fit: { ...underClass, [at.element]: "Pt100", [supportAt.referenceThermometer]: ABOARD },
      barred: { [at.element]: "PTC thermistor" },
      open: at.element,
    },
  }),
  forbiddenMethod(
    "wt-live-box",
    "embedded-sensor leads taken off in the terminal box of a live machine",
    "The terminal box is opened while the machine is live.",
    "never: embedded sensors can carry the winding's voltage",
  ),
];

export const windingTemperature: Protection = {
  kind: WINDING,
  name: windingWords.name,
  short: "winding temperature",
  applies: is(at.fitted, "stop", "alarm only"),
  appliesNot: "the windings have no temperature sensors",
  danger: true,
  dangerReason: "really overheating a winding ages or burns it",
  methods,
  setPoint: at.setPoint,
  tolerance: at.tolerance,
  basis: [basis.practice],
};
