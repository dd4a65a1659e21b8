import type { Cited } from "../../figures/cited.ts";
import { type Result, success } from "../../kernel/result.ts";
import type { Unit } from "../../units/units.ts";
import type { Input, Outcome } from "./types.ts";

type More = Pick<Input, "hint" | "optional">;

export const amount = (id: string, label: string, unit?: Unit, more: More = {}): Input => ({
  id,
  label,
  kind: "number",
  ...(unit === undefined ? {} : { unit }),
  ...more,
});
export const whole = (id: string, label: string, more: More = {}): Input => ({ id, label, kind: "whole", ...more });
export const several = (id: string, label: string, unit: Unit, hint: string): Input => ({ id, label, kind: "numbers", unit, hint });
export const written = (id: string, label: string, hint: string, more: More = {}): Input => ({ id, label, kind: "text", hint, ...more });
export const day = (id: string, label: string): Input => ({ id, label, kind: "day", hint: "Such as 2026-03-24 or 24 March 2026" });
export const choice = (id: string, label: string, choices: readonly (readonly [value: string, label: string])[]): Input => ({
  id,
  label,
  kind: "choice",
  choices: choices.map(([value, words]) => ({ value, label: words })),
});

/** The outcomes of a result, where it is one. */
export const outcomes = <Value>(result: Result<Value>, say: (value: Value) => readonly Outcome[]): Result<readonly Outcome[]> =>
  result.ok ? success(say(result.value)) : result;

export const outcome = (name: string, value: number | string, unit?: Unit, decimals?: number, means?: string): Outcome => ({
  name,
  value,
  ...(unit === undefined ? {} : { unit }),
  ...(decimals === undefined ? {} : { decimals }),
  ...(means === undefined ? {} : { means }),
});

export const read = (cite: string, paragraph?: string, edition?: string): Cited => ({
  cite,
  mark: "read",
  ...(paragraph === undefined ? {} : { paragraph }),
  ...(edition === undefined ? {} : { edition }),
});

export const ARITHMETIC: Cited = { cite: "arithmetic of the trade", mark: "practice" };
