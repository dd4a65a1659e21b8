import { AGREEMENTS, CONFIRMATIONS, questionFields, requestFields, testFields } from "../letter/formFields.ts";
import { capital, longDate } from "../letter/words.ts";
import { NOT_KNOWN } from "../model/fact.ts";
import type { Reply } from "../model/reply.ts";
import type { Asked, Choice } from "../plan/asked.ts";
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

/** What is filled in by now at every reference of a letter, right or wrong, in the words of its page. Pure. */
export const toldFilled = ({ questions, requests, tests }: Asked, fields: Fields): readonly Told[] => {
  const at = (name: string): string => (fields.get(name) ?? "").trim();
  return [
    ...questions.map(({ ref, text, choices, unit }): Told => {
      const names = questionFields(ref);
      const answer = at(names.answer);
      const bare = /^[\d.,\s+-]+$/.test(answer) && unit !== undefined;
      const says = answer === NOT_KNOWN ? "Not known yet" : bare ? `${answer} ${unit}` : labelOf(answer, choices);
      return { ref, text, says: joined([says, led("will be found out by ", dayOf(at(names.by)))]) };
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
  ];
};

type Answer = Reply["questions"][string];

const written = (answer: Answer): string => {
  if (answer.says !== "answer") return NOT_KNOWN;
  const { value } = answer;
  if (typeof value === "string") return value;
  return typeof value === "number" ? String(value) : `${formatNumber(value.value, 6)} ${value.unit}`;
};

/** A reply as the fields of its page would hold it, by their names. Pure. */
export const fieldsOfReply = ({ questions, requests, tests }: Reply): Fields =>
  new Map<string, string>([
    ...Object.entries(questions).flatMap(([ref, answer]) => [
      [questionFields(ref).answer, written(answer)] as const,
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
  ]);

/** What a reply says at every reference of its letter, in words. Pure. */
export const toldOf = (asked: Asked, reply: Reply): readonly Told[] => toldFilled(asked, fieldsOfReply(reply));

/** A test that is agreed to as planned though a thing that it needs is refused. */
export interface AtOdds {
  readonly test: string;
  readonly request: string;
}

/** Where what is filled in does not go together: the way of a test is agreed to, and what that way needs cannot be had. Pure. */
export const atOdds = ({ requests, tests }: Asked, fields: Fields): readonly AtOdds[] => {
  const says = (name: string): string => (fields.get(name) ?? "").trim();
  const refused = requests.filter(({ ref }) => says(requestFields(ref).says) === "no");
  return tests
    .filter(({ ref }) => says(testFields(ref).says) === "agreed")
    .flatMap(({ ref }) =>
      refused.filter(({ neededFor }) => neededFor.includes(ref)).map((request) => ({ test: ref, request: request.ref })),
    );
};
