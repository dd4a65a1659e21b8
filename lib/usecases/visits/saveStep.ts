import type { Given } from "../../flow/draft.ts";
import { type Asked, stepsOf } from "../../flow/steps.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { type FactSpec, NOT_KNOWN } from "../../model/fact.ts";
import { type Fault, quoted } from "../../model/fault.ts";
import { inUnit } from "../../model/visit.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Act, Conflict, Store, Write } from "../../store/store.ts";
import { readQuantity } from "../../units/parse.ts";
import { placedPointer, storedPointer } from "./places.ts";
import { openVisit } from "./visitDraft.ts";

/** One field of a page as it was sent. */
export interface Field {
  readonly at: string;
  /** A choice, a number as written, or nothing. */
  readonly text: string;
  readonly notKnown: boolean;
  /** The version of the answer that the page showed; 0 where it showed none. */
  readonly seen: number;
}

/** What a field says: an answer, "not known", or undefined where it was left open. */
const answerIn = (spec: FactSpec, { text, notKnown }: Field): Result<Given | undefined> => {
  const written = text.trim();
  if (notKnown || written === NOT_KNOWN) return success(NOT_KNOWN);
  if (written === "") return success(undefined);
  if (spec.domain.kind === "choice")
    return spec.domain.values.includes(written) ? success(written) : failure(`one of ${spec.domain.values.join(", ")}, or "${NOT_KNOWN}"`);
  const read = readQuantity(written, spec.unit);
  if (!read.ok) return read;
  const { value, unit } = read.value;
  const given = unit === undefined || unit === spec.unit ? value : { value, unit };
  const within = inUnit(spec, given);
  return "value" in within ? success(given) : failure(within.wanted);
};

const writeOf = (field: Field, asked: readonly Asked[], sets: readonly number[]): Result<Write, Fault> => {
  const spec = asked.find(({ at }) => at === field.at)?.spec;
  if (spec === undefined)
    return failure({ at: field.at, given: quoted(field.text), wanted: "no answer here: this page asks no such question" });
  const answer = answerIn(spec, field);
  if (!answer.ok) return failure(...answer.faults.map((wanted): Fault => ({ at: field.at, given: quoted(field.text), wanted })));
  return success({
    at: storedPointer(field.at, sets),
    seen: field.seen,
    ...(answer.value === undefined ? {} : { value: answer.value }),
  });
};

export interface SavedStep {
  readonly version: number;
  /** Answers that somebody else gave meanwhile; pointers as in the visit file. */
  readonly conflicts: readonly Conflict[];
}

/** What `saveStep` says where there is no such visit or page. */
export const NOTHING_THERE: Fault = { at: "", given: "an address", wanted: "a page of a visit that exists" };

/**
 * Keeps the answers of one page, all or, where a field is at fault, none; every fault is told with its field. An answer that
 * somebody else gave meanwhile is a conflict, not a fault: the rest is kept.
 */
export const saveStep = async (
  { store, rulebook }: { readonly store: Store; readonly rulebook: Rulebook },
  { visit, path, fields }: { readonly visit: string; readonly path: string; readonly fields: readonly Field[] },
  by: Act,
): Promise<Result<SavedStep, Fault>> => {
  const stored = await store.visit(visit);
  const step = stored === null ? undefined : stepsOf(openVisit(stored).draft, rulebook).find((page) => page.path === path);
  if (stored === null || step === undefined) return failure(NOTHING_THERE);
  const outcomes = fields.map((field) => writeOf(field, step.asked, stored.sets));
  const faults = outcomes.flatMap((outcome) => (outcome.ok ? [] : outcome.faults));
  if (faults.length > 0) return failure(...faults);
  const writes = outcomes.flatMap((outcome) => (outcome.ok ? [outcome.value] : []));
  const saved = await store.saveAnswers(visit, writes, by);
  if (!saved.ok) return failure(NOTHING_THERE);
  const { version, conflicts } = saved.value;
  return success({ version, conflicts: conflicts.map((conflict) => ({ ...conflict, at: placedPointer(conflict.at, stored.sets) })) });
};
