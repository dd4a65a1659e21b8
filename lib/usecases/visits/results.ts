import * as z from "zod";
import type { Draft } from "../../flow/draft.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { lastOf, type PastResult, type TestResult, testResultSchema } from "../../model/result.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Act, Conflict, Json, Store, StoredResult, StoredVisit, Write } from "../../store/store.ts";
import { isRemoved, placedPointer } from "./places.ts";
import type { PreviewFor } from "./preview.ts";
import { isAnswered, openDoubts } from "./resultDoubts.ts";
import {
  RESULT_FIELDS,
  type ResultFault,
  resultIn,
  sameTyped,
  saysNothing,
  TAKE_BACK,
  type TypedResult,
  typedOfResult,
} from "./resultFields.ts";

/** The kind of the protection at a pointer. */
export const kindAt = (at: string): string => at.split("/").at(-1) ?? "";

/** A record as it was kept; null where it was taken back. */
export const resultKept = ({ value }: Pick<StoredResult, "value">): TestResult | null => {
  const read = testResultSchema.safeParse(value);
  return read.success ? read.data : null;
};

/** The record of one test as it was filled in, with the version that its page showed. Its pointer names the set by its id. */
export interface EnteredResult {
  readonly at: string;
  readonly typed: TypedResult;
  readonly seen: number;
  /** What was asked once more where it was filled in (`askedMark`), and whether it was said to be so. */
  readonly asked?: string;
  readonly sure?: boolean;
}

/** Those of a page that say something else than the records that it showed: the rest was only sent along. */
export const changedIn = (entered: readonly EnteredResult[], entries: readonly StoredResult[]): readonly EnteredResult[] =>
  entered.filter(({ at, typed, seen }) => {
    const shown = entries.find((entry) => entry.at === at && entry.version === seen);
    const result = shown === undefined ? null : resultKept(shown);
    return result === null ? !saysNothing(typed) : !sameTyped(typed, typedOfResult(result));
  });

export interface KeptResults {
  /** Pointers of the tests whose records are in the office now as they were sent. */
  readonly kept: readonly string[];
  readonly faults: ReadonlyMap<string, readonly ResultFault[]>;
  /** What is asked once more before it is kept. */
  readonly doubts: ReadonlyMap<string, readonly ResultFault[]>;
  readonly conflicts: readonly Conflict[];
}

const AT = /^\/sets\/(\d{1,9})\/(\w{1,60})$/;

/** The ids of the methods of the protection at a pointer; null where there is no such set or protection. */
const methodsAt = (at: string, { sets }: Pick<StoredVisit, "sets">, rulebook: Rulebook): readonly string[] | null => {
  const [, set, kind] = AT.exec(at) ?? [];
  const entry = rulebook.protections.find((one) => one.kind === kind);
  return entry === undefined || !sets.includes(Number(set)) ? null : entry.methods.map(({ id }) => id);
};

/**
 * Keeps the records of tests. Each is kept or told by itself: what is wrong by its field, what is asked once more before it is kept, what somebody else
 * entered meanwhile with his entry; nothing of the others hangs on it. Fails where a test is none of this visit: a set that was taken out, or a hand-made form.
 */
export const keepResults = async (
  { store, rulebook, preview }: { readonly store: Store; readonly rulebook: Rulebook; readonly preview: PreviewFor },
  stored: StoredVisit,
  entered: readonly EnteredResult[],
  by: Act,
): Promise<Result<KeptResults>> => {
  const strange = entered.filter(({ at }) => methodsAt(at, stored, rulebook) === null);
  if (strange.length > 0) return failure(...strange.map(({ at }) => `there is no test ${at.slice(0, 80)} in this visit`));
  const faults = new Map<string, readonly ResultFault[]>();
  const doubts = new Map<string, readonly ResultFault[]>();
  const writes: Write[] = [];
  const entries = await store.resultsOf(stored.id);
  const now = preview(stored);
  for (const { at, typed, seen, asked = "", sure = false } of changedIn(entered, entries)) {
    const read = typed.outcome === TAKE_BACK ? null : resultIn(typed, methodsAt(at, stored, rulebook) ?? [], by.when);
    if (read === null) writes.push({ at, seen });
    else if (read.ok) {
      const shown = entries.find((entry) => entry.at === at && entry.version === seen);
      const before = shown === undefined ? null : resultKept(shown);
      const open = "plan" in now ? openDoubts(at, read.value, before, { stored, plan: now.plan, read: now.read, rulebook }) : [];
      if (open.length === 0 || isAnswered(open, asked, sure, typed.words)) writes.push({ at, value: read.value as Json, seen });
      else doubts.set(at, open);
    } else faults.set(at, read.faults);
  }
  const conflicts = writes.length === 0 ? success([]) : await store.keepResults(stored.id, writes, by);
  if (!conflicts.ok) return conflicts;
  const met = new Set(conflicts.value.map(({ at }) => at));
  return success({ kept: writes.flatMap(({ at }) => (met.has(at) ? [] : [at])), faults, doubts, conflicts: conflicts.value });
};

/** What was found of each protection last, for the next visit of the vessel: at this visit, or, where it was not done at this one, before. */
export const lastTimeOf = (
  { frame }: Draft,
  { sets }: Pick<StoredVisit, "sets">,
  entries: readonly StoredResult[],
): readonly PastResult[] => {
  const { lastTime = [] } = frame as { readonly lastTime?: readonly PastResult[] };
  const latest = new Map<string, StoredResult>();
  for (const entry of entries) if (entry.version > (latest.get(entry.at)?.version ?? 0)) latest.set(entry.at, entry);
  const now = [...latest.values()].flatMap((entry): readonly PastResult[] => {
    const result = resultKept(entry);
    return result === null ? [] : [{ at: placedPointer(entry.at, sets), ...result }];
  });
  const all = [...now, ...lastTime].filter(({ at }) => !isRemoved(at));
  return [...new Set(all.map(({ at }) => at))].flatMap((at) => lastOf(all.filter((past) => past.at === at)));
};

const typedSchema = z.record(z.string(), z.record(z.enum(RESULT_FIELDS), z.string()));

const pageOf = (visit: string): string => `${visit} results`;

/** What a person typed for tests and could not be kept as records, by pointer. */
export const typedResults = async (store: Store, visit: string, who: string): Promise<Readonly<Record<string, TypedResult>>> => {
  const kept = await store.typed(pageOf(visit), who);
  const read = typedSchema.safeParse(JSON.parse(kept?.text ?? "{}"));
  return read.success ? read.data : {};
};

/** Keeps what could not be kept as records as it was typed, and forgets what was there of tests that are done with. */
export const keepTypedResults = async (
  store: Store,
  visit: string,
  { gone, typed }: { readonly gone: readonly string[]; readonly typed: Readonly<Record<string, TypedResult>> },
  by: Act,
): Promise<void> => {
  const before = await typedResults(store, visit, by.who);
  const after = { ...Object.fromEntries(Object.entries(before).filter(([at]) => !gone.includes(at))), ...typed };
  if (Object.keys(before).length + Object.keys(after).length === 0) return;
  await store.keepTyped(pageOf(visit), Object.keys(after).length === 0 ? null : JSON.stringify(after), by);
};
