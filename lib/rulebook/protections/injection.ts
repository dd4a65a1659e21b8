import { is } from "../../logic/condition.ts";
import { TEST_BLOCK } from "../../model/facts/set.ts";
import { supportAt } from "../../model/facts/support.ts";
import { basis } from "../basis.ts";
import { underClass, veto } from "./common.ts";

/** Nothing is injected where the current transformers cannot be shorted first. */
export const testBlock = veto(
  is(TEST_BLOCK, "yes"),
  "never: without a test block the circuit of a current transformer would be opened under load",
);
/** What every injection at the relay has in common. */
export const INJECTED = {
  technique: 4,
  proves: { wiring: "set point", logic: "set point", final: "set point" },
  minutes: 60,
  needs: ["relay-technician", "relay-settings", "single-line-diagram", "switchboard-hand", "ships-engineer"],
  cautions: ["current-transformers", "switchboard", "restore-and-verify"],
  restore: "test block closed, links out, relay seen to read the load again",
  basis: [basis.practice, basis.injection],
} as const;
export const injectedFit = { ...underClass, [TEST_BLOCK]: "yes", [supportAt.relayTechnician]: "in time" } as const;
