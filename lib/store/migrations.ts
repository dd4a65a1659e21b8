import { type Kysely, type Migration, type MigrationProvider, Migrator, sql } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import { beginsOn } from "./changes.ts";
import type { Database } from "./dialects/dialect.ts";
import { passwords } from "./migrations/passwords.ts";
import { people } from "./migrations/people.ts";
import { policies } from "./migrations/policies.ts";
import { requests } from "./migrations/requests.ts";
import { reviews } from "./migrations/reviews.ts";
import { running } from "./migrations/running.ts";
import type { Tables } from "./schema.ts";

/** The tables as they were first made. */
const first = ({ types, seal }: Database): Migration => ({
  up: async (db: Kysely<unknown>) => {
    await db.schema
      .createTable("visit")
      .addColumn("id", "text", (column) => column.primaryKey())
      .addColumn("version", "integer", (column) => column.notNull())
      .addColumn("owner", "text", (column) => column.notNull())
      .addColumn("vessel", "text", (column) => column.notNull())
      .addColumn("frame", "text", (column) => column.notNull())
      .addColumn("frame_version", "integer", (column) => column.notNull())
      .addColumn("sets", "text", (column) => column.notNull())
      .addColumn("created_at", "text", (column) => column.notNull())
      .addColumn("changed_at", "text", (column) => column.notNull())
      .addColumn("changed_by", "text", (column) => column.notNull())
      .execute();
    await db.schema.createIndex("visit_by_owner").on("visit").columns(["owner", "changed_at"]).execute();
    await db.schema
      .createTable("answer")
      .addColumn("visit", "text", (column) => column.notNull().references("visit.id"))
      .addColumn("at", "text", (column) => column.notNull())
      .addColumn("version", "integer", (column) => column.notNull())
      .addColumn("value", "text")
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("saved_at", "text", (column) => column.notNull())
      .addPrimaryKeyConstraint("answer_once", ["visit", "at", "version"])
      .execute();
    await db.schema
      .createTable("made")
      .addColumn("id", "text", (column) => column.primaryKey())
      .addColumn("visit", "text", (column) => column.notNull().references("visit.id"))
      .addColumn("version", "integer", (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("made_at", "text", (column) => column.notNull())
      .addColumn("rulebook", "text", (column) => column.notNull())
      .addColumn("file", "text", (column) => column.notNull())
      .addColumn("plan", "text", (column) => column.notNull())
      .addColumn("pdf", types.bytes, (column) => column.notNull())
      .execute();
    await db.schema.createIndex("made_by_visit").on("made").columns(["visit", "made_at"]).execute();
    await db.schema
      .createTable("audit")
      .addColumn("id", types.counted, (column) => (types.counted === "serial" ? column.primaryKey() : column.primaryKey().autoIncrement()))
      .addColumn("done_at", "text", (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("act", "text", (column) => column.notNull())
      .addColumn("subject", "text", (column) => column.notNull())
      .addColumn("detail", "text", (column) => column.notNull())
      .execute();
    await seal(db, "audit");
  },
});

/** What guards the doors: one-time links and failed tries. */
const doors: Migration = {
  up: async (db: Kysely<unknown>) => {
    await db.schema
      .createTable("invitation")
      .addColumn("mark", "text", (column) => column.primaryKey())
      .addColumn("role", "text", (column) => column.notNull())
      .addColumn("invited_by", "text", (column) => column.notNull())
      .addColumn("made_at", "text", (column) => column.notNull())
      .addColumn("used_at", "text")
      .execute();
    await db.schema
      .createTable("failed_try")
      .addColumn("id", "text", (column) => column.primaryKey())
      .addColumn("door", "text", (column) => column.notNull())
      .addColumn("tried_at", "text", (column) => column.notNull())
      .execute();
    await db.schema.createIndex("failed_try_by_door").on("failed_try").columns(["door", "tried_at"]).execute();
  },
};

/** What was typed and could not be kept as an answer, or not yet. */
const typed: Migration = {
  up: async (db: Kysely<unknown>) => {
    await db.schema
      .createTable("typed")
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("page", "text", (column) => column.notNull())
      .addColumn("text", "text", (column) => column.notNull())
      .addColumn("kept_at", "text", (column) => column.notNull())
      .addPrimaryKeyConstraint("typed_once", ["who", "page"])
      .execute();
  },
};

/** Letters that went out and what came back. */
const exchanges: Migration = {
  up: async (db: Kysely<unknown>) => {
    await db.schema
      .createTable("sent")
      .addColumn("id", "text", (column) => column.primaryKey())
      .addColumn("visit", "text", (column) => column.notNull().references("visit.id"))
      .addColumn("number", "integer", (column) => column.notNull())
      .addColumn("made", "text", (column) => column.notNull().references("made.id"))
      .addColumn("mark", "text", (column) => column.notNull())
      .addColumn("reply_by", "text", (column) => column.notNull())
      .addColumn("recipients", "text", (column) => column.notNull())
      .addColumn("asked", "text", (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("sent_at", "text", (column) => column.notNull())
      .addUniqueConstraint("sent_once", ["visit", "number"])
      .execute();
    await db.schema
      .createTable("delivery")
      .addColumn("sent", "text", (column) => column.notNull().references("sent.id"))
      .addColumn("address", "text", (column) => column.notNull())
      .addColumn("tried_at", "text", (column) => column.notNull())
      .addColumn("how", "text", (column) => column.notNull())
      .addColumn("detail", "text", (column) => column.notNull())
      .addPrimaryKeyConstraint("delivery_once", ["sent", "address", "tried_at"])
      .execute();
    await db.schema
      .createTable("reply_link")
      .addColumn("mark", "text", (column) => column.primaryKey())
      .addColumn("sent", "text", (column) => column.notNull().references("sent.id"))
      .addColumn("recipient", "text", (column) => column.notNull())
      .addColumn("made_at", "text", (column) => column.notNull())
      .addColumn("expires_at", "text", (column) => column.notNull())
      .addColumn("withdrawn_at", "text")
      .execute();
    await db.schema.createIndex("reply_link_by_sent").on("reply_link").columns(["sent"]).execute();
    await db.schema
      .createTable("reply")
      .addColumn("sent", "text", (column) => column.primaryKey().references("sent.id"))
      .addColumn("version", "integer", (column) => column.notNull())
      .addColumn("confirmed_at", "text")
      .addColumn("confirmed_by", "text")
      .addColumn("reply", "text")
      .addColumn("taken_at", "text")
      .addColumn("taken_by", "text")
      .addColumn("outcome", "text")
      .execute();
    await db.schema
      .createTable("reply_entry")
      .addColumn("sent", "text", (column) => column.notNull().references("sent.id"))
      .addColumn("ref", "text", (column) => column.notNull())
      .addColumn("version", "integer", (column) => column.notNull())
      .addColumn("value", "text")
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("saved_at", "text", (column) => column.notNull())
      .addPrimaryKeyConstraint("entry_once", ["sent", "ref", "version"])
      .execute();
  },
};

/** Files that come with a reply, by which post a field was filled in, what a letter is for, and how far each visit's exchange is. */
const replies = ({ types }: Database): Migration => ({
  up: async (db: Kysely<unknown>) => {
    await db.schema
      .createTable("attachment")
      .addColumn("id", "text", (column) => column.primaryKey())
      .addColumn("sent", "text", (column) => column.notNull().references("sent.id"))
      .addColumn("what", "text", (column) => column.notNull())
      .addColumn("name", "text", (column) => column.notNull())
      .addColumn("type", "text", (column) => column.notNull())
      .addColumn("size", "integer", (column) => column.notNull())
      .addColumn("digest", "text", (column) => column.notNull())
      .addColumn("content", types.bytes, (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("added_at", "text", (column) => column.notNull())
      .addUniqueConstraint("attachment_once", ["sent", "digest"])
      .execute();
    await db.schema.alterTable("reply_entry").addColumn("post", "text").execute();
    await db.schema
      .alterTable("sent")
      .addColumn("kind", "text", (column) => column.notNull().defaultTo("letter"))
      .execute();
    await db.schema.alterTable("visit").addColumn("standing", "text").execute();
    await db.schema.alterTable("visit").addColumn("due_on", "text").execute();
  },
});

/** The day on which each visit begins stands beside its frame, so that a list can go by it. */
const days: Migration = {
  up: async (db: Kysely<unknown>) => {
    await db.schema.alterTable("visit").addColumn("begins_on", "text").execute();
    const visits = (db as Kysely<Tables>).selectFrom("visit").select(["id", "frame"]);
    for (const { id, frame } of await visits.execute())
      await (db as Kysely<Tables>)
        .updateTable("visit")
        .set({ begins_on: beginsOn(JSON.parse(frame)) })
        .where("id", "=", id)
        .execute();
  },
};

/** What became of each test aboard; every entry is kept for ever. */
const results = ({ seal }: Database): Migration => ({
  up: async (db: Kysely<unknown>) => {
    await db.schema
      .createTable("result")
      .addColumn("visit", "text", (column) => column.notNull().references("visit.id"))
      .addColumn("at", "text", (column) => column.notNull())
      .addColumn("version", "integer", (column) => column.notNull())
      .addColumn("value", "text")
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("saved_at", "text", (column) => column.notNull())
      .addPrimaryKeyConstraint("result_once", ["visit", "at", "version"])
      .execute();
    await seal(db, "result");
  },
});

const provider = (database: Database): MigrationProvider => ({
  getMigrations: async () => ({
    "0001-first": first(database),
    "0002-doors": doors,
    "0003-typed": typed,
    "0004-exchanges": exchanges,
    "0005-replies": replies(database),
    "0006-days": days,
    "0007-results": results(database),
    "0008-policy": policies(database),
    "0009-people": people,
    "0010-reviews": reviews(database),
    "0011-requests": requests,
    "0012-running": running,
    "0013-passwords": passwords,
  }),
});

/** Two programs that start at once both want to migrate; the one that comes second finds it done. */
const TRIES = 10;
const PAUSE = 200;

/** In our words that a newer program has had the database; null where something else is wrong. */
const newerIn = (error: unknown): string | null => {
  const name = error instanceof Error ? /previously executed migration (\S+) is missing/.exec(error.message)?.[1] : undefined;
  return name === undefined
    ? null
    : `the database was brought up to date by a newer program, with “${name}”, which this one does not know; nothing was changed. Start the newer program again, or give this one the copy of the database that was kept before the upgrade`;
};

/** The names of the migrations that this program knows, in order. */
export const migrationsKnown = async (database: Database): Promise<readonly string[]> =>
  Object.keys(await provider(database).getMigrations()).sort();

/** Whether the tables are those that this program knows, neither older nor newer. */
export const inStep = async (db: Kysely<Tables>, database: Database): Promise<boolean> => {
  const known = await migrationsKnown(database);
  const { rows } = await sql<{ readonly name: string }>`select name from kysely_migration`.execute(db);
  return rows.length === known.length && rows.every(({ name }) => known.includes(name));
};

/** Brings the tables to the latest form, or to that of an earlier migration. Fails with the reason where that cannot be done; nothing is then half done. */
export const migrate = async (db: Kysely<Tables>, database: Database, upTo?: string): Promise<Result<readonly string[]>> => {
  for (let tried = 1; ; tried += 1) {
    const migrator = new Migrator({ db, provider: provider(database) });
    const { error, results } = await (upTo === undefined ? migrator.migrateToLatest() : migrator.migrateTo(upTo));
    if (error === undefined) return success((results ?? []).map(({ migrationName }) => migrationName));
    const newer = newerIn(error);
    if (newer !== null) return failure(newer);
    if (tried >= TRIES || !database.isBusy(error))
      return failure(`the database cannot be brought up to date: ${error instanceof Error ? error.message : "unknown reason"}`);
    await new Promise((again) => setTimeout(again, PAUSE));
  }
};
