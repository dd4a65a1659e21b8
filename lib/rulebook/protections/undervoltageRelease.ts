import { is } from "../../logic/condition.ts";
import { TEST_BLOCK } from "../../model/facts/set.ts";
import { UNDERVOLTAGE, undervoltageAt, undervoltageWords } from "../../model/facts/switchboard.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { method, practical, underClass, WHOLE } from "./common.ts";

import { INJECTED, injectedFit, testBlock } from "./injection.ts";

const methods: readonly Method[] = [
  method({
    id: "uv-lowered",
    setIs: "on the board",
    approvable: true,
    name: "voltage lowered by hand on a dead or separate bus section",
    technique: 1,
    does: "The generator runs alone on a dead or separate bus section: its voltage is lowered by hand until the release opens the breaker; volts and seconds are read.",
    proves: WHOLE,
    minutes: 20,
    requirements: [
      practical(is(undervoltageAt.byRegulator, "yes"), "not possible because the voltage cannot be lowered apart from the ship's supply"),
    ],
    needs: ["stop-watch", "switchboard-hand", "ships-engineer"],
    cautions: ["switchboard", "others-carry", "restore-and-verify"],
    expected: "breaker opens within its voltage and time and does not close below its closing voltage",
    restore: "voltage back at its setting, regulator in automatic",
    examples: {
      fit: { ...underClass, [undervoltageAt.byRegulator]: "yes" },
      barred: { [undervoltageAt.byRegulator]: "no" },
      open: undervoltageAt.byRegulator,
    },
  }),
  method({
    ...INJECTED,
    id: "uv-injection",
    setIs: "on the board",
    approvable: true,
    name: "voltage injected at the relay's test block and lowered",
    does: "Voltage is injected at the test block and lowered until the release opens the breaker; volts and seconds are read.",
    requirements: [testBlock],
    expected: "breaker opens within its voltage and time",
    examples: { fit: injectedFit, barred: { [TEST_BLOCK]: "no" }, open: TEST_BLOCK },
  }),
];

export const undervoltageRelease: Protection = {
  kind: UNDERVOLTAGE,
  name: undervoltageWords.name,
  short: "undervoltage",
  onWish: true,
  applies: is(undervoltageAt.fitted, "yes"),
  appliesNot: "no undervoltage release is fitted",
  danger: is(undervoltageAt.byRegulator, "no"),
  dangerReason: "the ship's own voltage would have to be lowered",
  methods,
  basis: [basis.reversePowerClass, basis.practice],
};
