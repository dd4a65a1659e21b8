import { failure, type Result, success } from "../kernel/result.ts";

/** Weights of the first six digits of a ship's IMO number; the last digit of their sum is the seventh (reference-values §11). */
const WEIGHTS: readonly number[] = [7, 6, 5, 4, 3, 2];

/**
 * A ship's IMO number, as its seven digits, from text with or without "IMO" before it. Company numbers follow another scheme and are
 * not taken. Source: reference-values §11; method also read at tickerdossier.com/wiki/imo-ship-identification-number.
 * Fails when there are not seven digits, when all are 0, and on a wrong check digit, saying what the last digit would have to be.
 */
export const imoNumber = (text: string): Result<string> => {
  const digits = /^\s*(?:IMO)?\s*(\d{7})\s*$/i.exec(text)?.[1];
  if (digits === undefined) return failure("an IMO number has seven digits");
  if (digits === "0000000") return failure("seven zeros are not an IMO number");
  let sum = 0;
  for (const [position, weight] of WEIGHTS.entries()) sum += weight * Number(digits.charAt(position));
  const wanted = String(sum % 10);
  if (digits.endsWith(wanted)) return success(digits);
  return failure(`${digits} is not an IMO number: after ${digits.slice(0, 6)} the last digit would have to be ${wanted}`);
};
