import { closeSync, existsSync, mkdirSync, openSync } from "node:fs";
import { dirname } from "node:path";
import SQLite from "better-sqlite3";
import { type Driver, SqliteDialect } from "kysely";
import type { Database } from "./dialect.ts";
import { sealsOf } from "./seals.ts";

/** Milliseconds that a writer waits for another. */
const PATIENCE = 5000;

const codeOf = (error: unknown): string =>
  typeof error === "object" && error !== null && "code" in error && typeof error.code === "string" ? error.code : "";

/** Where a disk is full the database has rolled back by itself: to ask for it again would fail, and hide what was wrong. */
const ROLLED_BACK = /no transaction is active/;

class Dialect extends SqliteDialect {
  override createDriver(): Driver {
    const driver = super.createDriver();
    const rollback = driver.rollbackTransaction.bind(driver);
    driver.rollbackTransaction = (connection) =>
      rollback(connection).catch((error: unknown) => {
        if (!(error instanceof Error && ROLLED_BACK.test(error.message))) throw error;
      });
    return driver;
  }
}

/** The embedded database, one file beside which nothing has to be installed. */
export const sqlite = (path: string): Database => ({
  kind: "sqlite",
  dialect: new Dialect({
    database: async () => {
      if (path !== ":memory:") mkdirSync(dirname(path), { recursive: true });
      // An office is read by whoever runs the program and by nobody else of the machine; what SQLite lays beside it follows the file.
      if (path !== ":memory:" && !existsSync(path)) closeSync(openSync(path, "a", 0o600));
      const database = new SQLite(path);
      // Written through to the disk at every commit: what was acknowledged survives a crash of the machine.
      database.pragma(`busy_timeout = ${PATIENCE}`);
      database.pragma("journal_mode = WAL");
      database.pragma("synchronous = FULL");
      database.pragma("foreign_keys = ON");
      return database;
    },
  }),
  types: { counted: "integer", bytes: "blob" },
  // Two processes on one file are no copies of the program: whoever comes second is told by `isBusy` and tries again.
  alone: (act) => act(),
  seal: sealsOf("sqlite").seal,
  isBusy: (error) => codeOf(error).startsWith("SQLITE_BUSY") || (error instanceof Error && /already exists/.test(error.message)),
});
