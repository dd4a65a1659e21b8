import type { Kysely, Migration } from "kysely";

/** A link may set the password of somebody who has an account, instead of making one. */
export const passwords: Migration = {
  up: async (db: Kysely<unknown>) => {
    await db.schema.alterTable("invitation").addColumn("for_person", "text").execute();
  },
};
