import type { Condition } from "../logic/condition.ts";
import { ABOARD, type FactSpec, IN_TIME, NOT_TO_BE_HAD, said } from "../model/fact.ts";
import type { Basis } from "../rulebook/basis.ts";
import { formatNumber } from "../units/units.ts";

/** How facts are called when a condition is put into words: their reference if they are asked, else what they are. */
export interface Names {
  readonly specAt: (at: string) => FactSpec | undefined;
  readonly refAt: (at: string) => string | undefined;
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A label within a sentence; the names in it stay as they are. */
export const small = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

const list = (items: readonly string[], word: string): string =>
  items.length < 2 ? (items[0] ?? "") : `${items.slice(0, -1).join(", ")} ${word} ${items[items.length - 1]}`;

export const listOr = (items: readonly string[]): string => list(items, "or");
export const listAnd = (items: readonly string[]): string => list(items, "and");

export const nameOf = (at: string, names: Names): string => names.refAt(at) ?? names.specAt(at)?.name ?? at;

const amount = (value: number, at: string, names: Names): string => {
  const unit = names.specAt(at)?.unit;
  return unit === undefined ? formatNumber(value, 3) : `${formatNumber(value, 3)} ${unit}`;
};

const range = (at: string, from: number | undefined, to: number | undefined, names: Names): string => {
  if (from !== undefined && to !== undefined) return `from ${amount(from, at, names)} to ${amount(to, at, names)}`;
  return to !== undefined ? `at or under ${amount(to, at, names)}` : `at or over ${amount(from ?? 0, at, names)}`;
};

type Sum = Extract<Condition, { readonly sum: readonly unknown[] }>;

/** An inequality without minus signs: what is taken away stands on the other side, the distance between. */
const saySum = ({ sum, to }: Sum, names: Names): string => {
  const unit = sum.map(([, at]) => names.specAt(at)?.unit).find((found) => found !== undefined);
  const amountOf = (value: number): string => `${formatNumber(Math.abs(value), 3)}${unit === undefined ? "" : ` ${unit}`}`;
  const side = (sign: 1 | -1): string =>
    sum
      .filter(([factor]) => Math.sign(factor) === sign)
      .map(([factor, at]) => `${Math.abs(factor) === 1 ? "" : `${formatNumber(Math.abs(factor), 4)} × `}${nameOf(at, names)}`)
      .join(" + ");
  const [left, right] = [side(1), side(-1)];
  if (right === "") return `${left} is at or under ${amountOf(to)}`;
  if (left === "") return `${right} is at or over ${amountOf(to)}`;
  if (to === 0) return `${left} is at most ${right}`;
  return to < 0 ? `${left} is at least ${amountOf(to)} under ${right}` : `${left} is at most ${amountOf(to)} above ${right}`;
};

/** Whether a thing can be had, in few words; null for facts that are not about that. */
const sayAvailable = (values: readonly string[]): string | null => {
  const has = (value: string): boolean => values.includes(value);
  if (!values.every((value) => [ABOARD, IN_TIME, NOT_TO_BE_HAD].includes(value))) return null;
  if (has(NOT_TO_BE_HAD)) return has(ABOARD) ? "need not come in time" : has(IN_TIME) ? "is not aboard" : "cannot be had";
  return has(ABOARD) && has(IN_TIME) ? "can be had" : has(ABOARD) ? "is aboard" : "can come in time";
};

type Either = Extract<Condition, { readonly any: readonly unknown[] }>;

/** Whether a part of a longer condition is itself a choice, and must be bracketed to be read right. */
export const isChoiceOf = (part: Condition): part is Either => part !== true && "any" in part && part.any.length > 1;
const sayEither = (parts: readonly Condition[], names: Names): string =>
  `(either ${parts.map((part) => sayCondition(part, names)).join(", or ")})`;

/** A condition in words, short enough for a letter. */
export const sayCondition = (condition: Condition, names: Names): string => {
  if (condition === true) return "always";
  if ("all" in condition)
    return condition.all.map((part) => (isChoiceOf(part) ? sayEither(part.any, names) : sayCondition(part, names))).join(", and ");
  if ("any" in condition)
    return condition.any.length === 0 ? "never" : condition.any.map((part) => sayCondition(part, names)).join("; or ");
  if ("sum" in condition) return saySum(condition, names);
  if ("is" in condition) {
    const spec = names.specAt(condition.at);
    const available = spec?.carriedBy === "request" ? sayAvailable(condition.is) : null;
    if (available !== null) return `${nameOf(condition.at, names)} ${available}`;
    return `${nameOf(condition.at, names)} is ${listOr(condition.is.map((value) => (spec === undefined ? value : said(spec, value))))}`;
  }
  return `${nameOf(condition.at, names)} is ${range(condition.at, condition.from, condition.to, names)}`;
};

/** What of an open number counts, as a bracket behind its question. */
export const sayBoundary = (condition: Condition, names: Names): string => {
  if (typeof condition === "object" && "at" in condition && !("is" in condition))
    return range(condition.at, condition.from, condition.to, names);
  return sayCondition(condition, names);
};

const MARKS = {
  read: "",
  memory: " [from memory, not verified]",
  practice: " [common practice, no source]",
  interpretation: " [our reading, to be agreed with the authority]",
} as const;

/** A basis in words, with its mark where it is not simply read. */
export const sayBasis = ({ cite, paragraph, mark, edition }: Basis): string =>
  `${cite}${paragraph === undefined ? "" : ` ${paragraph}`}${edition === undefined ? "" : ` (${edition})`}${MARKS[mark]}`;
