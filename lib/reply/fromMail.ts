import { failure, type Result, success } from "../kernel/result.ts";
import { AGREEMENTS, CONFIRMATIONS } from "../letter/formFields.ts";
import { NOT_TO_BE_HAD } from "../model/fact.ts";
import { type Fault, quotedWords } from "../model/fault.ts";
import {
  REPLY_FORMAT,
  type Reply,
  type ReplyAgreement,
  type ReplyAnswer,
  type ReplyConfirmation,
  type ReplyCorrection,
  replySchema,
} from "../model/reply.ts";
import type { AskedKnown, AskedQuestion, AskedRequest, AskedTest } from "../plan/asked.ts";
import { ASKED_FOR, NOTHING_WRITTEN } from "./faultWords.ts";
import { correcting, type LetterAsked } from "./fromForm.ts";
import { type Line, linesOf, type Said } from "./mailLines.ts";
import {
  chosenByBeginning,
  correctedTo,
  faultAt,
  keyOf,
  NOTHING_PLANNED,
  type Reading,
  readAnswer,
  readPromised,
  saysUnknown,
} from "./values.ts";

/** A line that was not taken, or not all of it, with the reason: told to the inspector, who reads it himself. */
export interface ToldLine {
  /** Counted from 1. */
  readonly line: number;
  readonly text: string;
  readonly why: Exclude<Line["says"], readonly Said[]> | readonly Fault[];
}

/** What a plain e-mail says. Every line that is not empty is understood or told; one of which only a part was taken is both. */
export interface MailReply {
  readonly reply: Reply;
  /** Numbers of the lines from which something was taken. */
  readonly understood: readonly number[];
  readonly told: readonly ToldLine[];
}

/** Longest message, in characters; what is longer is no answer written by hand. */
export const LONGEST_MAIL = 200_000;

type Kind = "questions" | "requests" | "tests" | "corrections";
type Value = {
  readonly questions: ReplyAnswer;
  readonly requests: ReplyConfirmation;
  readonly tests: ReplyAgreement;
  readonly corrections: ReplyCorrection;
};
type Of<K extends Kind = Kind> = { readonly [Each in K]: { readonly kind: Each; readonly value: Value[Each]; readonly left?: string } }[K];

const PROPOSES =
  /^(?:instead(?: we propose)?|we propose another way|another way|other way|we propose(?: instead| another way)?|we suggest|proposal)\b[\s:,–—-]*/i;

