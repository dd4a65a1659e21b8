import { longDate } from "../plan/longDate.ts";
import { setIn } from "../plan/places.ts";
import { partWords } from "../plan/readable.ts";
import type { Plan } from "../plan/schema.ts";
import type { Method, Part, Protection, Rulebook } from "../rulebook/types.ts";

export { longDate };

/** First and last day, the year once where it is the same: "3 to 4 March 2026", "30 March to 2 April 2026". */
export const windowWords = ({ from, to }: Plan["visit"]["window"]): string => {
  if (from === to) return longDate(from);
  const start = longDate(from);
  if (from.slice(0, 7) === to.slice(0, 7)) return `${Number(from.slice(8))} to ${longDate(to)}`;
  return `${from.slice(0, 4) === to.slice(0, 4) ? start.replace(/ \d{4}$/, "") : start} to ${longDate(to)}`;
};

/** References in order, runs joined: "Q1 to Q4, Q7". All begin with the same letter. */
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

const LONG_LIST = 90;

/** Tests by their references; where they are very many, how many and between which references they lie. */
export const testsIn = (refs: readonly string[]): string => {
  const range = refRange(refs);
  if (range.length <= LONG_LIST) return range;
  const numbers = refs.map((ref) => Number(ref.slice(1)));
  return `${new Set(refs).size} tests among T${Math.min(...numbers)} to T${Math.max(...numbers)}`;
};

/** The references of things that bear one. */
export const refsOf = (items: readonly { readonly ref: string }[]): string => refRange(items.map(({ ref }) => ref));

export const protectionOf = (rulebook: Rulebook, kind: string): Protection | undefined =>
  rulebook.protections.find((protection) => protection.kind === kind);

export const methodsOf = (rulebook: Rulebook, kind: string, ids: readonly string[]): readonly Method[] =>
  protectionOf(rulebook, kind)?.methods.filter((method) => ids.includes(method.id)) ?? [];

export const methodWords = (rulebook: Rulebook, kind: string, ids: readonly string[]): string =>
  methodsOf(rulebook, kind, ids)
    .map(({ name }) => name)
    .join("; and ");

/** " (final element stays open)", or nothing. */
export const openWords = (unproven: readonly Part[]): string =>
  unproven.length === 0 ? "" : ` (${partWords(unproven)} ${unproven.length === 1 ? "stays" : "stay"} open)`;

export { capital } from "../plan/say.ts";

/** Spaces that no line breaks at. */
export const unbroken = (text: string): string => text.replaceAll(" ", "\u00a0");

export { kindOf, setIn } from "../plan/places.ts";

/** The name of the set that a pointer lies in; empty for what belongs to the whole visit. */
export const setNameOf = (at: string, plan: Plan): string => plan.sets[setIn(at) ?? -1]?.name ?? "";

/** Which sets, in words; "all sets" where it is every one of several. */
export const setsInWords = (places: readonly number[], plan: Plan): string => {
  const own = [...new Set(places)].sort((a, b) => a - b);
  if (own.length === 0) return "the whole visit";
  if (own.length === plan.sets.length && own.length > 1) return "all sets";
  return own.map((place) => plan.sets[place]?.name ?? "").join(", ");
};

/** A vessel's name as the beginning of a file's. */
export const fileStem = (vessel: string): string =>
  vessel
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "") || "visit";
