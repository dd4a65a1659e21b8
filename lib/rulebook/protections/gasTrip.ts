import { is, never } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { gasTripAt as at, GAS_TRIP, gasTripWords } from "../../model/facts/stops.ts";
import { supportAt } from "../../model/facts/support.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { forbiddenMethod, method, practical, underClass, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    id: "gt-change",
    setIs: "on the board",
    approvable: true,
    name: "gas trip given in gas mode, change to oil seen",
    technique: 1,
    does: "Set running in gas mode at part load: a gas trip is given; the set must change to oil and keep running and carrying its load.",
    ...inSteps(
      "The set is seen in gas mode at part load, with others that can carry its load.",
      "The gas trip is given.",
      "The gas valves are seen to shut and vent.",
      "The set is seen to change to oil and to keep running and carrying its load.",
      "The alarm is seen to stand until it is reset by hand.",
    ),
    proves: WHOLE,
    minutes: 15,
    requirements: [practical(is(at.gasAtPlace, "yes"), "not possible because no gas can be burnt during the visit")],
    needs: ["ships-engineer", "gas-mode"],
    cautions: ["oil-not-gas", "others-carry", "no-leak"],
    expected: "gas valves shut and vent, the set changes to oil and keeps running, the alarm stands until reset",
    examples: { fit: { ...underClass, [at.gasAtPlace]: "yes" }, barred: { [at.gasAtPlace]: "no" }, open: at.gasAtPlace },
  }),
  method({
    id: "gt-standstill",
    setIs: "at rest",
    approvable: true,
    name: "engine stopped, no gas: trip worked through the control, gas valves seen to shut and vent",
    technique: 3,
    does: "Engine stopped, gas line shut and free of gas: the control's test of the gas trip is worked by the maker's service engineer and the gas valves are seen to shut and vent.",
    ...inSteps(
      "The gas line is seen shut and free of gas.",
      "The maker's service engineer works the control's test of the gas trip.",
      "The gas valves are seen to shut and vent.",
      "The alarm is seen to stand until it is reset by hand.",
    ),
    proves: { logic: "running value", final: "movement" },
    grade: "action only",
    hazard: 0,
    minutes: 30,
    makers: true,
    requirements: [practical(is(at.gasAtPlace, "no"), "not planned because the change can be shown in gas mode")],
    needs: ["ships-engineer", "service-engineer", "maker-procedure"],
    cautions: ["unexpected-start", "codes-and-derates"],
    expected: "gas valves move to shut and vent, alarm stands until reset; that the engine keeps running on oil is not shown",
    examples: {
      fit: { ...underClass, [at.gasAtPlace]: "no", [supportAt.serviceEngineer]: ABOARD },
      barred: { [supportAt.serviceEngineer]: "not to be had" },
      open: at.gasAtPlace,
    },
  }),
  forbiddenMethod(
    "gt-stop-on-gas",
    "stop tests in gas mode",
    "The engine is stopped by its protections while it burns gas.",
    "never: a stop in gas mode leaves unburnt gas in exhaust and crankcase",
  ),
];

export const gasTrip: Protection = {
  kind: GAS_TRIP,
  name: gasTripWords.name,
  short: "gas trip",
  applies: gasTripWords.base,
  appliesNot: "the set burns no gas",
  danger: never,
  dangerReason: "the change to oil harms nothing",
  methods,
  basis: [basis.practice],
};
