import { Kysely } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import type { Database } from "./dialects/dialect.ts";
import { postgres } from "./dialects/postgres.ts";
import { sqlite } from "./dialects/sqlite.ts";
import { migrate } from "./migrations.ts";
import type { Tables } from "./schema.ts";

/** Which database an address stands for: `postgres://…`, or the path of the embedded one's file. */
export const databaseOf = (address: string): Database => (/^postgres(ql)?:\/\//.test(address) ? postgres(address) : sqlite(address));

export interface OpenDatabase {
  readonly kind: "sqlite" | "postgres";
  readonly db: Kysely<Tables>;
}

/** Opens the database at an address and brings its tables up to date, or to an earlier migration. Fails with the reason where that cannot be done. */
export const openDatabase = async (address: string, upTo?: string): Promise<Result<OpenDatabase>> => {
  const database = databaseOf(address);
  const db = new Kysely<Tables>({ dialect: database.dialect });
  try {
    const migrated = await migrate(db, database, upTo);
    if (migrated.ok) return success({ kind: database.kind, db });
    await db.destroy();
    return migrated;
  } catch (error) {
    await db.destroy().catch(() => undefined);
    return failure(`the database cannot be opened: ${error instanceof Error ? error.message : "unknown reason"}`);
  }
};
