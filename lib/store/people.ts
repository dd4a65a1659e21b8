import type { Kysely, Transaction } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import { rolledBack, TakenBack } from "./changes.ts";
import type { AbsenceRow, Tables } from "./schema.ts";
import type { Act, Standing } from "./store.ts";

/** Days on which somebody is away, both included, and who stands in for him. */
export interface Absence {
  readonly id: string;
  readonly person: string;
  readonly from: string;
  readonly to: string;
  readonly standsIn: string;
  readonly told: Act;
  /** Ended early or taken back; left out where it runs to its last day. */
  readonly over?: Act;
}

/** A visit that is still somebody's work. */
export interface OpenVisit {
  readonly id: string;
  readonly owner: string;
  readonly vessel: string;
  /** Plain dates; null where they are not told yet. */
  readonly begins: string | null;
  readonly ends: string | null;
  readonly standing?: Standing;
}

/** What the store keeps of people beside their accounts. */
export interface PeopleStore {
  /** Absences that are not over on a day and not past, the first first; of one person, or all. */
  readonly absencesFrom: (day: string, person?: string) => Promise<readonly Absence[]>;
  /** Those for whom somebody stands in on a day. */
  readonly standingIn: (standsIn: string, day: string) => Promise<readonly Absence[]>;
  /** Visits whose exchange has not ended and whose last day is not past; of one owner, or all. */
  readonly openVisits: (day: string, owner?: string) => Promise<readonly OpenVisit[]>;
  /** Makes visits another person's, all or none. Fails where one of them is no longer the first person's, or the other's account has ended. */
  readonly handOver: (visits: readonly string[], from: string, to: string) => Promise<Result<true>>;
}

export const ENDED = "this account has ended";
const NOT_HIS = "one of these visits is somebody else’s by now; nothing was handed over";

const absenceFrom = ({ from_day, to_day, stands_in, told_by, told_at, over_at, over_by, ...row }: AbsenceRow): Absence => ({
  ...row,
  from: from_day,
  to: to_day,
  standsIn: stands_in,
  told: { who: told_by, when: told_at },
  ...(over_at === null ? {} : { over: { who: over_by ?? "", when: over_at } }),
});

/** Absences that were not ended and whose last day is not before a day. */
export const absencesIn = async (db: Kysely<Tables>, day: string): Promise<readonly Absence[]> => {
  const rows = await db
    .selectFrom("absence")
    .selectAll()
    .where("over_at", "is", null)
    .where("to_day", ">=", day)
    .orderBy("from_day")
    .orderBy("id")
    .execute();
  return rows.map(absenceFrom);
};

const ENDED_EXCHANGE = ["settled", "not settled"];

const openIn = async (db: Kysely<Tables>, day: string, owner?: string): Promise<readonly OpenVisit[]> => {
  const rows = await db
    .selectFrom("visit")
    .select(["id", "owner", "vessel", "begins_on", "ends_on", "standing"])
    .where(({ eb, or }) => or([eb("ends_on", "is", null), eb("ends_on", ">=", day)]))
    .$if(owner !== undefined, (query) => query.where("owner", "=", owner ?? ""))
    .orderBy("begins_on")
    .orderBy("id")
    .execute();
  return rows
    .map(
      ({ begins_on, ends_on, standing, ...row }): OpenVisit => ({
        ...row,
        begins: begins_on,
        ends: ends_on,
        ...(standing === null ? {} : { standing: JSON.parse(standing) as Standing }),
      }),
    )
    .filter(({ standing }) => !ENDED_EXCHANGE.includes(standing?.stage ?? ""));
};

/** Holds all people against other changes until the transaction ends: two changes are judged one after the other. */
export const holdPeople = async (db: Transaction<Tables>): Promise<void> => {
  await db
    .updateTable("people_changes")
    .set(({ eb }) => ({ count: eb("count", "+", 1) }))
    .where("id", "=", 1)
    .execute();
};

export const isEnded = async (db: Kysely<Tables>, id: string): Promise<boolean> => {
  const row = await db.selectFrom("person").select("ended_at").where("id", "=", id).executeTakeFirst();
  return row !== undefined && row.ended_at !== null;
};

/** Makes visits another person's; how many of them were the first one's. */
const move = async (db: Transaction<Tables>, visits: readonly string[], from: string, to: string): Promise<number> => {
  if (visits.length === 0) return 0;
  const moved = await db.updateTable("visit").set({ owner: to }).where("id", "in", visits).where("owner", "=", from).executeTakeFirst();
  return Number(moved.numUpdatedRows);
};

/** Makes every open visit of a person another's; their ids. */
export const handOverOpen = async (db: Transaction<Tables>, from: string, to: string, day: string): Promise<readonly string[]> => {
  const visits = (await openIn(db, day, from)).map(({ id }) => id);
  await move(db, visits, from, to);
  return visits;
};

/** Whether a person has an open visit. */
export const hasOpen = async (db: Kysely<Tables>, owner: string, day: string): Promise<boolean> =>
  (await openIn(db, day, owner)).length > 0;

/** Absences and whose visits are whose, on an open database. */
export const peopleOn = (db: Kysely<Tables>): PeopleStore => ({
  absencesFrom: async (day, person) => (await absencesIn(db, day)).filter((one) => person === undefined || one.person === person),
  standingIn: async (standsIn, day) => {
    const rows = await db
      .selectFrom("absence")
      .selectAll()
      .where("stands_in", "=", standsIn)
      .where("from_day", "<=", day)
      .where("to_day", ">=", day)
      .where("over_at", "is", null)
      .orderBy("to_day")
      .execute();
    return rows.map(absenceFrom);
  },
  openVisits: (day, owner) => openIn(db, day, owner),
  handOver: (visits, from, to) =>
    rolledBack(
      db.transaction().execute(async (inner): Promise<Result<true>> => {
        await holdPeople(inner);
        if (await isEnded(inner, to)) return failure(ENDED);
        if ((await move(inner, visits, from, to)) !== new Set(visits).size) throw new TakenBack(failure(NOT_HIS));
        return success(true);
      }),
    ),
});
