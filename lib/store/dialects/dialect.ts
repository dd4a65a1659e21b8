import type { Dialect, Kysely } from "kysely";
import type { Tables } from "../schema.ts";

/** What differs from one database to the other; everything else is said once for both. */
export interface Database {
  readonly kind: "sqlite" | "postgres";
  readonly dialect: Dialect;
  /** Column types that have no common name. */
  readonly types: { readonly counted: "serial" | "integer"; readonly bytes: "bytea" | "blob" };
  /** Makes a table refuse changes and deletions. */
  readonly seal: (db: Kysely<unknown>, table: keyof Tables) => Promise<void>;
  /** Does something while no other program does the like on the same database: bringing tables up to date. */
  readonly alone: <Outcome>(act: () => Promise<Outcome>) => Promise<Outcome>;
  /** Whether an error says that another had the database, so that the work may be tried again. */
  readonly isBusy: (error: unknown) => boolean;
}
