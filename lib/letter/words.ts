import type { Condition } from "../logic/condition.ts";
import { RULE_BASIS } from "../model/facts/visit.ts";
import { partWords } from "../plan/readable.ts";
import { type Names, sayCondition } from "../plan/say.ts";
import type { Plan } from "../plan/schema.ts";
import type { Method, Part, Protection, Rulebook } from "../rulebook/types.ts";

const MONTHS = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
] as const;

/** "2026-02-12" as "12 February 2026". */
export const longDate = (iso: string): string => {
  const [year = "", month = "", day = ""] = iso.split("-");
  return `${Number(day)} ${MONTHS[Number(month) - 1] ?? month} ${year}`;
};

/** References in order, runs joined: "Q1 to Q4, Q7". */
export const refRange = (refs: readonly string[]): string => {
  const letter = refs[0]?.[0] ?? "";
  const numbers = [...new Set(refs.map((ref) => Number(ref.slice(1))))].sort((a, b) => a - b);
  const runs: [number, number][] = [];
  for (const n of numbers) {
    const last = runs.at(-1);
    if (last !== undefined && last[1] === n - 1) last[1] = n;
    else runs.push([n, n]);
  }
  return runs
    .map(([from, to]) =>
      from === to ? `${letter}${from}` : to === from + 1 ? `${letter}${from}, ${letter}${to}` : `${letter}${from} to ${letter}${to}`,
    )
    .join(", ");
};

export const protectionOf = (rulebook: Rulebook, kind: string): Protection | undefined =>
  rulebook.protections.find((protection) => protection.kind === kind);

export const methodsOf = (rulebook: Rulebook, kind: string, ids: readonly string[]): readonly Method[] =>
  protectionOf(rulebook, kind)?.methods.filter((method) => ids.includes(method.id)) ?? [];

export const methodWords = (rulebook: Rulebook, kind: string, ids: readonly string[]): string =>
  methodsOf(rulebook, kind, ids)
    .map(({ name }) => name)
    .join("; and ");

/** "; final element stays open", or nothing. */
export const openWords = (unproven: readonly Part[]): string =>
  unproven.length === 0 ? "" : ` (${partWords(unproven)} ${unproven.length === 1 ? "stays" : "stay"} open)`;

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const plainlyAsked = (at: string): boolean => ["/fitted", "/cooling", "/stopsAllowed"].some((end) => at.endsWith(end)) || at === RULE_BASIS;

const MOST_PARTS = 2;

/**
 * The condition under which something is wanted, short enough for a table: at most two of its parts, those that a reader
 * would not guess. Leaving a part out keeps "only if" true. Null where there is nothing short to say.
 */
export const shortOnlyIf = (condition: Condition | undefined, names: Names): string | null => {
  if (condition === undefined || condition === true) return null;
  if (typeof condition === "object" && "any" in condition && condition.any.length > MOST_PARTS) return null;
  const parts = typeof condition === "object" && "all" in condition ? condition.all : [condition];
  const told = parts.filter((part) => part !== true && "at" in part && !plainlyAsked(part.at));
  const chosen = told.slice(0, MOST_PARTS);
  return chosen.length === 0 ? null : `only if ${chosen.map((part) => sayCondition(part, names)).join(" and ")}`;
};

const factorsOf = (condition: Condition): readonly Condition[] =>
  typeof condition === "object" && "all" in condition ? condition.all : [condition];

const MOST_PROVISOS = 4;

/** What the first way hangs on: the parts that every case shares, then what the cases differ in; the rest is named as such. */
export const provisos = (condition: Condition, names: Names): string | null => {
  if (condition === true) return null;
  const cases = typeof condition === "object" && "any" in condition ? condition.any.map(factorsOf) : [factorsOf(condition)];
  const keyed = cases.map((parts) => new Set(parts.map((part) => JSON.stringify(part))));
  const shared = (cases[0] ?? []).filter((part) => keyed.every((keys) => keys.has(JSON.stringify(part))));
  const differing = cases.map((parts) =>
    parts.filter((part) => !shared.includes(part) && !shared.some((s) => JSON.stringify(s) === JSON.stringify(part))),
  );
  const either = differing.some((parts) => parts.length === 0)
    ? []
    : [differing.map((parts) => parts.map((part) => sayCondition(part, names)).join(" and ")).join(", or ")];
  const told = [...either, ...shared.map((part) => sayCondition(part, names))];
  const shown = told.slice(0, MOST_PROVISOS).join("; ");
  return told.length > MOST_PROVISOS ? `${shown}; and ${told.length - MOST_PROVISOS} more of the answers asked below` : shown;
};

export const setNames = (plan: Plan): readonly string[] => plan.sets.map(({ name }) => name);
