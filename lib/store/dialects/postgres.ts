import { PostgresDialect } from "kysely";
import pg from "pg";
import type { Database } from "./dialect.ts";
import { sealsOf } from "./seals.ts";

const SERIALIZATION = new Set(["40001", "40P01"]);

/** A number of our own among the server's advisory locks. */
const OURS = 4_607_182;

/**
 * So long a connection and an answer are waited for, in milliseconds: a page that says that the database is away is better than one that never comes.
 * The server gives up before we do, so that it is left with nothing that nobody waits for.
 */
const PATIENCE = {
  connectionTimeoutMillis: 5_000,
  statement_timeout: 30_000,
  query_timeout: 40_000,
  idle_in_transaction_session_timeout: 60_000,
  keepAlive: true,
} as const;

const poolAt = (url: string): pg.Pool => {
  const pool = new pg.Pool({ connectionString: url, max: 8, ...PATIENCE });
  // A connection that breaks is replaced when one is wanted, whether it was in use or not; told to nobody, it would end the program.
  pool.on("error", () => undefined);
  pool.on("connect", (client) => client.on("error", () => undefined));
  return pool;
};

/** Holds the lock on a connection of its own; it is free again when that is closed, however the program ends. */
const aloneOn =
  (url: string) =>
  async <Outcome>(act: () => Promise<Outcome>): Promise<Outcome> => {
    const client = new pg.Client({ connectionString: url });
    // A connection that breaks fails what is asked next; told to nobody, it would end the program.
    client.on("error", () => undefined);
    await client.connect();
    try {
      await client.query("select pg_advisory_lock($1)", [OURS]);
      return await act();
    } finally {
      await client.end();
    }
  };

/** A PostgreSQL server, by its address. */
export const postgres = (url: string): Database => ({
  kind: "postgres",
  dialect: new PostgresDialect({ pool: poolAt(url) }),
  types: { counted: "serial", bytes: "bytea" },
  alone: aloneOn(url),
  seal: sealsOf("postgres").seal,
  isBusy: (error) =>
    typeof error === "object" && error !== null && "code" in error && typeof error.code === "string" && SERIALIZATION.has(error.code),
});
