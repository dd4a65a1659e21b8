import * as z from "zod";

/**
 * A condition is data: an and/or tree over "fact in a set of values", "number within a closed interval" and
 * "weighted sum of numbers at most …". `{ any: [] }` never holds. `at` is a JSON pointer, or a template of one
 * (with `*` for a set or a group of sister sets) inside the rulebook.
 */
export type Condition =
  | true
  | { readonly all: readonly Condition[] }
  | { readonly any: readonly Condition[] }
  | { readonly at: string; readonly is: readonly string[] }
  | { readonly at: string; readonly from?: number | undefined; readonly to?: number | undefined }
  | { readonly sum: readonly (readonly [number, string])[]; readonly to: number };

export const conditionSchema: z.ZodType<Condition> = z.lazy(() =>
  z.union([
    z.literal(true),
    z.strictObject({ all: z.array(conditionSchema).readonly() }),
    z.strictObject({ any: z.array(conditionSchema).readonly() }),
    z.strictObject({ at: z.string(), is: z.array(z.string()).readonly() }),
    z.strictObject({ at: z.string(), from: z.number().optional(), to: z.number().optional() }),
    z.strictObject({ sum: z.array(z.tuple([z.number(), z.string()]).readonly()).readonly(), to: z.number() }),
  ]),
);

export const is = (at: string, ...values: readonly string[]): Condition => ({ at, is: values });
export const all = (...parts: readonly Condition[]): Condition => ({ all: parts });
export const any = (...parts: readonly Condition[]): Condition => ({ any: parts });
/** Σ factor × fact ≤ to, in the facts' unit. */
export const atMost = (terms: readonly (readonly [number, string])[], to: number): Condition => ({ sum: terms, to });
/** The condition that no state of facts fulfils. */
export const never: Condition = { any: [] };

/** Every pointer a condition mentions, in reading order, with repetitions. */
export const mentions = (condition: Condition): readonly string[] => {
  if (condition === true) return [];
  if ("all" in condition) return condition.all.flatMap(mentions);
  if ("any" in condition) return condition.any.flatMap(mentions);
  if ("sum" in condition) return condition.sum.map(([, at]) => at);
  return [condition.at];
};

/** The same condition with every pointer rewritten. */
export const rename = (condition: Condition, to: (at: string) => string): Condition => {
  if (condition === true) return true;
  if ("all" in condition) return { all: condition.all.map((part) => rename(part, to)) };
  if ("any" in condition) return { any: condition.any.map((part) => rename(part, to)) };
  if ("sum" in condition) return { sum: condition.sum.map(([factor, at]) => [factor, to(at)] as const), to: condition.to };
  return { ...condition, at: to(condition.at) };
};
