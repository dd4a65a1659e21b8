import { is, never } from "../../logic/condition.ts";
import { both } from "../../model/facts/asking.ts";
import { standbyStartAt as at, STANDBY_START, standbyStartWords } from "../../model/facts/switchboard.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { method, practical, STOPS_ONCE, underClass, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    ...STOPS_ONCE,
    id: "ss-real",
    setIs: "on the board",
    name: "running set tripped in automatic, stand-by set starts and connects",
    technique: 1,
    does: "In automatic, the running set is tripped or stopped; opening a breaker by hand is often taken for the operator's wish and starts nothing. The stand-by set must start, connect and take load by itself; seconds are read.",
    proves: WHOLE,
    hazard: 2,
    minutes: 30,
    requirements: [
      practical(is(at.realLoss, "running set may be tripped"), "not possible because the running set must not be tripped during the visit"),
    ],
    needs: ["stop-watch", "switchboard-hand", "load-in-port", "ships-engineer"],
    cautions: ["blackout-warned", "others-carry", "starts-by-itself"],
    expected:
      "stand-by set on the board within the time of the rules; essential consumers come back in sequence; what had to be done by hand is written down",
    basis: [basis.practice, basis.blackoutRecovery, basis.standbyTest],
    examples: {
      fit: { ...underClass, [at.realLoss]: "running set may be tripped" },
      barred: { [at.realLoss]: "neither" },
      open: at.realLoss,
    },
  }),
  method({
    id: "ss-load-step",
    setIs: "on the board",
    name: "real load step, stand-by set starts on load and connects",
    technique: 1,
    does: "In automatic, the load is raised above the start limit by real consumers; the stand-by set must start, synchronise and share the load. Start on a dead board is not shown.",
    ...inSteps(
      "The selectors are seen in automatic.",
      "The load is raised step by step above the start limit, by real consumers.",
      "The stop-watch is started when the limit is passed.",
      "The stand-by set is seen to start and to synchronise.",
      "The seconds are read when it connects.",
      "It is seen to share the load.",
    ),
    proves: { sensing: "running value", wiring: "set point", logic: "running value", final: "set point" },
    grade: "running value",
    minutes: 20,
    requirements: [
      practical(
        is(at.realLoss, "load step only"),
        "not planned because the running set may be tripped, which shows more, or because no load step may be made",
      ),
    ],
    needs: ["stop-watch", "switchboard-hand", "load-in-port", "ships-engineer"],
    cautions: ["others-carry", "starts-by-itself"],
    expected: "stand-by set starts at its load limit and delay, connects and shares the load",
    basis: [basis.practice, basis.standbyTest],
    examples: {
      fit: { ...underClass, [at.realLoss]: "load step only" },
      barred: { [at.realLoss]: "neither" },
      open: at.realLoss,
    },
  }),
  method({
    id: "ss-start-only",
    setIs: "on the board",
    name: "start order given in automatic, breaker held open",
    technique: 1,
    does: "In automatic with its breaker held open, the stand-by set is ordered to start by the power management; start and voltage are seen. Connection and loss sensing are not shown.",
    proves: { logic: "running value" },
    grade: "action only",
    minutes: 10,
    requirements: [practical(is(at.realLoss, "neither"), "not planned because a load step or a real loss can be made")],
    needs: ["stop-watch", "switchboard-hand", "ships-engineer"],
    cautions: ["starts-by-itself", "back-in-automatic"],
    expected: "set starts within its time and builds voltage",
    examples: { fit: { ...underClass, [at.realLoss]: "neither" }, barred: { [at.realLoss]: "load step only" }, open: at.realLoss },
  }),
];

export const standbyStart: Protection = {
  kind: STANDBY_START,
  name: standbyStartWords.name,
  short: "stand-by start",
  applies: both(standbyStartWords.base, is(at.fitted, "starts and connects by itself")),
  appliesNot: "the set is started by hand, or is no ship-service set with an engine of its own",
  danger: never,
  dangerReason: "a start on demand harms nothing",
  methods,
  basis: [basis.blackoutRecovery, basis.standbyTest],
};
