import type * as z from "zod";
import { failedBy, type Result, success } from "../kernel/result.ts";
import { formatNumber } from "../units/units.ts";
import { channelsOf, type Known } from "./channels.ts";
import { contradictionsIn } from "./contradictions.ts";
import { type Derived, derivedFrom } from "./derive.ts";
import { type FactSpec, NOT_KNOWN } from "./fact.ts";
import { dotted, type Fault, pointer, quoted, valueAlong, valueAt } from "./fault.ts";
import { type Place, placesIn, type Sisters } from "./places.ts";
import { policySchema } from "./policy.ts";
import { FORMAT, inUnit, MOST_SETS, quantitySchema, type Visit, visitSchemaFor } from "./visit.ts";

/** A visit file that was read: its content with defaults filled in, and its answers by pointer in the facts' units. */
export interface ReadVisit {
  readonly visit: Visit;
  readonly answers: ReadonlyMap<string, string | number>;
  readonly sets: Sisters;
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
        given: quoted(valueAlong(document, [...issue.path, key].map(String))),
        wanted: `no field ${quoted(key)} here: ${dotted(pointer(issue.path))} has none of that name`,
      };
    });
  }
  if (issue.code === "invalid_key") {
    return issue.issues.map((inner) => ({ at: pointer(issue.path), given: quoted(issue.path.at(-1)), wanted: wantedBy(inner) }));
  }
  const at = pointer(issue.path);
  const given = valueAlong(document, issue.path.map(String));
  const wanted = at === "/format" ? (newerFormat(given) ?? wantedBy(issue)) : wantedBy(issue);
  return [{ at, given: quoted(given), wanted }];
};

/** What an answer as given says in the fact's own unit; undefined where it says nothing: left out, "not known", or no answer to it. */
export const answerOf = (spec: FactSpec, given: unknown): string | number | undefined => {
  if (given === undefined || given === NOT_KNOWN) return undefined;
  if (spec.domain.kind === "choice") return typeof given === "string" && spec.domain.values.includes(given) ? given : undefined;
  const read = inUnit(spec, given);
  return "value" in read ? read.value : undefined;
};

/** Every answer of a visit with these sets in the facts' own units, by its pointer; `given` tells what stands at a place. */
export const answersBy = (
  facts: readonly FactSpec[],
  given: (place: Place) => unknown,
  sets: Sisters,
): ReadonlyMap<string, string | number> => {
  const answers = new Map<string, string | number>();
  for (const place of placesIn(facts, sets)) {
    const answer = answerOf(place.spec, given(place));
    if (answer !== undefined) answers.set(place.at, answer);
  }
  return answers;
};

/** What was given with a unit other than the fact's. */
const ownIn = (facts: readonly FactSpec[], document: unknown, sets: Sisters): ReadonlyMap<string, string> => {
  const own = new Map<string, string>();
  for (const { spec, at, steps } of placesIn(facts, sets)) {
    const given = valueAlong(document, steps);
    if (typeof given !== "object") continue;
    const pair = quantitySchema.safeParse(given);
    if (pair.success && pair.data.unit !== spec.unit) own.set(at, `${formatNumber(pair.data.value, 4)} ${pair.data.unit}`);
  }
  return own;
};

const lettered = (given: unknown): string => (typeof given === "string" && /^[A-Z]$/.test(given) ? given : "A");

/**
 * The sets of a visit file, each by the letter of its group of sister sets. Those of a file with more than there can be are not looked at, nor is what is
 * no letter: places are made for each.
 */
export const sistersIn = (document: unknown): Sisters => {
  const sets = valueAt(document, "/sets");
  return Array.isArray(sets) && sets.length <= MOST_SETS ? sets.map((set) => ({ sisters: lettered(valueAt(set, "/sisters")) })) : [];
};

/** Reads a parsed visit file. Every fault of it is returned, not only the first. */
export const readVisit = (document: unknown, facts: readonly FactSpec[], known: Known): Result<ReadVisit, Fault> => {
  const parsed = visitSchemaFor(facts).safeParse(document, { reportInput: true });
  const shape = parsed.success ? [] : parsed.error.issues.flatMap((issue) => faultsOf(issue, document));
  const sets = sistersIn(document);
  const policy = parsed.success ? parsed.data.policy : policySchema.parse({});
  const counted = parsed.success ? parsed.data : document;
  const given = answersBy(facts, ({ steps }) => valueAlong(counted, steps), sets);
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
        given: new Set(answersBy(facts, ({ steps }) => valueAlong(document, steps), sets).keys()),
        own: ownIn(facts, parsed.data, sets),
      })
    : failedBy(faults);
};
