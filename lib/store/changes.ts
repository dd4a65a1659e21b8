import type { Kysely, Transaction } from "kysely";
import { valueAt } from "../model/fault.ts";
import type { Tables } from "./schema.ts";
import type { Act, Frame, Made, Standing } from "./store.ts";

export const NO_VISIT = "there is no such visit";

/** Counts a change and holds the visit against others until the transaction ends; its new version, or null where there is none. */
export const count = async (db: Transaction<Tables>, id: string, { who, when }: Act): Promise<number | null> => {
  const row = await db
    .updateTable("visit")
    .set(({ eb }) => ({ version: eb("version", "+", 1), changed_at: when, changed_by: who }))
    .where("id", "=", id)
    .returning("version")
    .executeTakeFirst();
  return row?.version ?? null;
};

/** Holds a visit against others until the transaction ends, and changes nothing of it; false where there is none. */
export const held = async (db: Transaction<Tables>, id: string): Promise<boolean> => {
  const row = await db
    .updateTable("visit")
    .set(({ ref }) => ({ version: ref("version") }))
    .where("id", "=", id)
    .returning("id")
    .executeTakeFirst();
  return row !== undefined;
};

/** What ends a transaction without a fault of the database: it is taken back, and this is the outcome. */
export class TakenBack<Value> extends Error {
  readonly outcome: Value;
  constructor(outcome: Value) {
    super("taken back");
    this.outcome = outcome;
  }
}

export const rolledBack = async <Value>(work: Promise<Value>): Promise<Value> => {
  try {
    return await work;
  } catch (error) {
    if (error instanceof TakenBack) return (error as TakenBack<Value>).outcome;
    throw error;
  }
};

export const MEANWHILE = "somebody else changed the visit meanwhile";

const dayAt = (frame: unknown, at: string): string | null => {
  const day = valueAt(frame, at);
  return typeof day === "string" && /^\d{4}-\d\d-\d\d$/.test(day) ? day : null;
};

/** The first day of a visit by its frame; null where that tells none. */
export const beginsOn = (frame: unknown): string | null => dayAt(frame, "/visit/window/from");

/** Its last day; its first where only that is told. */
export const endsOn = (frame: unknown): string | null => dayAt(frame, "/visit/window/to") ?? beginsOn(frame);

/** Puts a frame in place of a visit's; false where it was changed since the version that was seen. */
export const changeFrame = async (
  db: Transaction<Tables>,
  id: string,
  { vessel, frame, sets }: Frame,
  { version, seen }: { readonly version: number; readonly seen: number },
): Promise<boolean> => {
  const changed = await db
    .updateTable("visit")
    .set({
      vessel,
      frame: JSON.stringify(frame),
      begins_on: beginsOn(frame),
      ends_on: endsOn(frame),
      sets: JSON.stringify(sets),
      frame_version: version,
    })
    .where("id", "=", id)
    .where("frame_version", "<=", seen)
    .executeTakeFirst();
  return changed.numUpdatedRows > 0n;
};

/** Keeps a letter that was made. */
export const insertMade = async (db: Kysely<Tables>, { when, pdf, ...made }: Made): Promise<void> => {
  await db
    .insertInto("made")
    .values({ ...made, made_at: when, pdf: Buffer.from(pdf) })
    .execute();
};

export const CONFIRMED = "the reply was confirmed and sent already";

/** Holds the reply of a letter against others until the transaction ends, and counts a change; null where it is confirmed. */
export const countReply = async (db: Transaction<Tables>, sent: string): Promise<number | null> => {
  const row = await db
    .updateTable("reply")
    .set(({ eb }) => ({ version: eb("version", "+", 1) }))
    .where("sent", "=", sent)
    .where("confirmed_at", "is", null)
    .returning("version")
    .executeTakeFirst();
  return row?.version ?? null;
};

/** Keeps how far the exchange of a visit is; no change of the visit. */
export const setStanding = async (db: Kysely<Tables>, visit: string, standing: Standing): Promise<void> => {
  await db
    .updateTable("visit")
    .set({ standing: JSON.stringify(standing), due_on: standing.due?.day ?? null })
    .where("id", "=", visit)
    .execute();
};
