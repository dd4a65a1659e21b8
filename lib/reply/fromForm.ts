import { failure, type Result, success } from "../kernel/result.ts";
import { SAY } from "../letter/catalogue.ts";
import {
  AGREEMENTS,
  asksHow,
  CONFIRMATIONS,
  FORM_FORMAT,
  fieldNames,
  formDigest,
  KEPT,
  knownFields,
  OWN,
  offersOthers,
  questionFields,
  requestFields,
  testFields,
} from "../letter/formFields.ts";
import { type Fault, quotedWords } from "../model/fault.ts";
import { REPLY_FORMAT, type Reply, type ReplyAgreement, type ReplyAnswer, type ReplyConfirmation, replySchema } from "../model/reply.ts";
import { type Asked, type AskedQuestion, type AskedRequest, type AskedTest, askedInLetter, type Choice } from "../plan/asked.ts";
import { ASKED_FOR, NOTHING_WRITTEN } from "./faultWords.ts";
import { chosen, faultAt, NOTHING_PLANNED, type Reading, readAnswer, readCorrection, readPromised, wantedOf } from "./values.ts";

/** The letter that a reply should answer. */
export interface LetterAsked {
  /** The short text that names it. */
  readonly mark: string;
  /** What it asked: from the same plan and rulebook as the letter, since a digest over it must agree. */
  readonly asked: Asked;
  /** Marks of earlier letters of the same visit, so that an old form is told apart from a strange one. */
  readonly earlier?: readonly string[];
  /** Marks of later letters of the same visit. */
  readonly later?: readonly string[];
  /** What a mark names that is no letter of the visit, where whoever reads may know it: "letter 2 to Ardenvoe Pioneer". */
  readonly elsewhere?: (mark: string) => string | undefined;
}

/** What stands in the fields of a form, by their names. */
export type Fields = ReadonlyMap<string, string>;

type Taken<Value> = Result<Value | undefined, Fault>;

const NOTHING = success(undefined);

const FILE = "";

/** What was written in a field, on one line; empty where nothing was. */
const writtenIn = (fields: Fields, name: string): string => (fields.get(name) ?? "").replace(/[\s\u00a0]+/g, " ").trim();

const KEPT_NAMES: readonly string[] = Object.values(KEPT);

/** "q.Q3.answer" belongs to Q3; what belongs to nothing that bears a reference is told of the file. */
const refOf = (name: string): string => /^[qrtk]\.([QRTK]\d+)\./.exec(name)?.[1] ?? FILE;

const FIELD_WORDS: Readonly<Record<string, string>> = {
  answer: "the answer",
  says: "what is said to it",
  had: SAY.columns.how,
  by: SAY.columns.date,
  words: "the words",
  contact: SAY.columns.contact,
  method: SAY.columns.oneOfThese,
  name: SAY.columns.name,
  role: SAY.columns.role,
  remarks: SAY.columns.remarks,
};

/** What a field of the form is for, as the form says it; the fields by which a form is known are not seen in it. */
const fieldWords = (name: string): string =>
  KEPT_NAMES.includes(name) ? "one by which the form is known" : `“${FIELD_WORDS[name.split(".").at(-1) ?? ""] ?? name}”`;

const AS_SENT = "the form as it was sent, with nothing added, taken away or altered but what is filled in";

/** Whether it is the form of this letter as it was sent; else what is wrong. */
const recognised = (
  fields: Fields,
  asked: Asked,
  { mark, earlier = [], later = [], elsewhere = () => undefined }: LetterAsked,
): Result<undefined, Fault> => {
  const format = writtenIn(fields, KEPT.format);
  if (!KEPT_NAMES.every((name) => fields.has(name)) || format === "")
    return failure({ at: FILE, given: "a form that is not of our letters", wanted: "the form in the last pages of our letter" });
  if (format !== FORM_FORMAT)
    return failure({
      at: FILE,
      given: `a form of the kind ${quotedWords(format)}`,
      wanted: `a form of the kind ${quotedWords(FORM_FORMAT)}`,
    });
  const given = writtenIn(fields, KEPT.letter);
  if (given !== mark)
    return failure({
      at: FILE,
      given: earlier.includes(given)
        ? `the form of an older letter of this visit; its mark is ${given}`
        : later.includes(given)
          ? `the form of a later letter of this visit; its mark is ${given}`
          : `the form of ${elsewhere(given) ?? "another visit"}`,
      wanted: `the form of this letter, with the mark ${mark} at its end`,
    });
  const expected = new Set(fieldNames(asked));
  const told = (names: readonly string[], given: (name: string) => string): readonly Fault[] =>
    names.map((name) => ({ at: refOf(name), given: given(name), wanted: AS_SENT }));
  const faults = [
    ...told(
      [...expected].filter((name) => !fields.has(name)),
      (name) => `an altered form, in which a field is missing: ${fieldWords(name)}`,
    ),
    ...told(
      [...fields.keys()].filter((name) => !expected.has(name)),
      (name) => `an altered form, to which a field was added: ${quotedWords(name)}`,
    ),
  ];
  if (faults.length > 0) return failure(...faults);
  const digest = writtenIn(fields, KEPT.digest);
  return digest === formDigest(asked)
    ? NOTHING
    : failure({
        at: FILE,
        given: `an altered form, which does not ask what the letter asked; its digest is ${quotedWords(digest)}`,
        wanted: `${AS_SENT}; its digest is ${formDigest(asked)}`,
      });
};

