import { type Kysely, sql } from "kysely";

/** How the seal of a table that is only ever added to is set, and how it is opened by what removes a visit or a person. */
export interface Seals {
  readonly seal: (db: Kysely<unknown>, table: string) => Promise<void>;
  /** Opens the seal; only within a transaction that sets it again. */
  readonly open: (db: Kysely<unknown>, table: string) => Promise<void>;
  readonly close: (db: Kysely<unknown>, table: string) => Promise<void>;
  /** Keeps all writers out of these tables until the transaction ends. */
  readonly hold: (db: Kysely<unknown>, tables: readonly string[]) => Promise<void>;
}

const ACTS = ["update", "delete"] as const;

const sealSqlite: Seals["seal"] = async (db, table) => {
  for (const act of ACTS)
    await sql`create trigger ${sql.raw(`${table}_no_${act}`)} before ${sql.raw(act)} on ${sql.table(table)}
      begin select raise(abort, 'kept for ever'); end`.execute(db);
};

const sqlite: Seals = {
  seal: sealSqlite,
  open: async (db, table) => {
    for (const act of ACTS) await sql`drop trigger ${sql.raw(`${table}_no_${act}`)}`.execute(db);
  },
  close: sealSqlite,
  // There is one writer at a time anyway.
  hold: async () => undefined,
};

const postgres: Seals = {
  seal: async (db, table) => {
    await sql`create or replace function kept_for_ever() returns trigger language plpgsql as
      $$ begin raise exception 'kept for ever'; end $$`.execute(db);
    await sql`create trigger ${sql.raw(`${table}_kept`)} before update or delete or truncate on ${sql.table(table)}
      for each statement execute function kept_for_ever()`.execute(db);
  },
  open: async (db, table) => {
    await sql`alter table ${sql.table(table)} disable trigger ${sql.raw(`${table}_kept`)}`.execute(db);
  },
  close: async (db, table) => {
    await sql`alter table ${sql.table(table)} enable trigger ${sql.raw(`${table}_kept`)}`.execute(db);
  },
  hold: async (db, tables) => {
    await sql`lock table ${sql.join(tables.map((table) => sql.table(table)))} in share row exclusive mode`.execute(db);
  },
};

export const sealsOf = (kind: "sqlite" | "postgres"): Seals => (kind === "sqlite" ? sqlite : postgres);
