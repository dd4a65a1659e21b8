import { is, never } from "../../logic/condition.ts";
import { onEngines, STOPS_ALLOWED } from "../../model/facts/set.ts";
import { handStopAt as at, HAND_STOP, handStopWords } from "../../model/facts/stops.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { BREAKER_OPENS, method, practical, STANDSTILL_CAUTIONS, STOPS_ONCE, setMayStop, underClass, WHOLE } from "./common.ts";
import { inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    ...STOPS_ONCE,
    id: "st-each",
    name: "hand stop and each emergency stop in turn, at no load",
    technique: 1,
    does: "First of the day, engine running at no load: the hand stop at the engine, then each emergency stop in turn, stops the set. One that fails ends the running tests of this set.",
    ...inSteps(
      "The hand stop at the engine is worked and the set seen to stop.",
      "The breaker is seen open and the trip alarmed, then the trip is reset by hand.",
      "The set is prelubricated as the maker asks, started again and looked over for leaks.",
      "The first emergency stop is worked and the set seen to stop.",
      "Breaker and alarm are seen again, the trip is reset by hand and the set started again.",
      "Each further emergency stop is worked in turn, and the set started again after each in the same way.",
    ),
    proves: WHOLE,
    minutes: 5,
    requirements: [setMayStop],
    needs: ["ships-engineer", "set-available", "stop-watch"],
    details: [at.count],
    repeats: at.count,
    cautions: ["no-leak"],
    expected: `the set stops from each place; ${BREAKER_OPENS}; trip alarmed, reset by hand before the next start`,
    basis: [basis.practice, basis.tripReset, basis.breakerOpens],
    examples: { fit: { ...underClass, [STOPS_ALLOWED]: "yes" }, barred: { [STOPS_ALLOWED]: "no" }, open: STOPS_ALLOWED },
  }),
  method({
    id: "st-standstill",
    setIs: "at rest",
    name: "engine stopped: each stop worked, final element seen to move",
    technique: 1,
    does: "Engine stopped, start blocked, control powered: each stop is worked and fuel rack, stop solenoid or steam valve seen to move.",
    // At standstill the stop is seen to act, no more: the running stop goes first wherever it is possible.
    proves: { sensing: "running value", wiring: "set point", logic: "running value", final: "movement" },
    grade: "action only",
    minutes: 20,
    requirements: [
      practical(
        is(STOPS_ALLOWED, "no"),
        "not planned because the set can be run and stopped for tests: the test at standstill is for a set that cannot",
      ),
    ],
    details: [at.count],
    cautions: [...STANDSTILL_CAUTIONS],
    expected: "fuel rack, stop solenoid or steam valve moves to stop from each place and stays there until reset",
    restore: "each stop reset and the start block taken off",
    examples: { fit: { ...underClass, [STOPS_ALLOWED]: "no" }, barred: { [STOPS_ALLOWED]: "yes" }, open: STOPS_ALLOWED },
  }),
];

export const handStop: Protection = {
  kind: HAND_STOP,
  name: handStopWords.name,
  short: "stops",
  applies: onEngines,
  appliesNot: "a shaft-driven generator has no engine of its own to stop",
  notes: [
    {
      when: is("/sets/*/role", "emergency"),
      text: "The stop of an emergency set stands only in its own space; a reach rod to the fuel shut-off is allowed.",
      basis: [basis.emergencyStopControl],
    },
  ],
  danger: never,
  dangerReason: "stopping a set at no load harms nothing",
  methods,
  basis: [basis.tripReset, basis.practice],
};
