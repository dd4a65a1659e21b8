import type { Asked, AskedKnown, AskedQuestion } from "../plan/asked.ts";
import { SAY } from "./catalogue.ts";
import { capital, kindOf } from "./words.ts";

/** Something that is asked of one set: its text may begin with the set's name. */
interface OfSet {
  readonly ref: string;
  /** Where it is a question: the fact that it asks. */
  readonly at?: string;
  readonly set: string;
  readonly text: string;
}

/** What is asked of several sets in the same words: once, with all its references and sets. */
export interface Alike {
  readonly refs: readonly string[];
  /** The sets by name; empty where it is about the whole visit. */
  readonly sets: readonly string[];
  readonly text: string;
}

/** The words of something without the set that they begin with. */
export const withoutSet = ({ set, text }: Pick<OfSet, "set" | "text">): string =>
  set !== "" && text.startsWith(`${set}: `) ? text.slice(set.length + 2) : text;

/** What leans on the question before it ("that set point") says little where it stands by itself. */
export const LEANS = /\bthat (set point|part|valve)\b/;

/** The questions of a letter as they are told one by one: those that lean on another led in by the protection that they are about. */
export const ledIn = ({ questions, tests }: Asked): readonly AskedQuestion[] =>
  questions.map((question) => {
    const about = tests.find(({ kind }) => kind === kindOf(question.at))?.name;
    if (about === undefined || !LEANS.test(question.text)) return question;
    return { ...question, text: `${question.set === "" ? "" : `${question.set}: `}${capital(about)}. ${withoutSet(question)}` };
  });

/** The fact that is asked, whichever set it is of. */
export const factOf = ({ at = "" }: Pick<OfSet, "at">): string => at.replace(/^\/sets\/\d+\//, "/sets/*/");

/** Things that read the same of several sets, together in the order in which each comes first; the sets stand before the text. */
export const alikeRows = (items: readonly OfSet[]): readonly Alike[] => {
  const rows = new Map<string, { readonly text: string; readonly refs: string[]; readonly sets: string[] }>();
  for (const item of items) {
    const key = `${factOf(item)}|${withoutSet(item)}`;
    const row = rows.get(key) ?? { text: withoutSet(item), refs: [], sets: [] };
    row.refs.push(item.ref);
    if (item.set !== "" && !row.sets.includes(item.set)) row.sets.push(item.set);
    rows.set(key, row);
  }
  return [...rows.values()].map(({ text, refs, sets }) => ({ refs, sets, text: sets.length === 0 ? text : `${sets.join(", ")}: ${text}` }));
};

/** What a fact was taken to be, and that the office took it so where nobody gave it. */
export const takenWords = ({ told, ours }: AskedKnown): string => (ours ? SAY.with.takenByUs(told) : told);

/** A fact that was taken as known, told by itself: "Generator 1: Sensor's well, taken as dry". */
export const knownTold = (fact: AskedKnown): string =>
  SAY.with.takenAs(`${fact.set === "" ? "" : `${fact.set}: `}${fact.name}`, takenWords(fact));

/** A fact that was taken to be the same on several sets: once, with its place on each. */
export interface KnownLine {
  /** The sets by name; empty where it is about the whole visit. */
  readonly sets: readonly string[];
  readonly facts: readonly AskedKnown[];
}

/** What was taken as known, alike facts of several sets in one line, and the lines of the same sets together. */
export const knownLines = (known: readonly AskedKnown[]): readonly KnownLine[] => {
  const lines = new Map<string, AskedKnown[]>();
  for (const fact of known) {
    const key = `${factOf(fact)}|${takenWords(fact)}`;
    lines.set(key, [...(lines.get(key) ?? []), fact]);
  }
  const places = new Map<string, KnownLine[]>();
  for (const facts of lines.values()) {
    const sets = facts.flatMap(({ set }) => (set === "" ? [] : [set]));
    places.set(sets.join("|"), [...(places.get(sets.join("|")) ?? []), { sets, facts }]);
  }
  // The whole visit first, then single sets; the long list of what is alike on many comes last.
  return [...places.values()].sort(([one], [other]) => (one?.sets.length ?? 0) - (other?.sets.length ?? 0)).flat();
};
