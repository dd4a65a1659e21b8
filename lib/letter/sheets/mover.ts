import { PRIME_MOVER, SHAFT, STEAM } from "../../model/facts/set.ts";
import type { Method, Rulebook } from "../../rulebook/types.ts";
import type { PlanInput } from "../protections.ts";
import { capital } from "../words.ts";

type Words = (text: string) => string;
type Pairs = readonly (readonly [RegExp, string])[];

/** What a turbine has where the rulebook's text for all sets speaks of an engine. */
const OF_TURBINES: Pairs = [
  [/fuel rack, stop solenoid or relay/gi, "stop valve or relay"],
  [/fuel rack, stop solenoid or steam valve/gi, "steam valve"],
  [/fuel rack or stop valve/gi, "stop valve"],
  [/fuel or steam/gi, "steam"],
  [/flyweight or bolt/gi, "bolt"],
  [/fuel or oil leak/gi, "oil leak"],
  [/oil or fuel/gi, "oil"],
  [/turbocharger and exhaust/gi, "steam pipes and hot surfaces"],
  [/full fuel/gi, "full steam"],
  [/starting energy (?:is )?shut off and vented(?: or disconnected)?/gi, "steam isolated"],
  [/starting energy/gi, "steam"],
  [/flywheel, belts or couplings/gi, "couplings"],
  [/flywheel/gi, "coupling"],
  [/\bengine\b(?! room)/gi, "turbine"],
];

/** A shaft generator has no engine and no stop of its own: it is unloaded and disconnected, while what drives it runs on. */
const OF_SHAFTS: Pairs = [
  [
    /where the set has stopped, the trip is reset by hand and the set prelubricated[^.]*/gi,
    "where it was disconnected, the trip is reset by hand and the generator connected again",
  ],
  [
    /engine stopped: starting energy shut off and vented or disconnected, start blocked, before anybody works at the flywheel or the pick-up/gi,
    "shaft at rest: blocked against turning before anybody works at it",
  ],
  [/the hand stop at the engine/gi, "the disconnection by hand (breaker, excitation, clutch)"],
  [/^at the hand stop$/gi, "at the breaker"],
  [/hand stop\b/gi, "disconnection by hand"],
  [/engine stopped, start blocked/gi, "shaft at rest and blocked"],
  [/engine stopped/gi, "shaft at rest"],
  [/engine (?:running )?at no load/gi, "generator turning, unloaded"],
  [/fuel or oil leak/gi, "oil leak"],
  [/oil or fuel/gi, "oil"],
  [/near turbocharger and exhaust|near steam pipes and hot surfaces/gi, "near hot surfaces"],
  [/the engine has no such protection/gi, "the generator has no such protection"],
  [/rated speed of the engine/gi, "rated speed of the shaft"],
  [/beside a running engine/gi, "beside running machinery"],
  [/a running engine/gi, "the driving engine while it runs"],
  [/\b(?<!driving )engine\b(?! room)/gi, "driving engine"],
];

const replaced =
  (pairs: Pairs): Words =>
  (text) =>
    pairs.reduce((said, [from, to]) => said.replace(from, (found) => (/^[A-Z]/.test(found) ? capital(to) : to)), text);

/** What drives a set, as far as its sheets speak of it in words of its own. */
export const isShaft = (set: number, { plan, read }: PlanInput): boolean =>
  plan.sets[set]?.role === "shaft-driven" || read.answers.get(PRIME_MOVER.replace("*", String(set))) === SHAFT;

/** Texts that are written for all sets, in the words of what drives this one. */
export const wordsOf = (set: number, input: PlanInput): Words => {
  if (isShaft(set, input)) return replaced(OF_SHAFTS);
  return input.read.answers.get(PRIME_MOVER.replace("*", String(set))) === STEAM ? replaced(OF_TURBINES) : (text) => text;
};

const methodIn = (say: Words, method: Method): Method => ({
  ...method,
  name: say(method.name),
  does: say(method.does),
  expected: say(method.expected),
  ...(method.steps === undefined ? {} : { steps: method.steps.map(say) }),
  ...(method.restore === undefined ? {} : { restore: say(method.restore) }),
});

/** The rulebook as the sheets of one set speak it. Names that people gave are in the visit and stay. */
export const rulebookOf = (set: number, input: PlanInput): Rulebook => {
  const say = wordsOf(set, input);
  const { rulebook } = input;
  return {
    ...rulebook,
    facts: rulebook.facts.map((fact) => ({ ...fact, name: say(fact.name) })),
    needs: rulebook.needs.map((need) => ({ ...need, text: say(need.text) })),
    cautions: rulebook.cautions.map((caution) => ({ ...caution, text: say(caution.text) })),
    protections: rulebook.protections.map((protection) => ({
      ...protection,
      methods: protection.methods.map((method) => methodIn(say, method)),
    })),
  };
};
