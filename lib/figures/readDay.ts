import { failure, type Result, success } from "../kernel/result.ts";
import { isDate } from "./workingDays.ts";

const MONTHS = ["january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"];

const EXAMPLE = "a day such as 2026-03-24 or 24 March 2026";

const monthOf = (word: string): number => {
  const key = word.toLowerCase().replace(/\.$/, "");
  return key.length < 3 ? 0 : MONTHS.findIndex((month) => month.startsWith(key)) + 1;
};

const isoOf = (year: number, month: number, day: number): Result<string> => {
  const iso = `${String(year).padStart(4, "0")}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
  return isDate(iso) && year >= 1000 ? success(iso) : failure(`${EXAMPLE}; there is no such day in the calendar`);
};

/** The day without a year that a text names, as month and day; null where it is none. */
const yearless = (written: string): readonly [month: number, day: number] | null => {
  const dayFirst = /^(\d{1,2})(?:st|nd|rd|th)?\.? ?(?:of )?([A-Za-z]+\.?)$/.exec(written);
  if (dayFirst !== null) return [monthOf(dayFirst[2] ?? ""), Number(dayFirst[1])];
  const monthFirst = /^([A-Za-z]+\.?) (\d{1,2})(?:st|nd|rd|th)?$/.exec(written);
  if (monthFirst !== null) return [monthOf(monthFirst[1] ?? ""), Number(monthFirst[2])];
  const dotted = /^(\d{1,2})\. ?(\d{1,2})\.$/.exec(written);
  return dotted === null ? null : [Number(dotted[2]), Number(dotted[1])];
};

/** A 29 February comes again within so many years, whichever the first of them is. */
const YEARS_TO_LEAP = 8;

/** The first such day on or after another. */
const firstFrom = (from: string, month: number, day: number): Result<string> => {
  const first = Number(from.slice(0, 4));
  for (let year = first; year <= first + YEARS_TO_LEAP; year += 1) {
    const found = isoOf(year, month, day);
    if (found.ok && found.value >= from) return found;
  }
  return isoOf(first, month, day);
};

/**
 * Reads a day as people write it: "2026-03-24", "24 March 2026", "24 mar 2026", "March 24, 2026", "24.3.2026", "24/3/2026". Gives it as ISO 8601. Where
 * `from` is given, a day without a year ("24 March") is the first such day on or after it. Fails, saying what is wanted, where it is no day, or where day
 * and month cannot be told apart ("3/4/2026").
 */
export const readDay = (text: string, from?: string): Result<string> => {
  const written = text.trim().replace(/\s+/g, " ");
  const short = from === undefined ? null : yearless(written);
  if (from !== undefined && short !== null) return firstFrom(from, ...short);
  const iso = /^(\d{4})-(\d{1,2})-(\d{1,2})$/.exec(written);
  if (iso !== null) return isoOf(Number(iso[1]), Number(iso[2]), Number(iso[3]));
  const dayFirst = /^(\d{1,2})(?:st|nd|rd|th)? ?([A-Za-z]+\.?) ?,? ?(\d{4})$/.exec(written);
  if (dayFirst !== null) return isoOf(Number(dayFirst[3]), monthOf(dayFirst[2] ?? ""), Number(dayFirst[1]));
  const monthFirst = /^([A-Za-z]+\.?) (\d{1,2})(?:st|nd|rd|th)?,? (\d{4})$/.exec(written);
  if (monthFirst !== null) return isoOf(Number(monthFirst[3]), monthOf(monthFirst[1] ?? ""), Number(monthFirst[2]));
  const dotted = /^(\d{1,2})\. ?(\d{1,2})\. ?(\d{4})$/.exec(written);
  if (dotted !== null) return isoOf(Number(dotted[3]), Number(dotted[2]), Number(dotted[1]));
  const strokes = /^(\d{1,2})\/(\d{1,2})\/(\d{4})$/.exec(written);
  if (strokes !== null) {
    const [one, other] = [Number(strokes[1]), Number(strokes[2])];
    // Of two numbers one over twelve is no month.
    if (one > 12 && other <= 12) return isoOf(Number(strokes[3]), other, one);
    if (other > 12 && one <= 12) return isoOf(Number(strokes[3]), one, other);
  }
  return failure(/^\d{1,2}\/\d{1,2}\/\d{4}$/.test(written) ? `${EXAMPLE}; with strokes day and month cannot be told apart` : EXAMPLE);
};
