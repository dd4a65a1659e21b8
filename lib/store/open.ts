import type { Kysely, SelectQueryBuilder } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import { answerHistory, changedByWriter, insertAnswers, latestAnswers, sorted } from "./answers.ts";
import { beginsOn, changeFrame, count, endsOn, insertMade, MEANWHILE, NO_VISIT, rolledBack, setStanding, TakenBack } from "./changes.ts";
import { openDatabase } from "./database.ts";
import { exchangesOn } from "./exchanges.ts";
import { historiesOn } from "./histories.ts";
import { peopleOn } from "./people.ts";
import { plansOn } from "./plans.ts";
import { policiesOn } from "./policies.ts";
import { resultsOn } from "./results.ts";
import { reviewsOn } from "./reviews.ts";
import { runningOn } from "./running.ts";
import type { Tables } from "./schema.ts";
import type { Json, Standing, Store } from "./store.ts";
import { repeatable } from "./transactions.ts";

/** Later than any day that is waited for. */
const NEVER = "9999-12-31";
const CAME = '%"stage":"reply to take in"%';

/**
 * By the next day due, so that what is longest overdue comes first; a reply that came waits for the office itself, and is due today. Then by the day of
 * the visit: those to come, those without a day, those that are past, the latest first.
 */
const byDeadline = <Row>(query: SelectQueryBuilder<Tables, "visit", Row>, today: string): SelectQueryBuilder<Tables, "visit", Row> =>
  query
    .orderBy(({ eb, fn, val }) =>
      eb
        .case()
        .when("standing", "like", CAME)
        .then(val(today))
        .else(fn.coalesce("due_on", val(NEVER)))
        .end(),
    )
    .orderBy(({ eb }) => eb.case().when("begins_on", ">=", today).then(0).when("begins_on", "is", null).then(1).else(2).end())
    .orderBy(({ eb, ref }) => eb.case().when("begins_on", ">=", today).then(ref("begins_on")).else("").end())
    .orderBy("begins_on", "desc");

const visitsOf = (
  db: Kysely<Tables>,
): Pick<Store, "createVisit" | "listVisits" | "visit" | "keepStanding" | "saveAnswers" | "saveFrame" | "history"> => ({
  createVisit: (id, owner, { vessel, frame, sets }, answers, by) =>
    db.transaction().execute(async (inner) => {
      await inner
        .insertInto("visit")
        .values({
          id,
          owner,
          vessel,
          version: 1,
          frame: JSON.stringify(frame),
          frame_version: 1,
          begins_on: beginsOn(frame),
          ends_on: endsOn(frame),
          sets: JSON.stringify(sets),
          created_at: by.when,
          changed_at: by.when,
          changed_by: by.who,
        })
        .execute();
      await insertAnswers(inner, id, 1, answers, by);
    }),

  listVisits: async ({ owner, named, limit, offset = 0, today }) => {
    const rows = await db
      .selectFrom("visit")
      .select(["id", "vessel", "owner", "version", "frame", "changed_at", "changed_by", "standing"])
      .$if(owner !== undefined, (query) => query.where("owner", "in", [owner ?? []].flat()))
      .$if(named !== undefined, (query) =>
        query.where(({ eb, fn }) => eb(fn<string>("lower", ["vessel"]), "like", `%${(named ?? "").toLowerCase().replace(/[%_]/g, "")}%`)),
      )
      .$if(today !== undefined, (query) => byDeadline(query, today ?? ""))
      .orderBy("changed_at", "desc")
      .orderBy("id")
      .limit(limit)
      .offset(offset)
      .execute();
    return rows.map(({ changed_at, changed_by, frame, standing, ...row }) => ({
      ...row,
      ...(standing === null ? {} : { standing: JSON.parse(standing) as Standing }),
      frame: JSON.parse(frame) as Json,
      changedAt: changed_at,
      changedBy: changed_by,
    }));
  },

  visit: (id) =>
    // One look at both tables, so that frame and answers belong to the same version.
    repeatable(db).execute(async (inner) => {
      const row = await inner.selectFrom("visit").selectAll().where("id", "=", id).executeTakeFirst();
      if (row === undefined) return null;
      return {
        id: row.id,
        version: row.version,
        owner: row.owner,
        frame: JSON.parse(row.frame) as Json,
        frameVersion: row.frame_version,
        sets: JSON.parse(row.sets) as readonly number[],
        answers: await latestAnswers(inner, id),
        changedAt: row.changed_at,
        changedBy: row.changed_by,
      };
    }),

  keepStanding: (id, standing) => setStanding(db, id, standing),

  saveAnswers: (id, writes, by) =>
    rolledBack(
      db.transaction().execute(async (inner): Promise<Awaited<ReturnType<Store["saveAnswers"]>>> => {
        const version = await count(inner, id, by);
        if (version === null) return failure(NO_VISIT);
        const { fresh, conflicts: met } = sorted(writes, await latestAnswers(inner, id));
        const conflicts = await changedByWriter(inner, id, met);
        // Nothing new: nothing happened, and no version is counted.
        if (fresh.length === 0) throw new TakenBack(success({ version: version - 1, conflicts }));
        await insertAnswers(inner, id, version, fresh, by);
        return success({ version, conflicts });
      }),
    ),

  saveFrame: (id, frame, seen, by, answers = []) =>
    rolledBack(
      db.transaction().execute(async (inner): Promise<Result<{ readonly version: number }>> => {
        const version = await count(inner, id, by);
        if (version === null) return failure(NO_VISIT);
        if (!(await changeFrame(inner, id, frame, { version, seen }))) throw new TakenBack(failure(MEANWHILE));
        await insertAnswers(inner, id, version, answers, by);
        return success({ version });
      }),
    ),

  history: (id, at) => answerHistory(db, id, at),
});

