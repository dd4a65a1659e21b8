import { failure, type Result, success } from "../kernel/result.ts";

const DAY = 24 * 60 * 60_000;
const PLAIN_DATE = /^\d{4}-\d{2}-\d{2}$/;

const moved = (value: unknown, days: number): unknown => {
  if (typeof value === "string")
    return PLAIN_DATE.test(value) ? new Date(Date.parse(`${value}T00:00:00Z`) + days * DAY).toISOString().slice(0, 10) : value;
  if (Array.isArray(value)) return value.map((one) => moved(one, days));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, moved(one, days)]));
};

/**
 * A visit file with all its days moved by whole weeks, so that it is prepared in the week of `today` and its weekdays stay: an exchange of
 * letters cannot be tried on a visit that has passed. Fails where the file is no visit with a day of preparation.
 */
export const movedToWeekOf = (text: string, today: string): Result<string> => {
  const file: unknown = JSON.parse(text);
  const day = typeof file === "object" && file !== null && "preparedOn" in file ? file.preparedOn : undefined;
  if (typeof day !== "string" || !PLAIN_DATE.test(day)) return failure("the file tells no day of preparation");
  const apart = (Date.parse(today) - Date.parse(day)) / DAY;
  return success(JSON.stringify(moved(file, Math.floor(apart / 7) * 7)));
};
