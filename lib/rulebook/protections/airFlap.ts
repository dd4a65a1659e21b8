import { any, is, never } from "../../logic/condition.ts";
import { both } from "../../model/facts/asking.ts";
import { onDiesels, PRIME_MOVER, STOPS_ALLOWED } from "../../model/facts/set.ts";
import { AIR_FLAP, airFlapWords, airFlapAt as at } from "../../model/facts/stops.ts";
import { basis } from "../basis.ts";
import type { Method, Protection } from "../types.ts";
import { cannotBeRun, forbiddenMethod, method, practical, STANDSTILL_CAUTIONS, STOPS_ONCE, setMayStop, underClass } from "./common.ts";
import { inSteps } from "./procedure.ts";

const methods: readonly Method[] = [
  method({
    ...STOPS_ONCE,
    id: "af-own-trip",
    name: "air flap shut by its own trip, at the maker's speed, no load",
    technique: 1,
    does: "Engine running at no load at or under the maker's speed: the flap is shut by its own trip and the engine stops for want of air.",
    ...inSteps(
      "One person stands at the hand stop.",
      "The speed is set down to the maker's speed for the flap, or under it, and written down.",
      "The flap is shut by its own trip.",
      "The engine is seen to stop by the flap alone, for want of air.",
      "Where it does not stop, it is stopped at the hand stop.",
      "The alarm is seen to stand until the flap is reset by hand.",
      "At rest the flap is reset and seen open, and the inlet is looked through.",
      "The set is prelubricated as the maker asks, started again and brought back to rated speed.",
    ),
    reads: [
      { name: "speed set down to", unit: "rpm", untimed: true },
      { name: "stopped by the flap", unit: "s", untimed: true },
    ],
    proves: { logic: "running value", final: "set point" },
    grade: "action only",
    minutes: 20,
    requirements: [
      practical(is(at.ownTrip, "at the maker's speed"), "not possible because the maker lets the flap be shut at standstill only"),
      setMayStop,
    ],
    needs: ["ships-engineer", "set-available"],
    details: [at.speed],
    cautions: ["hand-stop-first", "no-leak", "flap-once", "restore-and-verify"],
    expected: "the flap shuts fully and the engine stops by it alone; the alarm stands until the flap is reset by hand",
    restore: "flap reset and seen open, inlet looked through",
    examples: {
      fit: { ...underClass, [at.ownTrip]: "at the maker's speed", [STOPS_ALLOWED]: "yes" },
      barred: { [at.ownTrip]: "only at standstill" },
      open: at.ownTrip,
    },
  }),
  method({
    id: "af-standstill",
    setIs: "at rest",
    name: "engine stopped: air flap tripped and seen to shut",
    technique: 1,
    does: "Engine stopped, start blocked: the flap is tripped by its own trip and seen to shut fully.",
    ...inSteps(
      "The flap is tripped by its own trip.",
      "It is seen to shut fully.",
      "The alarm is seen to stand and the start to be blocked.",
      "The flap is reset by hand and seen open.",
      "The start block is taken off.",
    ),
    proves: { logic: "running value", final: "movement" },
    grade: "action only",
    hazard: 0,
    minutes: 20,
    cautions: [...STANDSTILL_CAUTIONS],
    requirements: [
      practical(is(at.ownTrip, "only at standstill", "at the maker's speed"), "not possible because the flap has no trip of its own"),
      practical(any(is(at.ownTrip, "only at standstill"), cannotBeRun), "not planned because the flap can be shut on the running engine"),
    ],
    expected: "the flap shuts fully, the alarm stands, and the start is blocked until it is reset by hand",
    restore: "flap reset and seen open, start block taken off",
    examples: {
      fit: { ...underClass, [PRIME_MOVER]: "diesel", [STOPS_ALLOWED]: "yes", [at.ownTrip]: "only at standstill" },
      barred: { [at.ownTrip]: "not by itself" },
      open: at.ownTrip,
    },
  }),
  forbiddenMethod(
    "af-above",
    "air flap shut above the maker's speed or under load",
    "The flap is shut at high speed or under load.",
    "never: shutting the air at high speed or under load tears the turbocharger and sucks oil into the engine",
  ),
];

export const airFlap: Protection = {
  kind: AIR_FLAP,
  name: airFlapWords.name,
  short: "air flap",
  applies: both(onDiesels, is(at.fitted, "yes")),
  appliesNot: "no air flap is fitted",
  notes: [
    {
      when: is(at.fitted, "yes"),
      text: "The flap is a final element of its own: a stop by the fuel proves nothing of it. What senses the overspeed is proven, as far as it is, with the overspeed trip.",
      basis: [basis.practice],
    },
  ],
  danger: never,
  dangerReason: "shutting the flap at the maker's speed harms nothing",
  methods,
  basis: [basis.practice],
};
