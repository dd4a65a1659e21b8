import type { Kysely, Migration } from "kysely";

/** What several copies of the program must know of each other while it runs: what is told once, what is being done, how often a door was used. */
export const running: Migration = {
  up: async (db: Kysely<unknown>) => {
    await db.schema
      .createTable("told_once")
      .addColumn("mark", "text", (column) => column.primaryKey())
      .addColumn("person", "text", (column) => column.notNull())
      .addColumn("hidden", "text", (column) => column.notNull())
      .addColumn("until", "double precision", (column) => column.notNull())
      .execute();
    await db.schema
      .createTable("under_way")
      .addColumn("act", "text", (column) => column.primaryKey())
      .addColumn("holder", "text", (column) => column.notNull())
      .addColumn("until", "double precision", (column) => column.notNull())
      .addColumn("outcome", "text")
      .execute();
    await db.schema
      .createTable("pace")
      .addColumn("door", "text", (column) => column.primaryKey())
      .addColumn("due", "double precision", (column) => column.notNull())
      .execute();
    // Whichever copy is up looks for letters that another was stopped at.
    await db.schema.createIndex("sent_lately").on("sent").column("sent_at").execute();
  },
};
