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
  /^nothing\b|^one that fails\b|\bnot (?:shown|proven)\b|\bstays open$|\bsensor and stays live$|\bleft out\b|\bat most\b|\band nothing else$/i;

/** How a sentence begins that only says in what state the set is. */
const STATE_ONLY = /^(?:engine|turbine) stopped, |^shaft at rest and blocked, /i;
/** What stands before a colon and is done all the same: the first step, not the state before it. */
const IS_DONE = /\b(?:is|are) \w+ed\b/;

/** What begins with a start is done from rest, though the set runs for it. */
const IS_STARTED = /\bat a start\b|\bset is started\b|^one start\b/i;

const sentencesOf = (text: string): readonly string[] => text.replace(/\.$/, "").split(/\. (?=[A-Z])/);

const clausesOf = (sentence: string): readonly string[] => sentence.split("; ").map((clause) => capital(clause.trim()));

/**
 * The text of a method as the form of a written procedure wants it. What stands before its first colon, or a first sentence that has no
 * act in it, is the state of the set; where the text tells none, the rulebook's state of a set stands in. Where the rulebook has the acts
 * one by one, these are the steps.
 */
export const actOf = ({ does, setIs, steps }: Pick<Method, "does" | "setIs" | "steps">): Act => {
  const [first = "", ...others] = sentencesOf(does);
  const [before = "", ...behind] = first.split(": ");
  const state = behind.length > 0 ? !IS_DONE.test(before) : STATE_ONLY.test(before);
  const acts = state ? behind : [before, ...behind];
  const clauses = [...acts, ...others].flatMap(clausesOf);
  return {
    status: state ? before : SAY.carry.states[setIs ?? (IS_STARTED.test(does) ? "ready" : "noLoad")],
    steps: steps?.map((step) => step.replace(/\.$/, "")) ?? clauses.filter((clause) => !NO_STEP.test(clause)),
    minds: clauses.filter((clause) => NO_STEP.test(clause)),
  };
};

/** What of an expected result is nothing to be seen, and what of it is written down in seconds. */
const NOT_SEEN = /\bsays little\b|\bnot shown\b/;
const SECONDS = /^seconds from (.*?), /i;

/** What comes of a test: what is seen, each thing a line; what is timed, from where to where; and what it does not tell. */
export interface Expected {
  readonly seen: readonly string[];
  readonly timed: readonly string[];
  readonly minds: readonly string[];
}

export const expectedOf = ({ expected }: Pick<Method, "expected">): Expected => {
  const clauses = clausesOf(expected);
  return {
    seen: clauses.filter((clause) => !NOT_SEEN.test(clause)),
    timed: clauses.flatMap((clause) =>
      SECONDS.test(clause)
        ? clause
            .replace(/^seconds from \w+ /i, "")
            .split(", ")
            .map(capital)
        : [],
    ),
    minds: clauses.filter((clause) => NOT_SEEN.test(clause)),
  };
};

/** In which order the states of a set come on one day. */
const STATES = ["cold", "at rest", undefined, "on the board", "under way", "without power"] as const satisfies readonly Method["setIs"][];

/** The methods of one test as they follow on a day: a set that is to be cold has not run yet. */
export const inOrder = (methods: readonly Method[]): readonly Method[] =>
  methods.toSorted((one, other) => STATES.indexOf(one.setIs) - STATES.indexOf(other.setIs));

/** What is put back, one thing a line. */
export const restoredOf = ({ restore }: Pick<Method, "restore">): readonly string[] =>
  restore === undefined ? [] : restore.split(/, (?!and )/).map(capital);

/** Cautions that belong to what is put back after the act. All others stand before it. */
const AFTERWARDS: ReadonlySet<string> = new Set(["restore-and-verify", "codes-and-derates", "back-in-automatic"]);

export const comesAfter = (caution: string): boolean => AFTERWARDS.has(caution);