/** A choice as the form and the page show it, whichever way it was sent. */
const shown = (given: string, choices: readonly Choice[]): string =>
  choices.find(({ value }) => value === chosen(given, choices))?.label ?? given;

const answerTo = (question: AskedQuestion, fields: Fields, reading: Reading): Taken<ReplyAnswer> => {
  const { ref } = question;
  const names = questionFields(ref);
  const [given, by] = [writtenIn(fields, names.answer), writtenIn(fields, names.by)];
  const day = by === "" ? undefined : readPromised(ref, by, reading);
  if (given === "") {
    if (day === undefined) return NOTHING;
    return day.ok ? success({ says: "we will find out", by: day.value }) : day;
  }
  const answer = readAnswer(question, given, reading);
  if (!answer.ok || day === undefined) return answer;
  if (answer.value.says === "answer")
    return faultAt(
      ref,
      `${shown(given, question.choices)}, and to be found out by ${by}`,
      "an answer, or a day by which it is found out; not both",
    );
  return day.ok ? success({ says: "we will find out", by: day.value }) : day;
};

const confirmationOf = (request: AskedRequest, fields: Fields, reading: Reading): Taken<ReplyConfirmation> => {
  const { ref } = request;
  const names = requestFields(ref);
  const [given, how, by, words, contact] = [names.says, asksHow(request) ? names.had : "", names.by, names.words, names.contact].map(
    (name) => writtenIn(fields, name),
  ) as [string, string, string, string, string];
  if ([given, how, by, words, contact].every((written) => written === "")) return NOTHING;
  const had = how === "" ? undefined : chosen(how, request.had);
  if (how !== "" && had === undefined) return faultAt(ref, how, wantedOf(request.had));
  // Who says how it can be had says that it can.
  const says = given === "" && had !== undefined ? "yes" : CONFIRMATIONS.find(({ value }) => value === chosen(given, CONFIRMATIONS))?.value;
  if (says === undefined)
    return faultAt(ref, given === "" ? [by, words, contact].filter((part) => part !== "").join(", ") : given, wantedOf(CONFIRMATIONS));
  if (had !== undefined && says !== "yes")
    return faultAt(ref, `${shown(given, CONFIRMATIONS)}, ${shown(how, request.had)}`, "how it can be had only where it can be had");
  if (says === "by another date" && by === "") return faultAt(ref, shown(given, CONFIRMATIONS), `${ASKED_FOR}give the date`);
  if (says === "instead" && words === "") return faultAt(ref, shown(given, CONFIRMATIONS), `${ASKED_FOR}write what`);
  const day = by === "" ? undefined : readPromised(ref, by, reading);
  if (day !== undefined && !day.ok) return day;
  return success({
    says,
    ...(had === undefined ? {} : { had }),
    ...(day === undefined ? {} : { by: day.value }),
    ...(words === "" ? {} : { words }),
    ...(contact === "" ? {} : { contact }),
  });
};

const agreementTo = (test: AskedTest, fields: Fields): Taken<ReplyAgreement> => {
  const { ref, others } = test;
  const names = testFields(ref);
  const [given, other, words] = [names.says, offersOthers(test) ? names.method : "", names.words].map((name) =>
    writtenIn(fields, name),
  ) as [string, string, string];
  if (given === "" && other === "" && words === "") return NOTHING;
  const method = other === "" ? undefined : chosen(other, others);
  if (other !== "" && method === undefined) return faultAt(ref, other, wantedOf(others));
  const says =
    given === "" && method !== undefined ? "another way" : AGREEMENTS.find(({ value }) => value === chosen(given, AGREEMENTS))?.value;
  if (says === undefined) return faultAt(ref, given === "" ? words : given, wantedOf(AGREEMENTS));
  if (says === "agreed" && test.way === "") return faultAt(ref, shown(given, AGREEMENTS), NOTHING_PLANNED);
  if (says === "agreed" && method !== undefined)
    return faultAt(ref, `${shown(given, AGREEMENTS)}, ${shown(other, others)}`, "that it is agreed, or another way; not both");
  if (says === "another way" && method === undefined && words === "")
    return faultAt(ref, shown(given, AGREEMENTS), `${ASKED_FOR}choose or write which other way`);
  return success({ says, ...(method === undefined ? {} : { method }), ...(words === "" ? {} : { words }) });
};

