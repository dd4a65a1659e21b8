import { failure, type Result, success } from "../kernel/result.ts";

/** Which days are worked: weekdays as numbers, 0 = Sunday to 6 = Saturday, and holidays as "YYYY-MM-DD". */
export interface WorkCalendar {
  readonly workingDays: readonly number[];
  readonly holidays: readonly string[];
}

// Gregorian calendar by whole days: day 1 is 0001-01-01, a Monday, so a day number modulo 7 is its weekday with 0 = Sunday.
const LAST_DAY = 3_652_059; // 9999-12-31
const MOST_DAYS = 10_000;
const DAYS_BEFORE_MONTH: readonly number[] = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365];

const isLeap = (year: number): boolean => (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;

const daysBeforeYear = (year: number): number => {
  const past = year - 1;
  return past * 365 + Math.floor(past / 4) - Math.floor(past / 100) + Math.floor(past / 400);
};

/** Days of the year before `month`; 13 gives the length of the year. */
const daysBeforeMonth = (year: number, month: number): number => (DAYS_BEFORE_MONTH[month - 1] ?? 0) + (month > 2 && isLeap(year) ? 1 : 0);

const dayNumber = (date: string): number | undefined => {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date);
  if (match === null) return undefined;
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])];
  if (year < 1 || month < 1 || month > 12 || day < 1) return undefined;
  if (day > daysBeforeMonth(year, month + 1) - daysBeforeMonth(year, month)) return undefined;
  return daysBeforeYear(year) + daysBeforeMonth(year, month) + day;
};

const padded = (value: number, width: number): string => String(value).padStart(width, "0");

const dateOf = (number: number): string => {
  let year = Math.floor(number / 365.2425) + 1;
  while (daysBeforeYear(year) >= number) year -= 1;
  while (daysBeforeYear(year + 1) < number) year += 1;
  const dayOfYear = number - daysBeforeYear(year);
  let month = 12;
  while (daysBeforeMonth(year, month) >= dayOfYear) month -= 1;
  return `${padded(year, 4)}-${padded(month, 2)}-${padded(dayOfYear - daysBeforeMonth(year, month), 2)}`;
};

const noDate = (text: string): Result<never> => failure(`"${text}" is not a date of the form YYYY-MM-DD`);

/** Whether `text` is a day of the Gregorian calendar written "YYYY-MM-DD", year 0001…9999. Never fails. */
export const isDate = (text: string): boolean => dayNumber(text) !== undefined;

/** Weekday of an ISO date, 0 = Sunday to 6 = Saturday. Fails when `date` is not a date. */
export const weekday = (date: string): Result<number> => {
  const number = dayNumber(date);
  return number === undefined ? noDate(date) : success(number % 7);
};

/** Days from one ISO date to another, below 0 where it lies before; both must be dates. Never fails; what is none gives NaN. */
export const daysBetween = (from: string, to: string): number => (dayNumber(to) ?? Number.NaN) - (dayNumber(from) ?? Number.NaN);

/** The ISO date so many days after another; it must be a date, and is given back as it is where it is none. */
export const daysAfter = (date: string, days: number): string => {
  const number = dayNumber(date);
  return number === undefined ? date : dateOf(number + days);
};

/** −1, 0 or 1 as `first` lies before, on or after `second`; both must be ISO dates, whose text sorts as they do. Never fails. */
export const compareDates = (first: string, second: string): -1 | 0 | 1 => {
  if (first === second) return 0;
  return first < second ? -1 : 1;
};

/** Tests whether a day number is worked. Fails on a weekday outside 0…6, no weekday at all, or a holiday that is not a date. */
const workedIn = ({ workingDays, holidays }: WorkCalendar): Result<(number: number) => boolean> => {
  if (workingDays.length === 0) return failure("a calendar must have at least one working weekday");
  const wrong = workingDays.find((day) => !Number.isInteger(day) || day < 0 || day > 6);
  if (wrong !== undefined) return failure(`a weekday is a whole number from 0 (Sunday) to 6, not ${wrong}`);
  const closed = new Set<number>();
  for (const holiday of holidays) {
    const number = dayNumber(holiday);
    if (number === undefined) return noDate(holiday);
    closed.add(number);
  }
  return success((number) => workingDays.includes(number % 7) && !closed.has(number));
};

/**
 * The date `count` working days after `date`, or before it when `count` is negative. `date` itself never counts, whether worked or not;
 * 0 gives `date` unchanged. Fails when `date` is not a date, `count` is not a whole number within ±10 000, the calendar is unusable,
 * or the years 0001…9999 are left.
 */
export const addWorkingDays = (date: string, count: number, calendar: WorkCalendar): Result<string> => {
  const start = dayNumber(date);
  if (start === undefined) return noDate(date);
  if (!Number.isInteger(count) || Math.abs(count) > MOST_DAYS) {
    return failure(`a number of working days is a whole number within ±${MOST_DAYS}, not ${count}`);
  }
  const worked = workedIn(calendar);
  if (!worked.ok) return worked;
  const step = count < 0 ? -1 : 1;
  let number = start;
  for (let left = Math.abs(count); left > 0; ) {
    number += step;
    if (number < 1 || number > LAST_DAY) return failure(`${count} working days from ${date} leave the calendar`);
    if (worked.value(number)) left -= 1;
  }
  return success(dateOf(number));
};

/**
 * Working days from `from` to `to`: those after `from`, up to and with `to`; when `to` lies before `from`, those before `from`, down to
 * and with `to`, as a negative number. It undoes `addWorkingDays`. Fails on text that is not a date and on an unusable calendar.
 */
export const workingDaysBetween = (from: string, to: string, calendar: WorkCalendar): Result<number> => {
  const first = dayNumber(from);
  const last = dayNumber(to);
  if (first === undefined) return noDate(from);
  if (last === undefined) return noDate(to);
  const worked = workedIn(calendar);
  if (!worked.ok) return worked;
  const step = last < first ? -1 : 1;
  let counted = 0;
  for (let number = first; number !== last; ) {
    number += step;
    if (worked.value(number)) counted += step;
  }
  return success(counted);
};
