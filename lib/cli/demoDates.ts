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
 * A visit file with all its days moved by as many, so that it is planned from this day: of a visit that is past no letter can be sent, since
 * its links would open nothing. Fails where the file is no visit with a day of preparation.
 */
export const movedTo = (text: string, day: string): Result<string> => {
  const file: unknown = JSON.parse(text);
  const was = typeof file === "object" && file !== null && "preparedOn" in file ? file.preparedOn : undefined;
  if (typeof was !== "string" || !PLAIN_DATE.test(was)) return failure("the file tells no day of preparation");
  return success(JSON.stringify(moved(file, Math.round((Date.parse(day) - Date.parse(was)) / DAY))));
};