const LINE = ["id", "visit", "version", "who", "made_at", "rulebook"] as const;

const lettersOf = (db: Kysely<Tables>): Pick<Store, "keepMade" | "madeOf" | "made"> => ({
  keepMade: (made) => insertMade(db, made),
  madeOf: async (visit) => {
    const rows = await db.selectFrom("made").select(LINE).where("visit", "=", visit).orderBy("made_at", "desc").orderBy("id").execute();
    return rows.map(({ made_at, ...row }) => ({ ...row, when: made_at }));
  },
  made: async (id) => {
    const row = await db.selectFrom("made").selectAll().where("id", "=", id).executeTakeFirst();
    if (row === undefined) return null;
    const { made_at, pdf, ...made } = row;
    return { ...made, when: made_at, pdf: new Uint8Array(pdf) };
  },
});

const typedOf = (db: Kysely<Tables>): Pick<Store, "keepTyped" | "typed" | "typedOf"> => ({
  keepTyped: async (page, text, { who, when }) => {
    if (text === null) await db.deleteFrom("typed").where("who", "=", who).where("page", "=", page).execute();
    // In one statement: two saves of one page at once must not meet between taking away and putting in.
    else
      await db
        .insertInto("typed")
        .values({ who, page, text, kept_at: when })
        .onConflict((conflict) => conflict.columns(["who", "page"]).doUpdateSet({ text, kept_at: when }))
        .execute();
  },
  typed: async (page, who) => {
    const row = await db.selectFrom("typed").select(["text", "kept_at"]).where("who", "=", who).where("page", "=", page).executeTakeFirst();
    return row === undefined ? null : { text: row.text, when: row.kept_at };
  },
  typedOf: async (visit, who) => {
    const rows = await db
      .selectFrom("typed")
      .select(["page", "text", "kept_at"])
      .where("who", "=", who)
      .where("page", "like", `${visit} %`)
      .orderBy("page")
      .execute();
    return rows.map(({ page, text, kept_at }) => ({ page, text, when: kept_at }));
  },
});

const auditOf = (db: Kysely<Tables>): Pick<Store, "audit" | "audited" | "auditedWhere" | "auditedActs"> => ({
  audit: async ({ when, ...entry }) => {
    await db
      .insertInto("audit")
      .values({ ...entry, done_at: when })
      .execute();
  },
  audited: async (limit) => {
    const rows = await db
      .selectFrom("audit")
      .select(["done_at", "who", "act", "subject", "detail"])
      .orderBy("id", "desc")
      .limit(limit)
      .execute();
    return rows.map(({ done_at, ...entry }) => ({ ...entry, when: done_at }));
  },
  auditedWhere: async ({ person, act, subject, before, limit }) => {
    const rows = await db
      .selectFrom("audit")
      .selectAll()
      .$if(person !== undefined, (query) =>
        query.where(({ eb, or }) => or([eb("who", "=", person ?? ""), eb("subject", "=", person ?? "")])),
      )
      .$if(act !== undefined, (query) => query.where("act", "=", act ?? ""))
      .$if(subject !== undefined, (query) => query.where("subject", "=", subject ?? ""))
      .$if(before !== undefined, (query) => query.where("id", "<", before ?? 0))
      .orderBy("id", "desc")
      .limit(limit)
      .execute();
    return rows.map(({ done_at, ...entry }) => ({ ...entry, when: done_at }));
  },
  auditedActs: async () => (await db.selectFrom("audit").select("act").distinct().orderBy("act").execute()).map(({ act }) => act),
});

/** The store on an open database. */
export const storeOn = (db: Kysely<Tables>): Store => ({
  ...visitsOf(db),
  ...lettersOf(db),
  ...typedOf(db),
  ...auditOf(db),
  ...exchangesOn(db),
  ...historiesOn(db),
  ...resultsOn(db),
  ...peopleOn(db),
  ...plansOn(db),
  ...policiesOn(db),
  ...reviewsOn(db),
  ...runningOn(db),
  close: () => db.destroy(),
});

/** Opens the store at an address. Fails with the reason where it cannot be opened. */
export const openStore = async (address: string): Promise<Result<Store>> => {
  const open = await openDatabase(address);
  return open.ok ? success(storeOn(open.value.db)) : open;
};
