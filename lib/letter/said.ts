import type { ReplyAgreement, ReplyAnswer, ReplyConfirmation, ReplyCorrection } from "../model/reply.ts";
import type { AskedQuestion, AskedRequest, Choice } from "../plan/asked.ts";
import { capital } from "../plan/say.ts";
import { formatNumber } from "../units/units.ts";
import { SAY } from "./catalogue.ts";
import { AGREEMENTS, CONFIRMATIONS } from "./formFields.ts";
import { longDate } from "./words.ts";

/** What was said at one reference: in our words, and in the vessel's own. No full stop ends it. */
export interface Said {
  readonly says: string;
  readonly words?: string;
  readonly contact?: string;
}

const labelOf = (choices: readonly Choice[], value: string): string => choices.find((choice) => choice.value === value)?.label ?? value;

/** As it was said: as many digits as were given. */
const DIGITS = 6;

const amountWords = (value: number | { readonly value: number; readonly unit: string }, unit: string | undefined): string => {
  const [number, own] = typeof value === "number" ? [value, unit] : [value.value, value.unit];
  return [formatNumber(number, DIGITS), ...(own === undefined ? [] : [own])].join(" ");
};

/** A value in words: a choice by its label, a number with its unit. */
export const valueSaid = (
  { choices, unit }: { readonly choices: readonly Choice[]; readonly unit?: string | undefined },
  value: ReplyCorrection,
): string => capital(typeof value === "string" ? labelOf(choices, value) : amountWords(value, unit));

/** An answer to a question: its value, or when it will be known. */
export const answerSaid = (question: AskedQuestion, answer: ReplyAnswer): string => {
  if (answer.says === "answer") return valueSaid(question, answer.value);
  return answer.by === undefined ? SAY.notes.willFindOut : SAY.with.willFindOut(longDate(answer.by));
};

const own = ({ words, contact }: { readonly words?: string | undefined; readonly contact?: string | undefined }): Omit<Said, "says"> => ({
  ...(words === undefined ? {} : { words }),
  ...(contact === undefined ? {} : { contact }),
});

/** What was said to a request: whether and how it can be had, and by when. */
export const confirmationSaid = ({ had: ways }: AskedRequest, { says, had, by, ...more }: ReplyConfirmation): Said => {
  const how = had === undefined ? "" : `: ${labelOf(ways, had).toLowerCase()}`;
  const day = by === undefined ? "" : says === "by another date" ? `: ${longDate(by)}` : `, ${SAY.with.byDate(longDate(by))}`;
  return { says: `${labelOf(CONFIRMATIONS, says)}${how}${day}`, ...own(more) };
};

/** What was said to a planned test; `nameOf` gives the name of a method. */
export const agreementSaid = (said: ReplyAgreement, nameOf: (method: string) => string): Said => ({
  says: `${labelOf(AGREEMENTS, said.says)}${said.method === undefined ? "" : `: ${nameOf(said.method)}`}`,
  ...own(said),
});

/** All that was said, in one line. */
export const inOneLine = ({ says, words, contact }: Said): string =>
  [says, ...(words === undefined ? [] : [`“${words}”`]), ...(contact === undefined ? [] : [SAY.with.contact(contact)])].join(", ");

/** What is asked of a thing that only later ways would need. Pure. */
export const laterWords = ({ hold }: Pick<AskedRequest, "hold">): string =>
  `${hold === true ? `${SAY.notes.hold}.` : SAY.notes.couldBeHad} ${SAY.notes.firstWaysStay}`;
