import { is } from "../../logic/condition.ts";
import { both } from "../../model/facts/asking.ts";
import { fuelLeakAt as at, FUEL_LEAK, fuelLeakWords, LEAK_ALARM } from "../../model/facts/machine.ts";
import { onDiesels } from "../../model/facts/set.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { method, underClass, veto } from "./common.ts";
import { inSteps } from "./procedure.ts";

const AWAY = "away from hot parts, or engine cold";

const methods: readonly Method[] = [
  method({
    id: "fl-float",
    setIs: "at rest",
    name: "float lifted, or a little clean fuel poured into the leak box",
    technique: 1,
    does: "The float of the leak box is lifted, or a cupful of clean fuel poured in; the alarm must come and clear when the box is emptied.",
    ...inSteps(
      "The float of the leak box is lifted, or a cupful of clean fuel is poured in over a tray.",
      "The alarm must come, and is seen and heard at the panel and wherever it is repeated.",
      "The float is let down, or the box is emptied.",
      "The alarm is seen to clear.",
    ),
    proves: { sensing: "set point", wiring: "set point", logic: "set point" },
    minutes: 10,
    requirements: [veto(is(at.access, AWAY), "never: fuel beside a hot unshielded exhaust; only with the engine cold")],
    needs: ["ships-engineer", "clean-fuel"],
    cautions: ["fuel-poured"],
    expected: "alarm at the panel and wherever it is repeated; clears when the box is emptied",
    basis: [basis.practice, basis.solasFuelPipes],
    examples: { fit: { ...underClass, [at.access]: AWAY }, barred: { [at.access]: "only beside hot unshielded parts" }, open: at.access },
  }),
];

export const fuelLeak: Protection = {
  kind: FUEL_LEAK,
  name: fuelLeakWords.name,
  short: "fuel leak",
  applies: both(onDiesels, is(at.fitted, LEAK_ALARM)),
  appliesNot: "there are no jacketed outside pipes with a leak alarm",
  notes: [
    {
      when: is(at.fitted, "pipes inside the cover"),
      text: "The injection lines run inside the cover: look for oil at the cover instead.",
      basis: [basis.practice],
    },
  ],
  danger: true,
  dangerReason: "a real leak of fuel under pressure burns",
  methods,
  basis: [basis.solasFuelPipes],
};