/** A text cut at its first mark of punctuation: what stands before it, and the rest. */
const cut = (text: string): readonly [head: string, rest: string] => {
  const [, head = text, rest = ""] = /^(.*?)(?:,\s+|\s*[;(]\s*|\s+[–—-]\s+|[.!]\s+)(.*)$/.exec(text) ?? [];
  return [head, rest.replace(/^\(|\)$/g, "").trim()];
};

const BY = /\b(?:by|on|before|until)\s+(.+)$/i;

/** "We will find out by 12 March 2026": the words and the day. */
const unknownBy = (ref: string, text: string, reading: Reading): Result<ReplyAnswer, Fault> | undefined => {
  const by = BY.exec(text);
  const words = by === null ? text : text.slice(0, by.index);
  if (!saysUnknown(words.replace(/[\s,;:–—-]+$/, "")) && !(by !== null && words === "")) return undefined;
  if (by === null) return success({ says: "we will find out" });
  const day = readPromised(ref, by[1] ?? "", reading);
  return day.ok ? success({ says: "we will find out", by: day.value }) : day;
};

interface Answered {
  readonly answer: ReplyAnswer;
  readonly left?: string;
}

const answerIn = (question: AskedQuestion | AskedKnown, text: string, reading: Reading): Result<Answered, Fault> => {
  const later = unknownBy(question.ref, text, reading);
  const whole = later ?? readAnswer(question, text, reading, chosenByBeginning);
  if (whole.ok) return success({ answer: whole.value });
  const [head, rest] = cut(text);
  if (rest === "" || later !== undefined) return whole;
  // "Yes, but …" could mean anything: only a head that is an answer by itself counts, and what follows is told beside it.
  const first = readAnswer(question, head, reading);
  const second = question.choices.length > 0 ? readAnswer(question, cut(rest)[0], reading).ok : /^[\d.,±+-]/.test(rest);
  return first.ok && !second ? success({ answer: first.value, left: rest }) : whole;
};

const besides = ({ left }: Answered): { readonly left?: string } => (left === undefined ? {} : { left });

const answerTo = (question: AskedQuestion, text: string, reading: Reading): Result<Of, Fault> => {
  const read = answerIn(question, text, reading);
  return read.ok ? success({ kind: "questions", value: read.value.answer, ...besides(read.value) }) : read;
};

/** "In fact wet", "wrong, it is wet": words before what a fact is said to be. */
const IN_FACT = /^(?:(?:wrong|incorrect|not so|in fact|actually|it is|it's|should be|is)\b[\s:,;–—-]*)+/i;

const correctionTo = (known: AskedKnown, text: string, reading: Reading): Result<Of, Fault> => {
  const read = answerIn(known, text.replace(IN_FACT, ""), reading);
  return read.ok ? success({ kind: "corrections", value: correctedTo(read.value.answer), ...besides(read.value) }) : read;
};

const YES = new Set(["yes", "y", "ok", "okay", "confirmed", "agreed", "we confirm"]);
const AGREE = new Set([...YES, "agree", "we agree"]);
const NO = new Set(["no", "n", "cannot", "not possible", "not available", NOT_TO_BE_HAD]);

const withWords = (words: string): { readonly words?: string } => (words === "" ? {} : { words });

const wantedOfRequest = `${CONFIRMATIONS.map(({ label }) => label).join(" / ")}, or a day such as 2026-03-24`;

const confirmed = (value: ReplyConfirmation): Result<Of, Fault> => success({ kind: "requests", value });

const yesTo = ({ ref, had }: AskedRequest, rest: string, reading: Reading): Result<Of, Fault> => {
  const how = rest === "" ? undefined : chosenByBeginning(rest, had);
  if (how !== undefined) return confirmed({ says: "yes", had: how });
  const by = /^(?:by|on|before|until)\s+(.+)$/i.exec(rest)?.[1];
  if (by === undefined) return confirmed({ says: "yes", ...withWords(rest) });
  const day = readPromised(ref, by, reading);
  return day.ok ? confirmed({ says: "yes", by: day.value }) : day;
};

/** Words that go on after "yes" or "no" without a comma; "no problem" is none of these. */
const GOES_ON = /^(?:but|because|since|if|only|we|it|they|not|cannot|can|will|by|on|before|until)\b/i;

/**
 * What follows one of `words` at the beginning: behind a mark of punctuation anything, behind a blank only what can be nothing else. Undefined where the
 * text does not begin so.
 */
const leading = (text: string, words: ReadonlySet<string>, goesOn: (rest: string) => boolean): string | undefined => {
  const [head, rest] = cut(text);
  if (words.has(keyOf(head))) return rest;
  const [, first = "", more = ""] = /^(\S+)\s+(.*)$/.exec(text) ?? [];
  return words.has(keyOf(first)) && (GOES_ON.test(more) || PROPOSES.test(more) || goesOn(more)) ? more.trim() : undefined;
};

const confirmationOf = (request: AskedRequest, text: string, reading: Reading): Result<Of, Fault> => {
  const { ref, had } = request;
  const proposed = (words: string): Result<Of, Fault> =>
    words === "" ? faultAt(ref, text, `${ASKED_FOR}write what`) : confirmed({ says: "instead", words });
  if (PROPOSES.test(text)) return proposed(text.replace(PROPOSES, "").trim());
  const yes = leading(text, YES, (rest) => chosenByBeginning(rest, had) !== undefined);
  if (yes !== undefined) return yesTo(request, yes, reading);
  if (NO.has(keyOf(text))) return confirmed({ says: "no" });
  const no = leading(text, NO, () => false);
  if (no !== undefined) return PROPOSES.test(no) ? proposed(no.replace(PROPOSES, "").trim()) : confirmed({ says: "no", ...withWords(no) });
  const how = chosenByBeginning(text, had);
  if (how !== undefined) return confirmed({ says: "yes", had: how });
  const dated = text.replace(/^(?:(?:by |on )?another (?:date|day)\b[\s:,–—-]*)?(?:(?:by|on|not before|before)\b[\s:,–—-]*)?/i, "");
  const day = readPromised(ref, dated, reading);
  if (day.ok) return confirmed({ says: "by another date", by: day.value });
  const [head, rest] = cut(dated);
  const first = readPromised(ref, head, reading);
  if (first.ok) return confirmed({ says: "by another date", by: first.value, ...withWords(rest) });
  // What looks like a day is told as one.
  return /\d{4}|\d\s*[./]\s*\d|another (?:date|day)/i.test(text) ? day : faultAt(ref, text, wantedOfRequest);
};

const agreementTo = ({ ref, way, others }: AskedTest, text: string): Result<Of, Fault> => {
  const taken = (value: ReplyAgreement): Result<Of, Fault> => success({ kind: "tests", value });
  const another = (words: string): Result<Of, Fault> => {
    const method = chosenByBeginning(words, others);
    if (method !== undefined) return taken({ says: "another way", method });
    return words === "" ? faultAt(ref, text, `${ASKED_FOR}write which other way`) : taken({ says: "another way", words });
  };
  if (PROPOSES.test(text)) return another(text.replace(PROPOSES, "").trim());
  const agreed = leading(text, AGREE, () => false);
  if (agreed !== undefined && way === "" && !PROPOSES.test(agreed)) return faultAt(ref, text, NOTHING_PLANNED);
  if (agreed !== undefined)
    return PROPOSES.test(agreed)
      ? faultAt(ref, text, "that it is agreed, or another way; not both")
      : taken({ says: "agreed", ...withWords(agreed) });
  const no = NO.has(keyOf(text)) ? "" : leading(text, NO, () => false);
  if (no !== undefined) return another(no.replace(PROPOSES, "").trim());
  const method = chosenByBeginning(text, others);
  return method === undefined
    ? faultAt(ref, text, AGREEMENTS.map(({ label }) => label).join(" / "))
    : taken({ says: "another way", method });
};

const readOne = (ref: string, text: string, { asked }: LetterAsked, reading: Reading): Result<Of, Fault> => {
  const question = asked.questions.find((one) => one.ref === ref);
  if (question !== undefined) return answerTo(question, text, reading);
  const request = asked.requests.find((one) => one.ref === ref);
  if (request !== undefined) return confirmationOf(request, text, reading);
  const test = asked.tests.find((one) => one.ref === ref);
  if (test !== undefined) return agreementTo(test, text);
  const known = asked.known.find((one) => one.ref === ref);
  return known === undefined ? faultAt(ref, text, "a reference of the letter") : correctionTo(known, text, reading);
};

interface Read {
  readonly line: Line;
  readonly ref: string;
  readonly text: string;
  readonly result: Result<Of, Fault>;
}

/** What a text says must fit into a reply by itself. */
const fits = (ref: string, text: string, of: Of, shell: Reply): Result<Of, Fault> => {
  const read = replySchema.safeParse({ ...shell, [of.kind]: { [ref]: of.value } });
  return read.success
    ? success(of)
    : faultAt(ref, text, read.error.issues.map(({ message }) => message.replace(/^wanted /, "")).join("; "));
};

const readSaid = (line: Line, { refs, text, unclear }: Said, letter: LetterAsked, reading: Reading, shell: Reply): readonly Read[] =>
  refs.map((ref) => {
    const result =
      text === ""
        ? failure({ at: ref, given: NOTHING_WRITTEN, wanted: "an answer behind the reference" })
        : unclear === true
          ? faultAt(ref, text, "a colon between the reference and the number, since the dash may be a minus")
          : readOne(ref, text, letter, reading);
    return { line, ref, text, result: result.ok ? fits(ref, text, result.value, shell) : result };
  });

/** So many ways in which one reference is answered are told with their words; of more only how many. */
const WAYS_TOLD = 6;

const waysTold = (reads: readonly Read[]): string => {
  const said = reads.slice(0, WAYS_TOLD).map(({ line, text }) => `line ${line.number} says ${quotedWords(text)}`);
  return [...said, ...(reads.length > WAYS_TOLD ? [`${reads.length - WAYS_TOLD} more say otherwise again`] : [])].join(", ");
};

/** Where one reference is answered in two ways, none of them is taken. */
const settled = (reads: readonly Read[]): readonly Read[] => {
  const ways = new Map<string, Map<string, Read>>();
  for (const read of reads) {
    if (!read.result.ok) continue;
    const own = ways.get(read.ref) ?? new Map<string, Read>();
    ways.set(read.ref, own);
    const way = JSON.stringify(read.result.value.value);
    if (!own.has(way)) own.set(way, read);
  }
  const told = new Map([...ways].flatMap(([ref, own]) => (own.size < 2 ? [] : [[ref, waysTold([...own.values()])] as const])));
  return reads.map((read) => {
    const { ref, text, result } = read;
    const said = told.get(ref);
    return !result.ok || said === undefined ? read : { ...read, result: faultAt(ref, text, `one answer; ${said}`) };
  });
};

const takenOf = <K extends Kind>(reads: readonly Read[], kind: K): Record<string, Value[K]> =>
  Object.fromEntries(
    reads.flatMap(({ ref, result }) => (result.ok && result.value.kind === kind ? [[ref, result.value.value as Value[K]] as const] : [])),
  );

/** What is told of a line from which answers were read: their faults, and what was left over beside an answer. */
const toldOf = (line: Line, reads: readonly Read[]): readonly ToldLine[] => {
  const faults = reads.flatMap(({ ref, result }): readonly Fault[] =>
    !result.ok
      ? result.faults
      : result.value.left === undefined
        ? []
        : [{ at: ref, given: quotedWords(result.value.left), wanted: "nothing more behind the answer; please read it yourself" }],
  );
  return faults.length === 0 ? [] : [{ line: line.number, text: line.text, why: faults }];
};

/**
 * A reply from the text of a plain e-mail, with lines such as "Q3: dry", "R5 no, we propose …", "Q3, Q4: not known". `by` is who wrote it. Every line
 * that is not empty is understood or told, nothing is dropped. Fails only where the message is longer than `LONGEST_MAIL` or its writer
 * cannot be named so.
 */
export const replyFromMail = (text: string, letter: LetterAsked, by: Reply["by"], reading: Reading = {}): Result<MailReply, Fault> => {
  if (text.length > LONGEST_MAIL)
    return failure({ at: "", given: `a message of ${text.length} characters`, wanted: `a message of at most ${LONGEST_MAIL} characters` });
  const shell: Reply = { format: REPLY_FORMAT, letter: letter.mark, by, questions: {}, requests: {}, tests: {} };
  const named = replySchema.safeParse(shell);
  if (!named.success) return faultAt("by", by.name, named.error.issues.map(({ message }) => message.replace(/^wanted /, "")).join("; "));
  const lines = linesOf(text, by.name);
  const reads = settled(
    lines.flatMap((line) =>
      typeof line.says === "string" ? [] : line.says.flatMap((said) => readSaid(line, said, letter, reading, shell)),
    ),
  );
  const told = lines.flatMap((line): readonly ToldLine[] =>
    typeof line.says === "string"
      ? [{ line: line.number, text: line.text, why: line.says }]
      : toldOf(
          line,
          reads.filter((read) => read.line === line),
        ),
  );
  return success({
    reply: {
      ...shell,
      questions: takenOf(reads, "questions"),
      requests: takenOf(reads, "requests"),
      tests: takenOf(reads, "tests"),
      ...correcting(takenOf(reads, "corrections")),
    },
    understood: [...new Set(reads.flatMap(({ line, result }) => (result.ok ? [line.number] : [])))],
    told,
  });
};
