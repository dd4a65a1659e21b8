import type { Method } from "../../rulebook/types.ts";
import { SAY } from "../catalogue.ts";
import { capital } from "../words.ts";

/** What a method is done in, step by step, and what must only be kept in mind: nothing that anybody does. */
export interface Act {
  readonly status: string;
  readonly steps: readonly string[];
  readonly minds: readonly string[];
}

/** A sentence that says what is not done, not shown or how often at most: it is no step. */
const NO_STEP =
  /^nothing\b|^one that fails\b|\bnot (?:shown|proven)\b|\bstays? (?:open|live)\b|\bleft out\b|\bat most\b|\bnothing else\b|^nothing is learnt\b/i;

/** How a sentence begins that only says in what state the set is. */
const STATE_ONLY = /^engine stopped, /i;

const sentencesOf = (text: string): readonly string[] => text.replace(/\.$/, "").split(/\. (?=[A-Z])/);

const clausesOf = (sentence: string): readonly string[] => sentence.split("; ").map((clause) => capital(clause.trim()));

/**
 * The text of a method as the form of a written procedure wants it. What stands before its first colon, or a first sentence that has no
 * act in it, is the state of the set; where the text tells none, the rulebook's state of a set stands in.
 */
export const actOf = ({ does, setIs }: Pick<Method, "does" | "setIs">): Act => {
  const [first = "", ...others] = sentencesOf(does);
  const colon = first.indexOf(": ");
  const told = colon > 0 ? first.slice(0, colon) : STATE_ONLY.test(first) ? first : null;
  const rest = told === null ? first : colon > 0 ? first.slice(colon + 2) : "";
  const clauses = [rest, ...others].filter((sentence) => sentence !== "").flatMap(clausesOf);
  return {
    status: told ?? SAY.carry.states[setIs ?? "noLoad"],
    steps: clauses.filter((clause) => !NO_STEP.test(clause)),
    minds: clauses.filter((clause) => NO_STEP.test(clause)),
  };
};

/** What must be seen when the protection acts, one thing a line. */
export const expectedOf = ({ expected }: Pick<Method, "expected">): readonly string[] => clausesOf(expected);

/** What is put back, one thing a line. */
export const restoredOf = ({ restore }: Pick<Method, "restore">): readonly string[] =>
  restore === undefined ? [] : restore.split(/, (?!and )/).map(capital);

/** Cautions that belong to what is put back after the act. All others stand before it. */
const AFTERWARDS: ReadonlySet<string> = new Set(["restore-and-verify", "codes-and-derates", "back-in-automatic"]);

export const comesAfter = (caution: string): boolean => AFTERWARDS.has(caution);
