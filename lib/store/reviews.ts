import type { Kysely } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import { held, NO_VISIT } from "./changes.ts";
import { chunked } from "./plans.ts";
import type { ReviewEventRow, Tables } from "./schema.ts";
import type { Act } from "./store.ts";

export const REVIEW_ACTS = ["asked", "withdrawn", "approved", "sent back"] as const;
export type ReviewAct = (typeof REVIEW_ACTS)[number];

/** Something that was done about the review of a plan. */
export interface ReviewEvent extends Act {
  readonly visit: string;
  /** Counts the events of the visit. */
  readonly number: number;
  readonly act: ReviewAct;
  /** Version of the visit that was looked at. */
  readonly version: number;
  readonly words: string;
  /** What of the plan was approved, as it stood: marks by pointer of the protection with the id of its set. */
  readonly marks: Readonly<Record<string, string>>;
}

/** Something that was said of a plan or of one of its tests. */
export interface ReviewComment extends Act {
  readonly id: string;
  readonly visit: string;
  /** Pointer of the protection with the id of its set; empty where it is of the whole plan. */
  readonly at: string;
  readonly words: string;
}

export const SETTLED_HOW = ["accepted", "policy changed", "sent back"] as const;

/** How a finding was settled. */
export interface SettledFinding extends Act {
  readonly finding: string;
  /** Counts how often it was settled. */
  readonly number: number;
  readonly how: (typeof SETTLED_HOW)[number];
  readonly words: string;
  readonly about: string;
  /** The choices it covers, each as visit, pointer and methods. */
  readonly covers: readonly string[];
}

/** Somebody else was quicker, who saw the same as the writer. */
export const QUICKER = "somebody else was quicker";

export interface VisitHead {
  readonly vessel: string;
  readonly owner: string;
  readonly version: number;
  /** The first day, a plain date; null where it is not told. */
  readonly begins: string | null;
}

export interface ReviewStore {
  /**
   * Adds an event to the review of a visit, with comments. Fails where its number is taken already: somebody else was quicker; nothing is then kept.
   */
  readonly addReview: (event: ReviewEvent, comments: readonly ReviewComment[]) => Promise<Result<true>>;
  readonly addComments: (comments: readonly ReviewComment[]) => Promise<void>;
  /** The first first. */
  readonly reviewOf: (visit: string) => Promise<readonly ReviewEvent[]>;
  readonly commentsOf: (visit: string) => Promise<readonly ReviewComment[]>;
  /** What lists tell of visits, by their ids. */
  readonly visitHeads: (visits: readonly string[]) => Promise<ReadonlyMap<string, VisitHead>>;
  /** The last event of every visit that has one, or of these alone; the longest ago first. */
  readonly reviewsNow: (visits?: readonly string[]) => Promise<readonly ReviewEvent[]>;
  /** Settles a finding, and sends plans back with it. Fails where its number is taken already; nothing is then kept. */
  readonly settleFinding: (settled: SettledFinding, back?: readonly Omit<ReviewEvent, "number">[]) => Promise<Result<true>>;
  /** The first first. */
  readonly settledFindings: () => Promise<readonly SettledFinding[]>;
}

const eventOf = ({ done_at, marks, act, ...row }: ReviewEventRow): ReviewEvent => ({
  ...row,
  act: REVIEW_ACTS.find((one) => one === act) ?? "asked",
  when: done_at,
  marks: JSON.parse(marks),
});

const insertComments = async (db: Kysely<Tables>, comments: readonly ReviewComment[]): Promise<void> => {
  for (const some of chunked(comments, 100))
    await db
      .insertInto("review_comment")
      .values(some.map(({ when, ...comment }) => ({ ...comment, said_at: when })))
      .execute();
};

const insertEvent = async (db: Kysely<Tables>, { when, marks, ...event }: ReviewEvent): Promise<void> => {
  await db
    .insertInto("review_event")
    .values({ ...event, done_at: when, marks: JSON.stringify(marks) })
    .execute();
};

/** Reviews and settled findings, on an open database. */
export const reviewsOn = (db: Kysely<Tables>): ReviewStore => ({
  addReview: (event, comments) =>
    db.transaction().execute(async (inner): Promise<Result<true>> => {
      // The visit is held, so that of two at once the second sees what the first has done.
      if (!(await held(inner, event.visit))) return failure(NO_VISIT);
      const taken = await inner
        .selectFrom("review_event")
        .select("number")
        .where("visit", "=", event.visit)
        .where("number", ">=", event.number)
        .executeTakeFirst();
      if (taken !== undefined) return failure(QUICKER);
      await insertEvent(inner, event);
      await insertComments(inner, comments);
      return success(true);
    }),

  addComments: (comments) => db.transaction().execute((inner) => insertComments(inner, comments)),

  reviewOf: async (visit) =>
    (await db.selectFrom("review_event").selectAll().where("visit", "=", visit).orderBy("number").execute()).map(eventOf),

  commentsOf: async (visit) => {
    const rows = await db.selectFrom("review_comment").selectAll().where("visit", "=", visit).orderBy("said_at").orderBy("id").execute();
    return rows.map(({ said_at, ...row }) => ({ ...row, when: said_at }));
  },

  visitHeads: async (visits) => {
    const heads = new Map<string, VisitHead>();
    for (const some of chunked(visits)) {
      const rows = await db.selectFrom("visit").select(["id", "vessel", "owner", "version", "begins_on"]).where("id", "in", some).execute();
      for (const { id, vessel, owner, version, begins_on } of rows) heads.set(id, { vessel, owner, version, begins: begins_on });
    }
    return heads;
  },

  reviewsNow: async (visits) => {
    const rows = await db
      .selectFrom("review_event as event")
      .selectAll()
      .where(({ not, exists, selectFrom }) =>
        not(
          exists(
            selectFrom("review_event as later")
              .select("later.number")
              .whereRef("later.visit", "=", "event.visit")
              .whereRef("later.number", ">", "event.number"),
          ),
        ),
      )
      .$if(visits !== undefined, (query) => query.where("event.visit", "in", [...(visits ?? []), ""]))
      .orderBy("done_at")
      .orderBy("visit")
      .execute();
    return rows.map(eventOf);
  },

  settleFinding: ({ when, covers, ...settled }, back = []) =>
    db.transaction().execute(async (inner): Promise<Result<true>> => {
      const kept = await inner
        .insertInto("settled_finding")
        .values({ ...settled, settled_at: when, covers: JSON.stringify(covers) })
        .onConflict((conflict) => conflict.columns(["finding", "number"]).doNothing())
        .executeTakeFirst();
      if (kept.numInsertedOrUpdatedRows === 0n) return failure(QUICKER);
      for (const event of back) {
        await held(inner, event.visit);
        const { last } = await inner
          .selectFrom("review_event")
          .select(({ fn, lit }) => fn.coalesce(fn.max("number"), lit(0)).as("last"))
          .where("visit", "=", event.visit)
          .executeTakeFirstOrThrow();
        await insertEvent(inner, { ...event, number: Number(last) + 1 });
      }
      return success(true);
    }),

  settledFindings: async () => {
    const rows = await db.selectFrom("settled_finding").selectAll().orderBy("settled_at").orderBy("finding").orderBy("number").execute();
    return rows.map(({ settled_at, covers, how, ...row }) => ({
      ...row,
      how: SETTLED_HOW.find((one) => one === how) ?? "accepted",
      when: settled_at,
      covers: JSON.parse(covers),
    }));
  },
});
