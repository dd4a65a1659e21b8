import { readDay } from "../figures/readDay.ts";
import { failure, type Result, success } from "../kernel/result.ts";
import { type FactSpec, NOT_KNOWN } from "../model/fact.ts";
import { type Fault, quotedWords } from "../model/fault.ts";
import type { ReplyAnswer, ReplyCorrection } from "../model/reply.ts";
import { inUnit } from "../model/visit.ts";
import type { AskedKnown, AskedQuestion, Choice } from "../plan/asked.ts";
import { readQuantity } from "../units/parse.ts";
import { NOTHING_WRITTEN } from "./faultWords.ts";

/** What is known when a reply is read, besides what was asked. */
export interface Reading {
  /** What an asked fact is; where it is given, a number is held against its range. */
  readonly specAt?: (at: string) => FactSpec | undefined;
  /** The day from which the reply can promise, as YYYY-MM-DD; where it is given, a promised day must not lie before it, and may stand without its year. */
  readonly today?: string;
}

/** A fault of what somebody wrote. */
export const faultAt = (at: string, given: string, wanted: string): Result<never, Fault> =>
  failure({ at, given: given === "" ? NOTHING_WRITTEN : quotedWords(given), wanted });

/** Taken away sign by sign: an expression for it would look anew at each sign of a long run within the text. */
const AT_THE_END = new Set(' "“”«».!)');

/** A text without the marks that programs and people put around it; compared without case and the many forms of apostrophe and blank. */
export const keyOf = (text: string): string => {
  const begun = text
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[\u2018\u2019\u02bc`]/g, "'")
    .replace(/[\u2010-\u2015]/g, "-")
    .replace(/\s+/g, " ")
    .replace(/^[\s"“”„«»(]+/u, "");
  let end = begun.length;
  while (end > 0 && AT_THE_END.has(begun.charAt(end - 1))) end -= 1;
  return begun.slice(0, end);
};

const UNKNOWN = new Set(
  [
    NOT_KNOWN,
    "unknown",
    "not known yet",
    "don't know",
    "we don't know",
    "do not know",
    "we do not know",
    "we will find out",
    "will find out",
    "if not known yet",
    "or",
    "we do not know yet",
    "we don't know yet",
    "we do not know yet and will find out",
    "to be found out",
  ].map(keyOf),
);

/** What says no more than that something is not known is never as long, in characters. */
const LONGEST_UNKNOWN = 400;

/** Whether a text says that the answer is not known yet. */
export const saysUnknown = (text: string): boolean => {
  if (text.length > LONGEST_UNKNOWN) return false;
  const parts = text.split(/\s*[,;:–—]\s*|\s+(?:-|and|but)\s+/).filter((part) => part.trim() !== "");
  return parts.length > 0 && parts.every((part) => UNKNOWN.has(keyOf(part)) || part.trim() === "?");
};

/** What is wanted where somebody agrees to a test that has no way. */
export const NOTHING_PLANNED = "another way, or no answer: nothing is planned there, since no acceptable way is left";

export const wantedOf = (choices: readonly Choice[]): string => choices.map(({ label }) => label).join(" / ");

/** The choice that a text names by its words or its value; undefined where it is none. */
export const chosen = (text: string, choices: readonly Choice[]): string | undefined => {
  const key = keyOf(text);
  return (choices.find(({ label }) => keyOf(label) === key) ?? choices.find(({ value }) => keyOf(value) === key))?.value;
};

const wordsIn = (text: string): readonly string[] => keyOf(text).split(/[^\p{L}\p{N}']+/u);

/**
 * As `chosen`, and by the beginning of a choice's words too, where only one choice begins so and the words stand in no other: "cock" is not taken for
 * "cock and connection" where there is a "test cock" to choose as well.
 */
export const chosenByBeginning = (text: string, choices: readonly Choice[]): string | undefined => {
  const whole = chosen(text, choices);
  const key = keyOf(text);
  if (whole !== undefined || key === "") return whole;
  const begins = ({ label, value }: Choice): boolean => keyOf(label).startsWith(key) || keyOf(value).startsWith(key);
  const [found, ...more] = choices.filter(begins);
  if (found === undefined) return undefined;
  const words = wordsIn(text);
  const elsewhere = choices.some((choice) => {
    const own = new Set(choice === found ? [] : wordsIn(choice.label));
    return choice !== found && words.every((word) => own.has(word));
  });
  return more.length === 0 && !elsewhere ? found.value : undefined;
};

/** A day as people write it; not one that has passed. */
export const readPromised = (at: string, text: string, { today }: Reading): Result<string, Fault> => {
  const day = readDay(text, today);
  if (!day.ok) return faultAt(at, text, day.faults.join("; "));
  return today !== undefined && day.value < today ? faultAt(at, text, `a day from ${today} on`) : day;
};

/** What a value can be given to. */
type Answerable = Pick<AskedQuestion, "ref" | "at" | "choices" | "unit">;

const readNumber = ({ ref, at, unit }: Answerable, text: string, { specAt }: Reading): Result<ReplyAnswer, Fault> => {
  const read = readQuantity(text, unit);
  if (!read.ok) return faultAt(ref, text, read.faults.join("; "));
  const { value } = read.value;
  const given = read.value.unit === undefined ? value : { value, unit: read.value.unit };
  const spec = specAt?.(at);
  const held = spec === undefined ? undefined : inUnit(spec, given);
  return held !== undefined && "wanted" in held ? faultAt(ref, text, held.wanted) : success({ says: "answer", value: given });
};

/** An answer to a question from what was written, by its choices or as a number. Fails with the reference, what was given and what is wanted. */
export const readAnswer = (
  question: Answerable,
  text: string,
  reading: Reading,
  choose: typeof chosen = chosen,
): Result<ReplyAnswer, Fault> => {
  const { ref, choices } = question;
  // A choice of its own ("not fitted, unknown") goes before the general words.
  const value = choices.length === 0 ? undefined : choose(text, choices);
  if (value !== undefined) return success({ says: "answer", value });
  if (saysUnknown(text)) return success({ says: "we will find out" });
  return choices.length === 0 ? readNumber(question, text, reading) : faultAt(ref, text, `${wantedOf(choices)} / ${NOT_KNOWN}`);
};

/** What an answer says of a fact that was taken as known. */
export const correctedTo = (answer: ReplyAnswer): ReplyCorrection => (answer.says === "answer" ? answer.value : NOT_KNOWN);

/** What a fact is said to be that was taken as known; that it is not known is a correction too. Fails as `readAnswer` does. */
export const readCorrection = (known: AskedKnown, text: string, reading: Reading): Result<ReplyCorrection, Fault> => {
  const read = readAnswer(known, text, reading);
  return read.ok ? success(correctedTo(read.value)) : read;
};
