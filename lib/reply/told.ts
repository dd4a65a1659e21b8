import { readDay } from "../figures/readDay.ts";
import { knownTold } from "../letter/alike.ts";
import { AGREEMENTS, CONFIRMATIONS, knownFields, questionFields, requestFields, testFields } from "../letter/formFields.ts";
import { capital, longDate } from "../letter/words.ts";
import { NOT_KNOWN } from "../model/fact.ts";
import type { Reply, ReplyCorrection } from "../model/reply.ts";
import type { Asked, AskedQuestion, Choice } from "../plan/asked.ts";
import { formatNumber } from "../units/units.ts";
import type { Fields } from "./fromForm.ts";

/** What is filled in at one reference, in words; empty where nothing is. */
export interface Told {
  readonly ref: string;
  readonly text: string;
  readonly says: string;
}

const labelOf = (value: string, choices: readonly Choice[]): string =>
  capital(choices.find((choice) => choice.value === value)?.label ?? value);

const dayOf = (day: string): string => (/^\d{4}-\d\d-\d\d$/.test(day) ? longDate(day) : day);

const joined = (parts: readonly string[]): string => parts.filter((part) => part !== "").join("; ");

const led = (lead: string, text: string): string => (text === "" ? "" : `${lead}${text}`);

const valueSays = (text: string, { choices, unit }: Pick<AskedQuestion, "choices" | "unit">): string => {
  if (text === NOT_KNOWN) return "Not known yet";
  return /^[\d.,\s+-]+$/.test(text) && unit !== undefined ? `${text} ${unit}` : labelOf(text, choices);
};

/**
 * What is filled in by now at every reference of a letter, right or wrong, in the words of its page. What was taken as known is only told where it is
 * said to be otherwise, since nothing is asked of it. Pure.
 */
export const toldFilled = ({ questions, requests, tests, known }: Asked, fields: Fields): readonly Told[] => {
  const at = (name: string): string => (fields.get(name) ?? "").trim();
  return [
    ...questions.map((question): Told => {
      const { ref, text } = question;
      const names = questionFields(ref);
      return { ref, text, says: joined([valueSays(at(names.answer), question), led("will be found out by ", dayOf(at(names.by)))]) };
    }),
    ...requests.map(({ ref, text, had }): Told => {
      const names = requestFields(ref);
      return {
        ref,
        text: capital(text),
        says: joined([
          labelOf(at(names.says), CONFIRMATIONS),
          labelOf(at(names.had), had),
          dayOf(at(names.by)),
          at(names.words),
          led("contact: ", at(names.contact)),
        ]),
      };
    }),
    ...tests.map(({ ref, set, name, others }): Told => {
      const names = testFields(ref);
      return {
        ref,
        text: `${set}: ${name}`,
        says: joined([labelOf(at(names.says), AGREEMENTS), labelOf(at(names.method), others), at(names.words)]),
      };
    }),
    ...known.flatMap((fact): readonly Told[] => {
      const says = valueSays(at(knownFields(fact.ref).is), fact);
      return says === "" ? [] : [{ ref: fact.ref, text: knownTold(fact), says: `In fact: ${says}` }];
    }),
  ];
};

const written = (value: ReplyCorrection): string => {
  if (typeof value === "string") return value;
  return typeof value === "number" ? String(value) : `${formatNumber(value.value, 6)} ${value.unit}`;
};

/** A reply as the fields of its page would hold it, by their names. Pure. */
export const fieldsOfReply = ({ questions, requests, tests, corrections = {} }: Reply): Fields =>
  new Map<string, string>([
    ...Object.entries(questions).flatMap(([ref, answer]) => [
      [questionFields(ref).answer, answer.says === "answer" ? written(answer.value) : NOT_KNOWN] as const,
      [questionFields(ref).by, answer.says === "answer" ? "" : (answer.by ?? "")] as const,
    ]),
    ...Object.entries(requests).flatMap(([ref, said]) => {
      const names = requestFields(ref);
      const parts = ["says", "had", "by", "words", "contact"] as const;
      return parts.map((part) => [names[part], said[part] ?? ""] as const);
    }),
    ...Object.entries(tests).flatMap(([ref, said]) => {
      const names = testFields(ref);
      const parts = ["says", "method", "words"] as const;
      return parts.map((part) => [names[part], said[part] ?? ""] as const);
    }),
    ...Object.entries(corrections).map(([ref, value]) => [knownFields(ref).is, written(value)] as const),
  ]);

/** What a reply says at every reference of its letter, in words. Pure. */
export const toldOf = (asked: Asked, reply: Reply): readonly Told[] => toldFilled(asked, fieldsOfReply(reply));

const saidIn =
  (fields: Fields) =>
  (name: string): string =>
    (fields.get(name) ?? "").trim();

/** What is offered by another day that comes too late for the visit, which begins on `begins`: by reference, with the words for it. Pure. */
export const tooLate = ({ requests }: Asked, fields: Fields, begins: string): ReadonlyMap<string, string> => {
  const says = saidIn(fields);
  return new Map(
    requests.flatMap(({ ref }) => {
      const names = requestFields(ref);
      const day = readDay(says(names.by));
      return says(names.says) === "by another date" && day.ok && day.value > begins
        ? [[ref, `${longDate(day.value)} is after the visit begins on ${longDate(begins)}: it counts as not to be had in time.`] as const]
        : [];
    }),
  );
};

/** A test that is agreed to as planned though a thing that it needs is refused, or comes too late. */
export interface AtOdds {
  readonly test: string;
  readonly request: string;
  readonly late?: true;
}

/** Where what is filled in does not go together: the way of a test is agreed to, and what that way needs cannot be had in time. Pure. */
export const atOdds = (asked: Asked, fields: Fields, begins: string): readonly AtOdds[] => {
  const says = saidIn(fields);
  const late = tooLate(asked, fields, begins);
  const lost = asked.requests.filter(({ ref, later }) => !later && (says(requestFields(ref).says) === "no" || late.has(ref)));
  return asked.tests
    .filter(({ ref }) => says(testFields(ref).says) === "agreed")
    .flatMap(({ ref: test }) =>
      lost
        .filter(({ neededFor }) => neededFor.includes(test))
        .map(({ ref }): AtOdds => ({ test, request: ref, ...(late.has(ref) ? { late: true } : {}) })),
    );
};
