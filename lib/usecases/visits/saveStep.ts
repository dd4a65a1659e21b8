import type { Given } from "../../flow/draft.ts";
import { type FieldFault, readPage, type Typed } from "../../flow/fields.ts";
import { type Asked, askedOn, candidatesOn } from "../../flow/steps.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Act, Conflict, Store, StoredVisit, Write } from "../../store/store.ts";
import { placedPointer, storedPointer } from "./places.ts";
import { dropTyped, keepTyped, type TypedFields } from "./typed.ts";
import { openVisit } from "./visitDraft.ts";

/** One question of a page as it was sent, with the version of the answer that the page showed; 0 where it showed none. */
export interface Field extends Typed {
  readonly at: string;
  readonly seen: number;
}

export interface SavedStep {
  readonly version: number;
  /** Answers that somebody else gave meanwhile; pointers as in the visit file. */
  readonly conflicts: readonly Conflict[];
  /** Fields that were not taken while others were; none where a page is kept as a whole. */
  readonly faults: readonly FieldFault[];
}

/** What `saveStep` says where there is no such visit or page. */
export const NOTHING_THERE: FieldFault = { at: "", kind: "strange", says: "there is no such page" };

export interface PageSent {
  readonly visit: string;
  readonly path: string;
  readonly fields: readonly Field[];
  /** "page": all or none. "each": while somebody types, every field by itself. */
  readonly mode: "page" | "each";
}

const typedIn = (fields: readonly Field[]): ReadonlyMap<string, Typed> =>
  new Map(fields.map(({ at, text, unit, notKnown, sure }) => [at, { text, unit, notKnown, sure }]));

/** The questions that the page asks or comes to ask by what was sent: one answer may bring the next question with it, and so on. */
const askedBy = (stored: StoredVisit, { path, fields }: PageSent, rulebook: Rulebook): readonly Asked[] => {
  const { draft } = openVisit(stored);
  const sent = new Map(fields.map((field) => [field.at, field]));
  const answers = new Map<string, Given>(draft.answers);
  const asked = new Map(askedOn(draft, rulebook, path).map((one) => [one.at, one]));
  for (let looked = 0; looked < asked.size; ) {
    // Only what is asked can bring a question: an answer to one that was never asked brings nothing, itself least of all.
    for (const one of [...asked.values()].slice(looked)) {
      const field = sent.get(one.at);
      const read = field === undefined ? null : readPage([one], typedIn([field]));
      const answer = read?.ok === true ? read.value.get(one.at) : undefined;
      if (answer !== undefined) answers.set(one.at, answer);
    }
    looked = asked.size;
    for (const one of askedOn({ ...draft, answers }, rulebook, path)) if (!asked.has(one.at)) asked.set(one.at, one);
  }
  return [...asked.values()];
};

const withSeen = (fields: readonly Field[]): TypedFields => Object.fromEntries(fields.map(({ at, ...typed }) => [at, typed] as const));

/**
 * Keeps the answers of one page: all or none as a page, or each by itself while somebody types. What cannot be taken is told with its field
 * and stays kept as typed, for the same person to find again. An answer that somebody else gave meanwhile is a conflict, not a fault:
 * the rest is kept.
 */
export const saveStep = async (
  { store, rulebook }: { readonly store: Store; readonly rulebook: Rulebook },
  sent: PageSent,
  by: Act,
): Promise<Result<SavedStep, FieldFault>> => {
  const { visit, path, fields, mode } = sent;
  const stored = await store.visit(visit);
  if (stored === null || candidatesOn(openVisit(stored).draft, rulebook, path).length === 0) return failure(NOTHING_THERE);
  const asked = askedBy(stored, sent, rulebook);
  const read = readPage(asked, typedIn(fields));
  const faults = read.ok ? [] : read.faults;
  const strange = faults.filter(({ kind }) => kind === "strange");
  if (strange.length > 0) return failure(...strange);
  if (faults.length > 0 && mode === "page") {
    await keepTyped(store, stored, path, withSeen(fields), by);
    return failure(...faults);
  }
  const faulty = new Set(faults.map(({ at }) => at));
  const sound = fields.filter(({ at }) => !faulty.has(at));
  const answers = readPage(asked, typedIn(sound));
  if (!answers.ok) return failure(...answers.faults);
  const writes = sound.map(({ at, seen }): Write => {
    const value = answers.value.get(at);
    return { at: storedPointer(at, stored.sets), seen, ...(value === undefined ? {} : { value }) };
  });
  const saved = await store.saveAnswers(visit, writes, by);
  if (!saved.ok) return failure(NOTHING_THERE);
  const conflicts = saved.value.conflicts.map((conflict) => ({ ...conflict, at: placedPointer(conflict.at, stored.sets) }));
  const unkept = new Set([...faulty, ...conflicts.map(({ at }) => at)]);
  if (mode === "page") await keepTyped(store, stored, path, withSeen(fields.filter(({ at }) => unkept.has(at))), by);
  else
    await dropTyped(
      store,
      stored,
      path,
      { gone: sound.map(({ at }) => at), kept: withSeen(fields.filter(({ at }) => unkept.has(at))) },
      by,
    );
  return success({ version: saved.value.version, conflicts, faults });
};
