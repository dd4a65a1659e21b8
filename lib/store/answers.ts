import type { Kysely, Transaction } from "kysely";
import type { Tables } from "./schema.ts";
import type { Act, Conflict, Json, StoredAnswer, Write } from "./store.ts";

type Row = Pick<Tables["answer"], "at" | "version" | "value" | "who" | "saved_at">;

const answerOf = ({ version, value, who, saved_at }: Row): StoredAnswer => ({
  version,
  who,
  when: saved_at,
  ...(value === null ? {} : { value: JSON.parse(value) as Json }),
});

const COLUMNS = ["at", "version", "value", "who", "saved_at"] as const;

/** The latest row of every pointer of a visit. */
export const latestAnswers = async (db: Kysely<Tables>, visit: string): Promise<ReadonlyMap<string, StoredAnswer>> => {
  const rows = await db
    .selectFrom("answer as one")
    .select(COLUMNS)
    .where("visit", "=", visit)
    .where("version", "=", (inner) =>
      inner
        .selectFrom("answer as other")
        .select(({ fn }) => fn.max("other.version").as("latest"))
        .whereRef("other.visit", "=", "one.visit")
        .whereRef("other.at", "=", "one.at"),
    )
    .execute();
  return new Map(rows.map((row) => [row.at, answerOf(row)]));
};

/** Every row of one pointer, the latest first. */
export const answerHistory = async (db: Kysely<Tables>, visit: string, at: string): Promise<readonly StoredAnswer[]> => {
  const rows = await db
    .selectFrom("answer")
    .select(COLUMNS)
    .where("visit", "=", visit)
    .where("at", "=", at)
    .orderBy("version", "desc")
    .execute();
  return rows.map(answerOf);
};

/** The same value, whatever the order of its keys. */
export const textOf = (value: Json | undefined): string | null =>
  value === undefined
    ? null
    : JSON.stringify(value, (_, inner: unknown) =>
        typeof inner === "object" && inner !== null && !Array.isArray(inner)
          ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
          : inner,
      );

/**
 * Of writes that met a newer answer those that change something: what only repeats the answer that its writer saw is no answer of his,
 * and the newer one stands.
 */
export const changedByWriter = async (
  db: Transaction<Tables>,
  visit: string,
  met: readonly (Conflict & { readonly seen: number })[],
): Promise<readonly Conflict[]> => {
  const changed: Conflict[] = [];
  for (const { seen, ...conflict } of met) {
    const row = await db
      .selectFrom("answer")
      .select("value")
      .where("visit", "=", visit)
      .where("at", "=", conflict.at)
      .where("version", "=", seen)
      .executeTakeFirst();
    if (textOf(conflict.yours) !== textOf(row?.value == null ? undefined : (JSON.parse(row.value) as Json))) changed.push(conflict);
  }
  return changed;
};

export interface Sorted {
  readonly fresh: readonly Write[];
  readonly conflicts: readonly (Conflict & { readonly seen: number })[];
}

/** Parts writes into those to be kept and those that somebody else came before. What says nothing new is neither. */
export const sorted = (writes: readonly Write[], current: ReadonlyMap<string, StoredAnswer>): Sorted => {
  const fresh: Write[] = [];
  const conflicts: (Conflict & { readonly seen: number })[] = [];
  for (const write of writes) {
    const theirs = current.get(write.at);
    if (textOf(write.value) === textOf(theirs?.value)) continue;
    if (theirs !== undefined && theirs.version > write.seen) conflicts.push({ at: write.at, yours: write.value, theirs, seen: write.seen });
    else fresh.push(write);
  }
  return { fresh, conflicts };
};

export const insertAnswers = async (
  db: Transaction<Tables>,
  visit: string,
  version: number,
  writes: readonly Omit<Write, "seen">[],
  { who, when }: Act,
): Promise<void> => {
  if (writes.length === 0) return;
  await db
    .insertInto("answer")
    .values(writes.map(({ at, value }) => ({ visit, at, version, value: textOf(value), who, saved_at: when })))
    .execute();
};
