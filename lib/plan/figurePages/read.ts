import { readDay } from "../../figures/readDay.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { readQuantity } from "../../units/parse.ts";
import { convert, unitsOffered } from "../../units/units.ts";
import type { Given, Input, Sum } from "./types.ts";

type Value = number | string | readonly number[];

/** What is wrong with a field, which bears its id. */
export interface FieldFault {
  readonly id: string;
  readonly says: string;
}

/** Longer than any number is written. */
const LONGEST = 200;

const oneNumber = (text: string, { unit, kind }: Input): Result<number> => {
  const quantity = readQuantity(text, unit);
  if (!quantity.ok) return quantity;
  const { value, unit: given } = quantity.value;
  if (kind === "whole" && !Number.isInteger(value)) return failure("a whole number, such as 4");
  return unit === undefined || given === undefined || given === unit ? success(value) : convert(value, given, unit);
};

const manyNumbers = (text: string, input: Input): Result<readonly number[]> => {
  const numbers: number[] = [];
  for (const piece of text.split(/;|\band\b|\n/).filter((one) => one.trim() !== "")) {
    const number = oneNumber(piece, input);
    if (!number.ok)
      return failure(`numbers such as 1250; 800, in ${input.unit === undefined ? "one unit" : unitsOffered(input.unit).join(", ")}`);
    numbers.push(number.value);
  }
  return success(numbers);
};

const readInput = (text: string, input: Input): Result<Value> => {
  if (input.kind === "number" || input.kind === "whole") return oneNumber(text, input);
  if (input.kind === "numbers") return manyNumbers(text, input);
  if (input.kind === "day") return readDay(text);
  if (input.kind === "choice" && input.choices?.some(({ value }) => value === text) !== true)
    return failure(`one of: ${(input.choices ?? []).map(({ label }) => label).join("; ")}`);
  return success(text);
};

const wantedOf = (input: Input): string => {
  const sample = readInput("?", input);
  return sample.ok ? "a text" : sample.faults.join("; ");
};

const givenOf = (values: ReadonlyMap<string, Value>): Given => {
  const maybe = (id: string): number | undefined => {
    const value = values.get(id);
    return typeof value === "number" ? value : undefined;
  };
  const text = (id: string): string => {
    const value = values.get(id);
    return typeof value === "string" ? value : "";
  };
  return {
    maybe,
    text,
    number: (id) => maybe(id) ?? Number.NaN,
    numbers: (id) => {
      const value = values.get(id);
      return typeof value === "object" ? value : [];
    },
    one: (id, of) => {
      const found = of.find((one) => one === text(id)) ?? of[0];
      if (found === undefined) throw new Error(`${id} has nothing to choose from`);
      return found;
    },
  };
};

/** Reads what was typed into a sum's fields; every field that is wrong is told with what was given and what is wanted. */
export const readSum = (
  { inputs }: Sum,
  typed: (id: string) => string,
): { readonly given: Given; readonly faults: readonly FieldFault[] } => {
  const values = new Map<string, Value>();
  const faults: FieldFault[] = [];
  for (const input of inputs) {
    const text = typed(input.id).trim();
    if (text === "") {
      if (input.optional !== true) faults.push({ id: input.id, says: `${input.label}: given nothing; wanted ${wantedOf(input)}` });
      continue;
    }
    const value: Result<Value> = text.length > LONGEST ? failure(`at most ${LONGEST} characters`) : readInput(text, input);
    if (value.ok) values.set(input.id, value.value);
    else faults.push({ id: input.id, says: `${input.label}: given “${text.slice(0, 40)}”; wanted ${value.faults.join("; ")}` });
  }
  return { given: givenOf(values), faults };
};
