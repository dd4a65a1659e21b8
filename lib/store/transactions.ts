import { createHash } from "node:crypto";
import { type Kysely, PostgresAdapter, sql } from "kysely";
import type { Tables } from "./schema.ts";

/** A lock's number by its name. */
const lockOf = (name: string): number => createHash("sha256").update(`forehail ${name}`).digest().readInt32BE();

/**
 * Holds a name against every other transaction until this one ends, for what is counted over rows that are not held one by one. The embedded database has
 * one writer at a time and needs none.
 */
export const holdName = async (inner: Kysely<Tables>, name: string): Promise<void> => {
  if (!(inner.getExecutor().adapter instanceof PostgresAdapter)) return;
  await sql`select pg_advisory_xact_lock(${lockOf(name)})`.execute(inner);
};

/** A transaction all of whose reads are of one moment, also where others write between them. */
export const repeatable = (db: Kysely<Tables>) => db.transaction().setIsolationLevel("repeatable read");
