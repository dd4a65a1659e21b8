import type { Kysely, Migration } from "kysely";
import { requestsIn } from "../histories.ts";
import type { Tables } from "../schema.ts";

/** Which requests each letter asked stands beside what it asked in full, so that they can be counted over many letters. */
export const requests: Migration = {
  up: async (db: Kysely<unknown>) => {
    await db.schema
      .alterTable("sent")
      .addColumn("requests", "text", (column) => column.notNull().defaultTo(""))
      .execute();
    const letters = await (db as Kysely<Tables>).selectFrom("sent").select("id").execute();
    // One at a time: what a letter asked is long.
    for (const { id } of letters) {
      const row = await (db as Kysely<Tables>).selectFrom("sent").select("asked").where("id", "=", id).executeTakeFirstOrThrow();
      await (db as Kysely<Tables>)
        .updateTable("sent")
        .set({ requests: requestsIn(JSON.parse(row.asked)) })
        .where("id", "=", id)
        .execute();
    }
  },
};
