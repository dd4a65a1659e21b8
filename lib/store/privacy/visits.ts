import type { Seals } from "../dialects/seals.ts";
import type { Act } from "../store.ts";
import { type Loose, textOf } from "./rows.ts";

/** A visit that is past, as the list of those to remove tells it. */
export interface PastVisit {
  readonly id: string;
  readonly vessel: string;
  readonly owner: string;
  readonly ends: string;
}

/** Visits whose last day is before a day, the longest past first. */
export const pastVisits = async (db: Loose, before: string): Promise<readonly PastVisit[]> =>
  (
    await db
      .selectFrom("visit")
      .select(["id", "vessel", "owner", "ends_on"])
      .where("ends_on", "<", before)
      .orderBy("ends_on")
      .orderBy("id")
      .execute()
  ).map((row) => ({ id: textOf(row, "id"), vessel: textOf(row, "vessel"), owner: textOf(row, "owner"), ends: textOf(row, "ends_on") }));

const OF_LETTER = ["delivery", "reply_link", "reply_entry", "reply", "attachment"] as const;
const OF_VISIT = ["sent", "made", "answer", "result", "review_event", "review_comment", "kept_plan", "what_if_plan"] as const;
/** Sealed tables that hold something of a visit. */
export const SEALED_OF_VISIT = ["audit", "result", "review_event", "review_comment", "settled_finding"] as const;

const lettersOf = async (db: Loose, visit: string): Promise<readonly string[]> =>
  (await db.selectFrom("sent").select("id").where("visit", "=", visit).execute()).map((row) => textOf(row, "id"));

/** Marks of signatures that a plan's decisions bear. */
const marksIn = (decisions: string): readonly string[] =>
  (JSON.parse(decisions) as readonly (readonly unknown[])[]).flatMap(([, , , , mark]) => (typeof mark === "string" ? [mark] : []));

const marksOf = async (db: Loose, visit: string): Promise<readonly string[]> =>
  (await db.selectFrom("kept_plan").select("decisions").where("visit", "=", visit).execute()).flatMap((row) =>
    marksIn(textOf(row, "decisions")),
  );

const AT_A_TIME = 200;

/** Removes signatures that no plan bears any more, of these. */
const removeUnborne = async (db: Loose, marks: ReadonlySet<string>): Promise<void> => {
  const unborne = new Set(marks);
  const plans = (await db.selectFrom("kept_plan").select("visit").execute()).map((row) => textOf(row, "visit"));
  for (const visit of plans) {
    if (unborne.size === 0) return;
    for (const mark of await marksOf(db, visit)) unborne.delete(mark);
  }
  const gone = [...unborne];
  for (let at = 0; at < gone.length; at += AT_A_TIME)
    await db
      .deleteFrom("signature")
      .where("mark", "in", gone.slice(at, at + AT_A_TIME))
      .execute();
};

/** Settled findings no longer cover choices of a visit that is gone. */
const uncover = async (db: Loose, visit: string): Promise<void> => {
  const rows = await db
    .selectFrom("settled_finding")
    .select(["finding", "number", "covers"])
    .where("covers", "like", `%${visit}%`)
    .execute();
  for (const row of rows) {
    const covers = (JSON.parse(textOf(row, "covers")) as readonly string[]).filter((one) => !one.includes(visit));
    await db
      .updateTable("settled_finding")
      .set({ covers: JSON.stringify(covers) })
      .where("finding", "=", textOf(row, "finding"))
      .where("number", "=", Number(row["number"]))
      .execute();
  }
};

const forgetInTrials = async (db: Loose, visit: string): Promise<void> => {
  const rows = await db.selectFrom("what_if").select(["id", "plans"]).where("plans", "like", `%${visit}%`).execute();
  for (const row of rows) {
    const plans = (JSON.parse(textOf(row, "plans")) as readonly string[]).filter((one) => one !== visit);
    await db
      .updateTable("what_if")
      .set({ plans: JSON.stringify(plans) })
      .where("id", "=", textOf(row, "id"))
      .execute();
  }
};

/**
 * Who compares plans asks by the number of the latest; it is never given twice, or a plan kept after this would not be seen.
 */
const keepCounting = async (db: Loose, before: number): Promise<void> => {
  const row = await db.selectFrom("kept_plan").select(["visit", "seq"]).orderBy("seq", "desc").limit(1).executeTakeFirst();
  if (row === undefined || Number(row["seq"]) >= before) return;
  await db
    .updateTable("kept_plan")
    .set({ seq: before + 1 })
    .where("visit", "=", textOf(row, "visit"))
    .execute();
};

const latestSeq = async (db: Loose): Promise<number> =>
  Number((await db.selectFrom("kept_plan").select("seq").orderBy("seq", "desc").limit(1).executeTakeFirst())?.["seq"] ?? 0);

const removeOne = async (db: Loose, visit: string): Promise<void> => {
  const letters = await lettersOf(db, visit);
  if (letters.length > 0) for (const table of OF_LETTER) await db.deleteFrom(table).where("sent", "in", letters).execute();
  for (const table of OF_VISIT) await db.deleteFrom(table).where("visit", "=", visit).execute();
  for (const about of [visit, ...letters]) await db.deleteFrom("typed").where("page", "like", `%${about}%`).execute();
  await db
    .deleteFrom("audit")
    .where("subject", "in", [visit, ...letters])
    .execute();
  await uncover(db, visit);
  await forgetInTrials(db, visit);
  await db.deleteFrom("visit").where("id", "=", visit).execute();
};

/** Removes visits with every row of theirs, within a transaction in which nobody else writes; the log keeps that each was removed. */
export const removeVisitsIn = async (db: Loose, seals: Seals, visits: readonly string[], { who, when }: Act): Promise<void> => {
  const seq = await latestSeq(db);
  const marks = new Set<string>();
  for (const visit of visits) for (const mark of await marksOf(db, visit)) marks.add(mark);
  for (const table of SEALED_OF_VISIT) await seals.open(db as never, table);
  for (const visit of visits) await removeOne(db, visit);
  for (const table of SEALED_OF_VISIT) await seals.close(db as never, table);
  await removeUnborne(db, marks);
  await keepCounting(db, seq);
  for (const visit of visits)
    await db.insertInto("audit").values({ done_at: when, who, act: "visit removed", subject: visit, detail: "" }).execute();
};
