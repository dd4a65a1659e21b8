import * as z from "zod";
import { isDate } from "../figures/workingDays.ts";

/** Control characters and characters that turn the direction of writing have no place in a name or remark. */
const HIDDEN = /[\p{Cc}\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]/u;

/** What the letter's typeface cannot print: it has Latin, Greek and Cyrillic letters, no other scripts and no pictures. */
const UNPRINTABLE =
  /[^\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{Script=Common}\p{Script=Inherited}]|\p{Emoji_Presentation}|[\u3000-\u30ff\uff00-\uffef]/u;

/** A text from outside as it can be printed: what cannot be is a question mark. */
export const printable = (text: string): string =>
  [...text].map((sign) => (HIDDEN.test(sign) || UNPRINTABLE.test(sign) ? "?" : sign)).join("");

/** Free text of one line: not empty, not over-long, nothing hidden in it. */
export const text = (longest: number) =>
  z
    .string()
    .min(1, { error: "wanted some text" })
    .max(longest, { error: `wanted at most ${longest} characters` })
    .refine((value) => value === "" || value.trim() !== "", { error: "wanted text that is not only spaces" })
    .refine((value) => !HIDDEN.test(value), { error: "wanted text without control, direction or other hidden characters" })
    .refine((value) => !UNPRINTABLE.test(value), { error: "wanted text in Latin, Greek or Cyrillic letters, which the letter can print" });

export const plainDate = z
  .string()
  .refine(isDate, { error: "wanted a date that exists, as YYYY-MM-DD" })
  .describe("a plain date, YYYY-MM-DD");

/** RFC 5321, 4.5.3.1.3: a path of 256 with its angle brackets. What is longer is not even looked at. */
const LONGEST_ADDRESS = 254;

/** Whether a text looks like an e-mail address; whether there is one of that name only a mail can tell. */
export const isEmail = (text: string): boolean => text.length <= LONGEST_ADDRESS && /^[^\s@]+@[^\s@]+\.[^\s@]+$/.test(text);
