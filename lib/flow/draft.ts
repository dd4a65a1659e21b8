import { NO } from "../logic/kleene.ts";
import { type FactSpec, NOT_KNOWN } from "../model/fact.ts";
import { valueAlong, valueAt } from "../model/fault.ts";
import { placesIn } from "../model/places.ts";
import { answersBy, type ReadVisit, sistersIn } from "../model/read.ts";
import { type PlacedFact, placedFacts } from "../plan/answers.ts";

/** An answer as it was given: a choice, a number in the fact's unit or with its own, or "not known". */
export type Given = string | number | { readonly value: number; readonly unit: string };

/** A visit as it is being filled in. Nothing in it has to be complete. */
export interface Draft {
  /** The visit file without its facts: particulars, policy, names and letters of the sets, references, letters sent. */
  readonly frame: object;
  /** Every answer by its pointer, those too that do not apply as things stand. */
  readonly answers: ReadonlyMap<string, Given>;
}

const isGiven = (value: unknown): value is Given =>
  typeof value === "string" ||
  typeof value === "number" ||
  (typeof value === "object" &&
    value !== null &&
    "value" in value &&
    typeof value.value === "number" &&
    "unit" in value &&
    typeof value.unit === "string");

const stepsTo = (at: string): readonly string[] => at.slice(1).split("/");

/** The same document with a value at a pointer, or without one there where the value is undefined; what is not on the way is shared. */
export const withValue = (document: unknown, [step, ...rest]: readonly string[], value: unknown): unknown => {
  if (step === undefined) return value;
  if (Array.isArray(document))
    return document.map((item: unknown, place) => (String(place) === step ? withValue(item, rest, value) : item));
  const own: Readonly<Record<string, unknown>> = typeof document === "object" && document !== null ? { ...document } : {};
  const inner = withValue(own[step], rest, value);
  const { [step]: _, ...others } = own;
  const empty =
    inner === undefined || (typeof inner === "object" && inner !== null && !Array.isArray(inner) && Object.keys(inner).length === 0);
  // Keys keep their place, so that the same answers are the same file.
  if (step in own)
    return Object.fromEntries(Object.entries(own).flatMap(([key, old]) => (key === step ? (empty ? [] : [[key, inner]]) : [[key, old]])));
  return empty ? others : { ...others, [step]: inner };
};

/** Takes a visit file apart into its frame and its answers; answers set aside are answers again. */
export const draftOf = (document: object, facts: readonly FactSpec[]): Draft => {
  const answers = new Map<string, Given>();
  const aside = valueAt(document, "/setAside");
  for (const [at, value] of Object.entries(typeof aside === "object" && aside !== null ? aside : {}))
    if (isGiven(value)) answers.set(at, value);
  let frame: unknown = withValue(document, ["setAside"], undefined);
  const sets = sistersIn(document);
  for (const { at, steps } of placesIn(facts, sets)) {
    const value = valueAlong(document, steps);
    if (!isGiven(value)) continue;
    answers.set(at, value);
    frame = withValue(frame, steps, undefined);
  }
  return { frame: typeof frame === "object" && frame !== null ? frame : {}, answers };
};

/** What is answered in a draft, in the facts' own units, as the plan reads it. "Not known" is no answer to it. */
export const answersOf = ({ frame, answers }: Draft, facts: readonly FactSpec[]): Pick<ReadVisit, "answers" | "sets"> => {
  const sets = sistersIn(frame);
  return { answers: answersBy(facts, ({ at }) => answers.get(at), sets), sets };
};

/** What is placed where in a draft, made once for each: everything that is asked of a draft goes through it. */
const placedBefore = new WeakMap<Draft, readonly PlacedFact[]>();

/** Every fact at every place of a draft, whether it applies and how it is answered. */
export const placedIn = (draft: Draft, facts: readonly FactSpec[]): readonly PlacedFact[] => {
  const known = placedBefore.get(draft);
  if (known !== undefined) return known;
  const placed = placedFacts(facts, answersOf(draft, facts));
  placedBefore.set(draft, placed);
  return placed;
};

type Entry = readonly [steps: readonly string[], value: unknown];

/** `withValue` for many values at once: every object on the way is copied once. */
const withValues = (document: unknown, entries: readonly Entry[]): unknown => {
  const own = entries.find(([steps]) => steps.length === 0);
  if (own !== undefined) return own[1];
  const inner = new Map<string, Entry[]>();
  for (const [[step = "", ...rest], value] of entries) {
    const group = inner.get(step);
    if (group === undefined) inner.set(step, [[rest, value]]);
    else group.push([rest, value]);
  }
  if (Array.isArray(document))
    return document.map((item: unknown, place) => {
      const group = inner.get(String(place));
      return group === undefined ? item : withValues(item, group);
    });
  const copy: Record<string, unknown> = typeof document === "object" && document !== null ? { ...document } : {};
  for (const [step, group] of inner) copy[step] = withValues(copy[step], group);
  return copy;
};

/** The visit file of a draft. Answers that do not apply as things stand are set aside in it, so that they can come back. */
export const visitFileOf = (draft: Draft, facts: readonly FactSpec[]): object => {
  const count = sistersIn(draft.frame).length;
  const aside = new Set(placedIn(draft, facts).flatMap(({ at, applies }) => (applies === NO ? [at] : [])));
  const setAside: Record<string, Given> = {};
  const entries: Entry[] = [];
  for (const [at, value] of draft.answers) {
    const place = Number(/^\/sets\/(\d+)\//.exec(at)?.[1] ?? -1);
    if (place >= count) continue;
    if (!aside.has(at)) entries.push([stepsTo(at), value]);
    else if (value !== NOT_KNOWN) setAside[at] = value;
  }
  const document = withValues(draft.frame, entries) as object;
  return Object.keys(setAside).length === 0 ? document : { ...document, setAside };
};
