import { is, never } from "../../logic/condition.ts";
import { ABOARD } from "../../model/fact.ts";
import { onTurbines } from "../../model/facts/set.ts";
import { supportAt } from "../../model/facts/support.ts";
import { standbyOilAt as at, STANDBY_OIL, standbyOilWords } from "../../model/facts/turbine.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { forbiddenMethod, method, practical, STANDSTILL_CAUTIONS, underClass, WHOLE } from "./common.ts";
import { inSteps, PUMPS } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    id: "so-bleed",
    name: "pump's own sensor bled past its orifice, pump seen to build pressure",
    technique: 1,
    does: "Turbine running at no load with its oil warm: the sensor that starts the stand-by pump is bled behind its orifice; the pump must start and build pressure. Then the emergency pump the same way, its battery checked.",
    ...inSteps(
      "The sensor that starts the stand-by pump is bled slowly behind its orifice, with the gauge watched.",
      "The gauge is read when the pump starts, and the pump is seen to build pressure.",
      "The bleed is shut, and the pump stopped and put back to automatic.",
      "The battery of the emergency pump is checked.",
      "The sensor that starts the emergency pump is bled in the same way.",
      "The gauge is read when the pump starts, and the pump is seen to build pressure from its battery.",
      "The bleed is shut, and the pump stopped and seen back in automatic.",
    ),
    reads: PUMPS,
    proves: WHOLE,
    minutes: 20,
    requirements: [practical(is(at.bleed, "yes"), "not possible because the sensor cannot be bled alone")],
    needs: ["reference-gauge", "ships-engineer", "steam-plant"],
    cautions: ["pressurised-oil", "no-leak", "back-in-automatic"],
    expected: "stand-by pump starts at its pressure and builds oil pressure, alarm; emergency pump starts from its battery",
    basis: [basis.practice, basis.turbineOil],
    examples: {
      fit: { ...underClass, [at.bleed]: "yes", [supportAt.referenceGauge]: ABOARD },
      barred: { [at.bleed]: "no" },
      open: at.bleed,
    },
  }),
  method({
    id: "so-standstill",
    setIs: "at rest",
    name: "turbine at rest: running oil pump stopped, stand-by pump seen to take over",
    technique: 1,
    does: "Turbine at rest and cold, oil circulating: the running oil pump is stopped; the stand-by pump must start by itself on falling pressure, then the emergency pump when the stand-by pump is held off.",
    ...inSteps(
      "The running oil pump is stopped and the gauge watched.",
      "The stand-by pump is seen to start by itself on falling pressure and to build pressure, and the gauge is read.",
      "The stand-by pump is held off.",
      "The emergency pump is seen to start and build pressure, and the gauge is read.",
      "The pumps go back to automatic and are seen there.",
    ),
    reads: PUMPS,
    proves: WHOLE,
    hazard: 0,
    minutes: 20,
    requirements: [practical(is(at.bleed, "no"), "not planned because the sensor can be bled alone with the turbine running")],
    needs: ["reference-gauge", "ships-engineer"],
    cautions: [...STANDSTILL_CAUTIONS],
    expected: "each pump starts at its pressure and builds oil pressure; alarm",
    restore: "pumps back in automatic and seen there",
    examples: {
      fit: { ...underClass, [at.bleed]: "no", [supportAt.referenceGauge]: ABOARD },
      barred: { [at.bleed]: "yes" },
      open: at.bleed,
    },
  }),
  forbiddenMethod(
    "so-running-stopped",
    "oil pump stopped on a running turbine",
    "The running oil pump is stopped while the turbine turns.",
    "never: if the stand-by pump fails the bearings are lost",
  ),
];

export const standbyOilPump: Protection = {
  kind: STANDBY_OIL,
  name: standbyOilWords.name,
  short: "stand-by oil pump",
  applies: onTurbines,
  appliesNot: "no steam turbine drives this set",
  notes: [
    {
      when: onTurbines,
      text: "Proven before any oil trip and before a loss of power.",
      basis: [basis.practice],
    },
  ],
  danger: never,
  dangerReason: "the bled sensor starts a pump and harms nothing",
  methods,
  setPoint: at.pressure,
  basis: [basis.turbineOil, basis.practice],
};
