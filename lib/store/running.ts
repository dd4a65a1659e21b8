import type { Kysely } from "kysely";
import type { Tables } from "./schema.ts";

/** An act that one copy of the program does, and that no other begins meanwhile. Instants are milliseconds since 1970. */
export interface UnderWay {
  readonly holder: string;
  readonly until: number;
  /** What came of it, hidden; null while it is being done. */
  readonly outcome: string | null;
}

/** How fast a door may be used: once every so many milliseconds in the long run, and so often at once. */
export interface Pace {
  readonly every: number;
  readonly burst: number;
}

/** What the copies of a program that run at once share. All of it is forgotten after a while, and nothing of it is a visit's. */
export interface RunningStore {
  /** Keeps a hidden text under a mark for one person; what has run out is forgotten. */
  readonly putOnce: (mark: string, person: string, hidden: string, until: number, now: number) => Promise<void>;
  /** The hidden text, which is then kept no longer; null where there is none, or none of his. */
  readonly takeOnce: (mark: string, person: string, now: number) => Promise<string | null>;
  /** Whether the act is the holder's from now on: nobody else is at it. */
  readonly beginAct: (act: string, holder: string, now: number, until: number) => Promise<boolean>;
  /** Says that the holder is still at it, or what came of it; false where it is no longer his. */
  readonly keepAct: (act: string, holder: string, until: number, outcome?: string) => Promise<boolean>;
  readonly actUnderWay: (act: string, now: number) => Promise<UnderWay | null>;
  /**
   * Counts one use of a door: `due` is when it has been worked off, `wait` 0; where it is used too fast nothing is counted, and `wait` tells after how many
   * milliseconds it may be tried again.
   */
  readonly passDoor: (door: string, now: number, pace: Pace) => Promise<{ readonly due: number; readonly wait: number }>;
  /** Forgets what is long past. */
  readonly forgetPast: (now: number) => Promise<void>;
}

const onceOn = (db: Kysely<Tables>): Pick<RunningStore, "putOnce" | "takeOnce"> => ({
  putOnce: async (mark, person, hidden, until, now) => {
    await db.deleteFrom("told_once").where("until", "<", now).execute();
    await db.insertInto("told_once").values({ mark, person, hidden, until }).execute();
  },
  takeOnce: async (mark, person, now) => {
    const taken = await db
      .deleteFrom("told_once")
      .where("mark", "=", mark)
      .where("person", "=", person)
      .returning(["hidden", "until"])
      .executeTakeFirst();
    return taken === undefined || taken.until < now ? null : taken.hidden;
  },
});

const actsOn = (db: Kysely<Tables>): Pick<RunningStore, "beginAct" | "keepAct" | "actUnderWay"> => ({
  beginAct: async (act, holder, now, until) => {
    const rows = await db
      .insertInto("under_way")
      .values({ act, holder, until, outcome: null })
      .onConflict((conflict) => conflict.column("act").doUpdateSet({ holder, until, outcome: null }).where("under_way.until", "<", now))
      .returning("holder")
      .execute();
    return rows.length > 0;
  },
  keepAct: async (act, holder, until, outcome) => {
    const rows = await db
      .updateTable("under_way")
      .set({ until, ...(outcome === undefined ? {} : { outcome }) })
      .where("act", "=", act)
      .where("holder", "=", holder)
      .returning("holder")
      .execute();
    return rows.length > 0;
  },
  actUnderWay: async (act, now) => {
    const row = await db
      .selectFrom("under_way")
      .select(["holder", "until", "outcome"])
      .where("act", "=", act)
      .where("until", ">=", now)
      .executeTakeFirst();
    return row ?? null;
  },
});

const doorsOn = (db: Kysely<Tables>): Pick<RunningStore, "passDoor" | "forgetPast"> => ({
  passDoor: async (door, now, { every, burst }) => {
    const slack = every * (burst - 1);
    const counted = await db
      .insertInto("pace")
      .values({ door, due: now + every })
      .onConflict((conflict) =>
        conflict
          .column("door")
          .doUpdateSet(({ eb, lit }) => ({
            due: eb
              .case()
              .when("pace.due", "<", now)
              .then(lit(now + every))
              .else(eb("pace.due", "+", every))
              .end(),
          }))
          .where("pace.due", "<=", now + slack),
      )
      .returning("due")
      .executeTakeFirst();
    if (counted !== undefined) return { due: counted.due, wait: 0 };
    const row = await db.selectFrom("pace").select("due").where("door", "=", door).executeTakeFirst();
    const due = row?.due ?? now;
    return { due, wait: Math.max(1, due - slack - now) };
  },
  forgetPast: async (now) => {
    await db.deleteFrom("told_once").where("until", "<", now).execute();
    await db.deleteFrom("under_way").where("until", "<", now).execute();
    await db.deleteFrom("pace").where("due", "<", now).execute();
  },
});

export const runningOn = (db: Kysely<Tables>): RunningStore => ({ ...onceOn(db), ...actsOn(db), ...doorsOn(db) });
