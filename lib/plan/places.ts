import type { Plan, PlanProtection } from "./schema.ts";

/** The number of the set that a pointer lies in; undefined for what belongs to the whole visit. */
export const setIn = (at: string): number | undefined => {
  const found = /^\/sets\/(\d+)\//.exec(at)?.[1];
  return found === undefined ? undefined : Number(found);
};

/** Of which kind of protection a fact is; undefined for the set's and the visit's own. */
export const kindOf = (at: string): string | undefined => /^\/sets\/(?:\d+|\*)\/(\w+)\/\w+$/.exec(at)?.[1];

/**
 * The questions that a letter asks now: all but those that hang on what drives a set, where that itself is asked. What was left out
 * once is left out again, so that a list may pass through here twice.
 */
export const askedNowOf = <Question extends { readonly at: string }>(questions: readonly Question[]): readonly Question[] => {
  const waits = new Set(questions.flatMap(({ at }) => (at.endsWith("/primeMover") ? (setIn(at) ?? []) : [])));
  return questions.filter(({ at }) => kindOf(at) === undefined || !waits.has(setIn(at) ?? -1));
};

/** The tests of a plan: every protection of every set that applies or may apply. */
export const testsOf = ({ sets }: Pick<Plan, "sets">): readonly PlanProtection[] =>
  sets.flatMap(({ protections }) => protections).filter(({ applies }) => applies !== "no");
