import { PostgresDialect, sql } from "kysely";
import pg from "pg";
import type { Database } from "./dialect.ts";

const SERIALIZATION = new Set(["40001", "40P01"]);

/** A PostgreSQL server, by its address. */
export const postgres = (url: string): Database => ({
  kind: "postgres",
  dialect: new PostgresDialect({ pool: new pg.Pool({ connectionString: url, max: 8 }) }),
  types: { counted: "serial", bytes: "bytea" },
  seal: async (db, table) => {
    await sql`create or replace function kept_for_ever() returns trigger language plpgsql as
      $$ begin raise exception 'kept for ever'; end $$`.execute(db);
    await sql`create trigger ${sql.raw(`${table}_kept`)} before update or delete or truncate on ${sql.table(table)}
      for each statement execute function kept_for_ever()`.execute(db);
  },
  isBusy: (error) =>
    typeof error === "object" && error !== null && "code" in error && typeof error.code === "string" && SERIALIZATION.has(error.code),
});
