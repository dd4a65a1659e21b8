import type { Kysely, Migration } from "kysely";
import type { Database } from "../dialects/dialect.ts";

/** The office's policies as they were written, and what became of each. */
export const policies = ({ seal }: Database): Migration => ({
  up: async (db: Kysely<unknown>) => {
    await db.schema
      .createTable("policy_version")
      .addColumn("number", "integer", (column) => column.primaryKey())
      .addColumn("policy", "text", (column) => column.notNull())
      .addColumn("note", "text", (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("written_at", "text", (column) => column.notNull())
      .execute();
    await db.schema
      .createTable("policy_act")
      .addColumn("number", "integer", (column) => column.primaryKey())
      .addColumn("version", "integer", (column) => column.notNull().unique().references("policy_version.number"))
      .addColumn("act", "text", (column) => column.notNull())
      .addColumn("takes_effect", "text")
      .addColumn("note", "text", (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("done_at", "text", (column) => column.notNull())
      .execute();
    await seal(db, "policy_version");
    await seal(db, "policy_act");
  },
});
