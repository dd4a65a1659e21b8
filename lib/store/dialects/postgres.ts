import { PostgresDialect } from "kysely";
import pg from "pg";
import type { Database } from "./dialect.ts";
import { sealsOf } from "./seals.ts";

const SERIALIZATION = new Set(["40001", "40P01"]);

/** A PostgreSQL server, by its address. */
export const postgres = (url: string): Database => ({
  kind: "postgres",
  dialect: new PostgresDialect({ pool: new pg.Pool({ connectionString: url, max: 8 }) }),
  types: { counted: "serial", bytes: "bytea" },
  seal: sealsOf("postgres").seal,
  isBusy: (error) =>
    typeof error === "object" && error !== null && "code" in error && typeof error.code === "string" && SERIALIZATION.has(error.code),
});
