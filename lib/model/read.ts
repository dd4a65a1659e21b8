import type * as z from "zod";
import { failure, type Result, success } from "../kernel/result.ts";
import { formatNumber } from "../units/units.ts";
import { channelsOf, type Known } from "./channels.ts";
import { contradictionsIn } from "./contradictions.ts";
import { type Derived, derivedFrom } from "./derive.ts";
import { type FactSpec, NOT_KNOWN, resolve } from "./fact.ts";
import { dotted, type Fault, pointer, quoted, valueAt } from "./fault.ts";
import { policySchema } from "./policy.ts";
import { FORMAT, inUnit, quantitySchema, type Visit, visitSchemaFor } from "./visit.ts";

/** A visit file that was read: its content with defaults filled in, and its answers by pointer in the facts' units. */
export interface ReadVisit {
  readonly visit: Visit;
  readonly answers: ReadonlyMap<string, string | number>;
  readonly sets: readonly { readonly sisters: string }[];
  /** Pointers of the channels in the visit's scope, those that may apply first. */
  readonly channels: readonly string[];
  /** What follows from other answers. */
  readonly derived: readonly Derived[];
  /** Which answers stand in the file itself; others follow from them or are the office's usual ones. */
  readonly given: ReadonlySet<string>;
  /** Numbers that were given in a unit of the ship's own, as given: "22 psi". */
  readonly own: ReadonlyMap<string, string>;
}

type Issue = z.core.$ZodIssue;

const WORDS: Readonly<Record<string, string>> = {
  string: "text",
  number: "a number",
  int: "a whole number",
  object: "an object",
  array: "a list",
  record: "an object",
};

const wantedBy = (issue: Issue): string => {
  switch (issue.code) {
    case "invalid_type":
      return WORDS[issue.expected] ?? issue.expected;
    case "invalid_value":
      return issue.values.length === 1 ? quoted(issue.values[0]) : `one of ${issue.values.map(quoted).join(", ")}`;
    case "too_small":
      return issue.origin === "array"
        ? `at least ${issue.minimum} of them`
        : issue.origin === "string"
          ? "some text"
          : `at least ${issue.minimum}`;
    case "too_big":
      return issue.origin === "array"
        ? `at most ${issue.maximum} of them`
        : issue.origin === "string"
          ? `at most ${issue.maximum} characters`
          : `at most ${issue.maximum}`;
    default:
      return issue.message.replace(/^wanted /, "");
  }
};

const newerFormat = (given: unknown): string | null => {
  const found = typeof given === "string" ? /^forehail visit (\d+)$/.exec(given)?.[1] : undefined;
  return found !== undefined && Number(found) > 1 ? `${quoted(FORMAT)}: the file was made for a newer Forehail than this one` : null;
};

/** The faults that one issue of a schema makes; one that names unknown fields makes one for each. */
export const faultsOf = (issue: Issue, document: unknown): readonly Fault[] => {
  if (issue.code === "unrecognized_keys") {
    return issue.keys.map((key) => {
      const at = pointer([...issue.path, key]);
      return {
        at,
        given: quoted(valueAt(document, pointer(issue.path.concat(key)))),
        wanted: `no field ${quoted(key)} here: ${dotted(pointer(issue.path))} has none of that name`,
      };
    });
  }
  if (issue.code === "invalid_key") {
    return issue.issues.map((inner) => ({ at: pointer(issue.path), given: quoted(issue.path.at(-1)), wanted: wantedBy(inner) }));
  }
  const at = pointer(issue.path);
  const given = valueAt(document, at);
  const wanted = at === "/format" ? (newerFormat(given) ?? wantedBy(issue)) : wantedBy(issue);
  return [{ at, given: quoted(given), wanted }];
};

/** The pointers of a fact in a visit with these sets. */
export const placesOf = (spec: FactSpec, sets: readonly { readonly sisters: string }[]): readonly string[] => [
  ...new Set(sets.map(({ sisters }, set) => resolve(spec.at, set, sisters))),
];

/** What an answer as given says in the fact's own unit; undefined where it says nothing: left out, "not known", or no answer to it. */
export const answerOf = (spec: FactSpec, given: unknown): string | number | undefined => {
  if (given === undefined || given === NOT_KNOWN) return undefined;
  if (spec.domain.kind === "choice") return typeof given === "string" && spec.domain.values.includes(given) ? given : undefined;
  const read = inUnit(spec, given);
  return "value" in read ? read.value : undefined;
};

/** Every answer of a visit with these sets in the facts' own units, by its pointer; `given` tells what stands at a pointer. */
export const answersBy = (
  facts: readonly FactSpec[],
  given: (at: string) => unknown,
  sets: readonly { readonly sisters: string }[],
): ReadonlyMap<string, string | number> => {
  const answers = new Map<string, string | number>();
  for (const spec of facts) {
    for (const at of placesOf(spec, sets)) {
      const answer = answerOf(spec, given(at));
      if (answer !== undefined) answers.set(at, answer);
    }
  }
  return answers;
};

/** What was given with a unit other than the fact's. */
const ownIn = (facts: readonly FactSpec[], document: unknown, sets: readonly { readonly sisters: string }[]): ReadonlyMap<string, string> =>
  new Map(
    facts.flatMap((spec) =>
      placesOf(spec, sets).flatMap((at) => {
        const pair = quantitySchema.safeParse(valueAt(document, at));
        return pair.success && pair.data.unit !== spec.unit ? [[at, `${formatNumber(pair.data.value, 4)} ${pair.data.unit}`] as const] : [];
      }),
    ),
  );

/** The sets of a visit file, each by the letter of its group of sister sets. */
export const sistersIn = (document: unknown): readonly { readonly sisters: string }[] => {
  const sets = valueAt(document, "/sets");
  return Array.isArray(sets) ? sets.map((_, place) => ({ sisters: String(valueAt(document, `/sets/${place}/sisters`) ?? "A") })) : [];
};

/** Reads a parsed visit file. Every fault of it is returned, not only the first. */
export const readVisit = (document: unknown, facts: readonly FactSpec[], known: Known): Result<ReadVisit, Fault> => {
  const parsed = visitSchemaFor(facts).safeParse(document, { reportInput: true });
  const shape = parsed.success ? [] : parsed.error.issues.flatMap((issue) => faultsOf(issue, document));
  const sets = sistersIn(document);
  const policy = parsed.success ? parsed.data.policy : policySchema.parse({});
  const counted = parsed.success ? parsed.data : document;
  const given = answersBy(facts, (at) => valueAt(counted, at), sets);
  const derived = derivedFrom(given, sets.length, policy.loadLimit);
  const answers = new Map([...derived.map(({ at, value }) => [at, value] as const), ...given]);
  const channels = channelsOf(sets, known, answers, policy);
  const places = new Set(shape.map(({ at }) => at));
  const contradictions = contradictionsIn(document, sets, channels, known, derived).filter(({ at }) => !places.has(at));
  const faults = [...shape, ...contradictions];
  return parsed.success && faults.length === 0
    ? success({
        visit: parsed.data,
        answers,
        sets,
        channels,
        derived,
        given: new Set(answersBy(facts, (at) => valueAt(document, at), sets).keys()),
        own: ownIn(facts, parsed.data, sets),
      })
    : failure(...faults);
};
