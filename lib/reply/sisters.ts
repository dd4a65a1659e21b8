import { factOf, withoutSet } from "../letter/alike.ts";
import type { AskedQuestion } from "../plan/asked.ts";

/** What reads the same of all the questions that are told together. */
const sameOf = (question: AskedQuestion): string => {
  const { why, look, choices, unit, units } = question;
  return JSON.stringify([factOf(question), withoutSet(question), why, look ?? "", choices, unit ?? "", units]);
};

/**
 * The questions of a letter with those that are alike but for the set together, in the order in which each comes first; one that is asked of no
 * other set stands by itself. Pure.
 */
export const sisterQuestions = (questions: readonly AskedQuestion[]): readonly (readonly AskedQuestion[])[] => {
  const groups = new Map<string, AskedQuestion[]>();
  for (const question of questions) groups.set(sameOf(question), [...(groups.get(sameOf(question)) ?? []), question]);
  return [...groups.values()];
};
