import { is } from "../../logic/condition.ts";
import { both } from "../../model/facts/asking.ts";
import { TEST_BLOCK } from "../../model/facts/set.ts";
import { PREFERENTIAL, preferentialAt, preferentialWords } from "../../model/facts/switchboard.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { method, practical, underClass, WHOLE } from "./common.ts";

import { INJECTED, injectedFit, testBlock } from "./injection.ts";

const methods: readonly Method[] = [
  method({
    id: "pt-load-step",
    setIs: "on the board",
    approvable: true,
    name: "real overload, each stage timed",
    technique: 1,
    does: "The generator is loaded above the pick-up of the first stage by real consumers; each stage is timed and what drops is ticked off the list.",
    proves: WHOLE,
    minutes: 30,
    requirements: [practical(is(preferentialAt.mayDrop, "yes"), "not possible because consumers on the stages must not drop")],
    needs: ["stop-watch", "relay-settings", "switchboard-hand", "load-in-port", "ships-engineer"],
    cautions: ["others-carry", "switchboard"],
    expected: "each stage drops what the list says after its time; the generator stays on the board",
    examples: {
      fit: { ...underClass, [preferentialAt.mayDrop]: "yes" },
      barred: { [preferentialAt.mayDrop]: "no" },
      open: preferentialAt.mayDrop,
    },
  }),
  method({
    ...INJECTED,
    id: "pt-injection",
    setIs: "on the board",
    approvable: true,
    name: "injection at the test block, outputs of the stages held off or seen at their relays",
    does: "Current transformers shorted at the test block: current is injected; each stage is timed at its output relay, with the consumers' breakers held off where they must not drop.",
    requirements: [testBlock],
    expected: "each stage acts at its current and time; the list of what it would drop is compared with the drawing",
    examples: { fit: injectedFit, barred: { [TEST_BLOCK]: "no" }, open: TEST_BLOCK },
  }),
];

export const preferentialTrips: Protection = {
  kind: PREFERENTIAL,
  name: preferentialWords.name,
  short: "preferential trips",
  onWish: true,
  applies: both(preferentialWords.base, is(preferentialAt.fitted, "yes")),
  appliesNot: "no preferential trips are fitted, or this is an emergency set",
  danger: is(preferentialAt.mayDrop, "no"),
  dangerReason: "consumers on the stages must not drop",
  methods,
  basis: [basis.blackoutRecovery, basis.practice],
};
