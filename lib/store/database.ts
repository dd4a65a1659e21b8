import { Kysely, type LogEvent } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import type { Database } from "./dialects/dialect.ts";
import { postgres } from "./dialects/postgres.ts";
import { sqlite } from "./dialects/sqlite.ts";
import { inStep, migrate } from "./migrations.ts";
import { isMoved, markAt } from "./moved.ts";
import type { Tables } from "./schema.ts";

/** Which database an address stands for: `postgres://…`, or the path of the embedded one's file. */
export const databaseOf = (address: string): Database => (/^postgres(ql)?:\/\//.test(address) ? postgres(address) : sqlite(address));

export interface OpenDatabase {
  readonly kind: "sqlite" | "postgres";
  readonly db: Kysely<Tables>;
  /** Does something while no other copy of the program brings tables up to date. */
  readonly alone: Database["alone"];
  /** How many queries the database has refused. */
  readonly refused: () => number;
  /** Whether the tables are those that this program knows, neither older nor newer. Throws where the database does not answer. */
  readonly inStep: () => Promise<boolean>;
}

/** Opens the database at an address and brings its tables up to date, or to an earlier migration. Fails with the reason where that cannot be done. */
export const openDatabase = async (address: string, upTo?: string): Promise<Result<OpenDatabase>> => {
  const database = databaseOf(address);
  if (database.kind === "sqlite" && isMoved(address))
    return failure(
      `the office in ${address} was moved: ${markAt(address)} says where it is now and what leads there; to go on with the old one, delete that file`,
    );
  let refused = 0;
  const count = ({ level }: LogEvent): void => {
    if (level === "error") refused += 1;
  };
  const db = new Kysely<Tables>({ dialect: database.dialect, log: count });
  try {
    const migrated = await database.alone(() => migrate(db, database, upTo));
    if (migrated.ok)
      return success({ kind: database.kind, db, alone: database.alone, refused: () => refused, inStep: () => inStep(db, database) });
    await db.destroy();
    return migrated;
  } catch (error) {
    await db.destroy().catch(() => undefined);
    return failure(`the database cannot be opened: ${error instanceof Error ? error.message : "unknown reason"}`);
  }
};
