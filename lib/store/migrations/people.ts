import type { Kysely, Migration } from "kysely";
import { endsOn } from "../changes.ts";
import type { Tables } from "../schema.ts";

/** Whose account has ended, who is away and who stands in for him; the last day of each visit stands beside its frame. */
export const people: Migration = {
  up: async (db: Kysely<unknown>) => {
    await db.schema
      .createTable("people_changes")
      .addColumn("id", "integer", (column) => column.primaryKey())
      .addColumn("count", "integer", (column) => column.notNull())
      .execute();
    await (db as Kysely<Tables>).insertInto("people_changes").values({ id: 1, count: 0 }).execute();
    await db.schema
      .createTable("person")
      .addColumn("id", "text", (column) => column.primaryKey())
      .addColumn("version", "integer", (column) => column.notNull())
      .addColumn("ended_at", "text")
      .addColumn("ended_by", "text")
      .execute();
    await db.schema
      .createTable("absence")
      .addColumn("id", "text", (column) => column.primaryKey())
      .addColumn("person", "text", (column) => column.notNull())
      .addColumn("from_day", "text", (column) => column.notNull())
      .addColumn("to_day", "text", (column) => column.notNull())
      .addColumn("stands_in", "text", (column) => column.notNull())
      .addColumn("told_by", "text", (column) => column.notNull())
      .addColumn("told_at", "text", (column) => column.notNull())
      .addColumn("over_at", "text")
      .addColumn("over_by", "text")
      .execute();
    await db.schema.createIndex("absence_by_stand_in").on("absence").columns(["stands_in", "to_day"]).execute();
    await db.schema.alterTable("visit").addColumn("ends_on", "text").execute();
    const visits = (db as Kysely<Tables>).selectFrom("visit").select(["id", "frame"]);
    for (const { id, frame } of await visits.execute())
      await (db as Kysely<Tables>)
        .updateTable("visit")
        .set({ ends_on: endsOn(JSON.parse(frame)) })
        .where("id", "=", id)
        .execute();
  },
};
