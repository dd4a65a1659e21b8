import type { Condition } from "../logic/condition.ts";
import { ABOARD, type FactSpec, IN_TIME, NOT_TO_BE_HAD, said } from "../model/fact.ts";
import { RULE_BASIS } from "../model/facts/visit.ts";
import { isChoiceOf, listOr, type Names, nameOf, sayCondition } from "../plan/say.ts";
import { refsIn } from "./anchors.ts";
import { SAY } from "./catalogue.ts";
import { refRange } from "./words.ts";

type Choice = Extract<Condition, { readonly is: readonly string[] }>;

const AVAILABLE: ReadonlySet<string> = new Set([ABOARD, IN_TIME, NOT_TO_BE_HAD]);

/** Whether a thing can be had, as its own labels say it; null for facts that are not about that. */
const availableWords = (spec: FactSpec, values: readonly string[]): string | null => {
  if (spec.carriedBy !== "request" || !values.every((value) => AVAILABLE.has(value))) return null;
  const [only] = values;
  if (values.length === 1 && only !== undefined && only !== NOT_TO_BE_HAD) return `: ${said(spec, only)}`;
  return null;
};

/** What the answer must be; where fewer choices are shut out than left, those are named. Rule bases go by their short names. */
const choiceWords = (spec: FactSpec, { is }: Choice): string => {
  const { domain, at } = spec;
  const shutOut = domain.kind === "choice" ? domain.values.filter((value) => !is.includes(value)) : [];
  const words = (values: readonly string[]): string => listOr(values.map((value) => (at === RULE_BASIS ? value : said(spec, value))));
  // "Not" before "not possible" would have to be read twice.
  const plainly = shutOut.every((value) => !said(spec, value).startsWith("not "));
  return shutOut.length > 0 && shutOut.length < is.length && plainly ? `not ${words(shutOut)}` : words(is);
};

const isWords = (condition: Choice, names: Names): string => {
  const spec = names.specAt(condition.at);
  if (spec === undefined) return sayCondition(condition, names);
  const name = nameOf(condition.at, names);
  const available = availableWords(spec, condition.is);
  if (available !== null) return `${name}${available}`;
  if (spec.carriedBy === "request" && condition.is.every((value) => AVAILABLE.has(value))) return sayCondition(condition, names);
  const step = spec.at.endsWith("/approvedStep") && !condition.is.includes("none");
  const verb = /,| to /.test(name) ? "name" : "names";
  return `${name}${step ? ` ${verb} ` : ": "}${choiceWords(spec, condition)}`;
};

/** A condition in the words in which it is answered: "Q3: dry", "Q5: at or under 9 mm", "R2 can be had". */
export const conditionWords = (condition: Condition, names: Names): string => {
  if (condition === true) return "always";
  if ("all" in condition) {
    const words = (part: Condition): string => (isChoiceOf(part) ? `(${conditionWords(part, names)})` : conditionWords(part, names));
    return condition.all.map(words).join(" and ");
  }
  if ("any" in condition) return condition.any.map((part) => conditionWords(part, names)).join(", or ");
  if ("is" in condition) return isWords(condition, names);
  if ("sum" in condition) return sayCondition(condition, names);
  const name = nameOf(condition.at, names);
  const words = sayCondition(condition, names);
  return words.startsWith(`${name} is `) ? `${name}: ${words.slice(name.length + " is ".length)}` : words;
};

/** For an open number, what of it counts; the name is left out where it is the number's own. */
export const boundaryWords = (condition: Condition, names: Names): string => {
  const words = conditionWords(condition, names);
  return condition !== true && "at" in condition ? words.slice(words.indexOf(": ") + 2) : words;
};

const plainlyAsked = (at: string): boolean => ["/fitted", "/cooling", "/stopsAllowed"].some((end) => at.endsWith(end)) || at === RULE_BASIS;

/** Whether a part only says what a reader would guess. */
const isPlain = (condition: Condition): boolean => {
  if (condition === true) return true;
  if ("all" in condition) return condition.all.every(isPlain);
  if ("any" in condition) return condition.any.every(isPlain);
  return "at" in condition && plainlyAsked(condition.at);
};

const MOST_PARTS = 2;

/** How many single statements a condition is made of. */
const leavesIn = (condition: Condition): number => {
  if (condition === true) return 0;
  const parts = "all" in condition ? condition.all : "any" in condition ? condition.any : null;
  return parts === null ? 1 : parts.reduce((sum, part) => sum + leavesIn(part), 0);
};

/**
 * The condition under which something is wanted, where it is short enough for a table: at most two parts once those are left
 * out that a reader would guess. Leaving a part out keeps "only if" true. Null where there is nothing short to say.
 */
export const shortOnlyIf = (condition: Condition | undefined, names: Names): string | null => {
  if (condition === undefined || condition === true) return null;
  const parts = "all" in condition ? condition.all : [condition];
  const told = parts.filter((part) => !isPlain(part));
  const many = told.reduce((sum, part) => sum + leavesIn(part), 0) > MOST_PARTS;
  if (told.length === 0 || many) return null;
  return `only if ${told.map((part) => conditionWords(part, names)).join(" and ")}`;
};

const factorsOf = (condition: Condition): readonly Condition[] => (condition !== true && "all" in condition ? condition.all : [condition]);

const MOST_PROVISOS = 4;

const keyOf = (part: Condition): string => JSON.stringify(part);

/** Where the facts of a condition lie. */
const placesIn = (condition: Condition): readonly string[] => {
  if (condition === true) return [];
  if ("all" in condition) return condition.all.flatMap(placesIn);
  if ("any" in condition) return condition.any.flatMap(placesIn);
  return "sum" in condition ? condition.sum.map(([, at]) => at) : [condition.at];
};

/** The references of what is told no further, questions before requests. */
const otherRefs = (parts: readonly Condition[], names: Names): string => {
  const refs = refsIn(
    parts
      .flatMap(placesIn)
      .flatMap((at) => names.refAt(at) ?? [])
      .join(", "),
  );
  return ["Q", "R"]
    .map((letter) => refRange([...new Set(refs)].filter((ref) => ref.startsWith(letter))))
    .filter((range) => range !== "")
    .join(", ");
};

/** What the first way hangs on: what the cases differ in, then the parts that every case shares; the rest by reference only. */
export const provisos = (condition: Condition, names: Names): string | null => {
  if (condition === true) return null;
  const cases = "any" in condition ? condition.any.map(factorsOf) : [factorsOf(condition)];
  const keyed = cases.map((parts) => new Set(parts.map(keyOf)));
  const shared = (cases[0] ?? []).filter((part) => keyed.every((keys) => keys.has(keyOf(part))));
  const common = new Set(shared.map(keyOf));
  const differing = cases.map((parts) => parts.filter((part) => !common.has(keyOf(part))));
  const either = differing.some((parts) => parts.length === 0)
    ? []
    : [differing.map((parts) => parts.map((part) => conditionWords(part, names)).join(" and ")).join(", or ")];
  const told = [...either, ...shared.map((part) => conditionWords(part, names))];
  const shown = told.slice(0, MOST_PROVISOS).join("; ");
  if (told.length <= MOST_PROVISOS) return shown;
  const others = otherRefs(shared.slice(MOST_PROVISOS - either.length), names);
  return others === "" ? `${shown}; ${SAY.notes.moreNextLetter}` : `${shown}; ${SAY.with.andAnswers(others)}`;
};
