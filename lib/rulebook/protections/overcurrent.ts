import { is } from "../../logic/condition.ts";
import { TEST_BLOCK } from "../../model/facts/set.ts";
import { OVERCURRENT, overcurrentAt, overcurrentWords } from "../../model/facts/switchboard.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { forbiddenMethod, method, practical, underClass } from "./common.ts";

import { INJECTED, injectedFit, testBlock } from "./injection.ts";

const methods: readonly Method[] = [
  method({
    ...INJECTED,
    id: "oc-injection",
    setIs: "on the board",
    approvable: true,
    name: "injection at the test block, breaker seen to open",
    does: "Current transformers shorted at the test block: current is injected in each phase until the breaker opens; amperes and seconds are read against the coordination study.",
    requirements: [testBlock],
    expected: "breaker opens at the current and time of the coordination study; long-time pick-up not above the limit of the rules",
    examples: { fit: injectedFit, barred: { [TEST_BLOCK]: "no" }, open: TEST_BLOCK },
  }),
  method({
    id: "oc-self-test",
    setIs: "on the board",
    name: "release's own test function, breaker seen to open",
    technique: 3,
    does: "Breaker closed at no load: the relay's or release's own test function acts its output; the breaker is seen to open.",
    proves: { logic: "running value", final: "set point" },
    grade: "action only",
    minutes: 15,
    requirements: [
      practical(
        is(overcurrentAt.fitted, "digital relay", "release in the breaker"),
        "not possible because no release with a test function is fitted",
      ),
    ],
    needs: ["relay-settings", "switchboard-hand", "ships-engineer"],
    details: [overcurrentAt.pickUp],
    cautions: ["switchboard", "others-carry"],
    expected: "breaker opens; the set values are read out and recorded",
    basis: [basis.practice, basis.builtInTest],
    examples: {
      fit: { ...underClass, [overcurrentAt.fitted]: "digital relay" },
      barred: { [overcurrentAt.fitted]: "none" },
      open: overcurrentAt.fitted,
    },
  }),
  forbiddenMethod(
    "oc-short-circuit",
    "generator overloaded or short-circuited to find the trip",
    "Real overload or a short circuit is made at the board.",
    "never: real overcurrent burns machine and board",
  ),
];

export const overcurrent: Protection = {
  kind: OVERCURRENT,
  name: overcurrentWords.name,
  short: "overcurrent",
  onWish: true,
  applies: is(overcurrentAt.fitted, "digital relay", "release in the breaker"),
  appliesNot: "no overcurrent release is fitted",
  danger: true,
  dangerReason: "real overcurrent burns machine and board",
  methods,
  basis: [basis.overcurrentLimit],
};