/** What was taken of each by its reference, with all that is wrong. */
const gather = <Item extends { readonly ref: string }, Value>(
  items: readonly Item[],
  take: (item: Item) => Taken<Value>,
): { readonly taken: Readonly<Record<string, Value>>; readonly faults: readonly Fault[] } => {
  const results = items.map((item) => ({ ref: item.ref, result: take(item) }));
  return {
    taken: Object.fromEntries(
      results.flatMap(({ ref, result }) => (result.ok && result.value !== undefined ? [[ref, result.value] as const] : [])),
    ),
    faults: results.flatMap(({ result }) => (result.ok ? [] : result.faults)),
  };
};

const byOf = (fields: Fields, fallback: Reply["by"] | undefined): Result<Reply["by"], Fault> => {
  const [name, role, contact] = [OWN.name, OWN.role, OWN.contact].map((field) => writtenIn(fields, field)) as [string, string, string];
  if (name !== "") return success({ name, ...(role === "" ? {} : { role }), ...(contact === "" ? {} : { contact }) });
  return fallback === undefined ? failure({ at: "by", given: NOTHING_WRITTEN, wanted: "the name of who answers" }) : success(fallback);
};

/** What the schema finds is told by the reference that it is about. */
const faultsOf = (reply: unknown): readonly Fault[] => {
  const read = replySchema.safeParse(reply);
  return read.success
    ? []
    : read.error.issues.map(({ path, message }) => ({
        at: String(path[0] === "by" || path[0] === "remarks" ? path[0] : (path[1] ?? FILE)),
        given: quotedWords(
          String(
            path.reduce<unknown>(
              (value, step) => (typeof value === "object" && value !== null ? Reflect.get(value, step) : undefined),
              reply,
            ) ?? "",
          ),
        ),
        wanted: message.replace(/^wanted /, ""),
      }));
};

/** The corrections of a reply; nothing where it has none. */
export const correcting = (corrections: NonNullable<Reply["corrections"]>): Pick<Reply, "corrections"> =>
  Object.keys(corrections).length === 0 ? {} : { corrections };

/** `replyFromForm` for fields of our own page, which need not be recognised: the page itself holds what it asked. */
export const replyFromFields = (
  fields: Fields,
  { mark, asked }: LetterAsked,
  reading: Reading = {},
  by?: Reply["by"],
): Result<Reply, Fault> => {
  const questions = gather(asked.questions, (question) => answerTo(question, fields, reading));
  const requests = gather(asked.requests, (request) => confirmationOf(request, fields, reading));
  const tests = gather(asked.tests, (test) => agreementTo(test, fields));
  const corrections = gather(asked.known, (known) => {
    const given = writtenIn(fields, knownFields(known.ref).is);
    return given === "" ? NOTHING : readCorrection(known, given, reading);
  });
  const who = byOf(fields, by);
  const remarks = writtenIn(fields, OWN.remarks);
  const faults = [...(who.ok ? [] : who.faults), ...questions.faults, ...requests.faults, ...tests.faults, ...corrections.faults];
  if (!who.ok || faults.length > 0) return failure(...faults);
  const reply: Reply = {
    format: REPLY_FORMAT,
    letter: mark,
    by: who.value,
    questions: questions.taken,
    requests: requests.taken,
    tests: tests.taken,
    ...correcting(corrections.taken),
    ...(remarks === "" ? {} : { remarks }),
  };
  const wrong = faultsOf(reply);
  return wrong.length === 0 ? success(reply) : failure(...wrong);
};

/**
 * A reply from the fields of a filled form. What is left empty is not answered. Fails with every fault, each with the reference it is about, where
 * it is not the form of this letter as it was sent or an answer cannot be taken; then nothing is. `by` is who answers where the form does
 * not say.
 */
export const replyFromForm = (fields: Fields, letter: LetterAsked, reading: Reading = {}, by?: Reply["by"]): Result<Reply, Fault> => {
  const asked = askedInLetter(letter.asked);
  const known = recognised(fields, asked, letter);
  return known.ok ? replyFromFields(fields, { ...letter, asked }, reading, by) : known;
};
