import type { Kysely, Migration } from "kysely";
import type { Database } from "../dialects/dialect.ts";

/** Plans as they are compared, their signatures, reviews with comments, findings that were settled, and what was tried on past plans. */
export const reviews = ({ seal }: Database): Migration => ({
  up: async (db: Kysely<unknown>) => {
    await db.schema
      .createTable("kept_plan")
      .addColumn("visit", "text", (column) => column.primaryKey().references("visit.id"))
      .addColumn("seq", "integer", (column) => column.notNull())
      .addColumn("version", "integer", (column) => column.notNull())
      .addColumn("why", "text", (column) => column.notNull())
      .addColumn("owner", "text", (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("kept_at", "text", (column) => column.notNull())
      .addColumn("rulebook", "text", (column) => column.notNull())
      .addColumn("rule_basis", "text", (column) => column.notNull())
      .addColumn("vessel", "text", (column) => column.notNull())
      .addColumn("file", "text", (column) => column.notNull())
      .addColumn("sets", "text", (column) => column.notNull())
      .addColumn("decisions", "text", (column) => column.notNull())
      .execute();
    await db.schema.createIndex("kept_plan_by_seq").on("kept_plan").columns(["seq"]).execute();
    await db.schema
      .createTable("signature")
      .addColumn("mark", "text", (column) => column.primaryKey())
      .addColumn("facts", "text", (column) => column.notNull())
      .execute();
    await db.schema
      .createTable("review_event")
      .addColumn("visit", "text", (column) => column.notNull().references("visit.id"))
      .addColumn("number", "integer", (column) => column.notNull())
      .addColumn("act", "text", (column) => column.notNull())
      .addColumn("version", "integer", (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("done_at", "text", (column) => column.notNull())
      .addColumn("words", "text", (column) => column.notNull())
      .addColumn("marks", "text", (column) => column.notNull())
      .addPrimaryKeyConstraint("review_event_once", ["visit", "number"])
      .execute();
    await db.schema
      .createTable("review_comment")
      .addColumn("id", "text", (column) => column.primaryKey())
      .addColumn("visit", "text", (column) => column.notNull().references("visit.id"))
      .addColumn("at", "text", (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("said_at", "text", (column) => column.notNull())
      .addColumn("words", "text", (column) => column.notNull())
      .execute();
    await db.schema.createIndex("review_comment_by_visit").on("review_comment").columns(["visit", "said_at"]).execute();
    await db.schema
      .createTable("settled_finding")
      .addColumn("finding", "text", (column) => column.notNull())
      .addColumn("number", "integer", (column) => column.notNull())
      .addColumn("how", "text", (column) => column.notNull())
      .addColumn("words", "text", (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("settled_at", "text", (column) => column.notNull())
      .addColumn("about", "text", (column) => column.notNull())
      .addColumn("covers", "text", (column) => column.notNull())
      .addPrimaryKeyConstraint("settled_finding_once", ["finding", "number"])
      .execute();
    await db.schema
      .createTable("what_if")
      .addColumn("id", "text", (column) => column.primaryKey())
      .addColumn("about", "text", (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("made_at", "text", (column) => column.notNull())
      .addColumn("plans", "text", (column) => column.notNull())
      .execute();
    await db.schema
      .createTable("what_if_plan")
      .addColumn("what_if", "text", (column) => column.notNull().references("what_if.id"))
      .addColumn("visit", "text", (column) => column.notNull())
      .addColumn("outcome", "text", (column) => column.notNull())
      .addPrimaryKeyConstraint("what_if_plan_once", ["what_if", "visit"])
      .execute();
    await seal(db, "review_event");
    await seal(db, "review_comment");
    await seal(db, "settled_finding");
  },
});
