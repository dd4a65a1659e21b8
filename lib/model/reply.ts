import * as z from "zod";
import { plainDate, text } from "./text.ts";

/** The form of a reply, whichever way it came: the page, the form in the letter, an e-mail, or keyed in. */
export const REPLY_FORMAT = "forehail reply 1";

export const LONGEST_WORDS = 600;

const words = text(LONGEST_WORDS);
const contact = text(200);

/** What a fact is said to be: the value of a choice, a number with its unit, "not known". */
const value = z.union([z.string(), z.number(), z.strictObject({ value: z.number(), unit: z.string() })]);

/** What is answered to a question: a choice's value, a number with its unit, or that it will be found out. */
const answer = z.union([
  z.strictObject({ says: z.literal("answer"), value }),
  z.strictObject({ says: z.literal("we will find out"), by: plainDate.optional() }),
]);

/** What is answered to a request. */
const confirmation = z.strictObject({
  says: z.enum(["yes", "no", "by another date", "instead"]),
  /** Where there are several ways to have it: which. */
  had: z.string().optional(),
  by: plainDate.optional(),
  words: words.optional(),
  contact: contact.optional(),
});

/** What is answered to a planned test. */
const agreement = z.strictObject({
  says: z.enum(["agreed", "another way"]),
  /** Id of a method of the rulebook; left out where the way is told in words. */
  method: z.string().optional(),
  words: words.optional(),
});

/** A reply to one letter. What is left out is not answered. */
export const replySchema = z.strictObject({
  format: z.literal(REPLY_FORMAT),
  /** The mark of the letter that it answers. */
  letter: z.string(),
  by: z.strictObject({ name: text(120), role: text(80).optional(), contact: contact.optional() }),
  questions: z.record(z.string(), answer),
  requests: z.record(z.string(), confirmation),
  tests: z.record(z.string(), agreement),
  /** What the letter took as known and is otherwise in fact; replies that correct nothing have none. */
  corrections: z.record(z.string(), value).optional(),
  remarks: words.optional(),
});

export type Reply = z.infer<typeof replySchema>;
export type ReplyAnswer = Reply["questions"][string];
export type ReplyConfirmation = Reply["requests"][string];
export type ReplyAgreement = Reply["tests"][string];
export type ReplyCorrection = NonNullable<Reply["corrections"]>[string];
