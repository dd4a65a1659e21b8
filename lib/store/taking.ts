import type { Kysely, Transaction } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import { insertAnswers } from "./answers.ts";
import { changeFrame, count, MEANWHILE, NO_VISIT, rolledBack, TakenBack } from "./changes.ts";
import type { ExchangeStore, TakingReply } from "./exchanges.ts";
import type { Tables } from "./schema.ts";
import type { Act } from "./store.ts";

type Taken = Pick<Tables["reply"], "taken_at" | "taken_by" | "outcome">;

/** Marks a reply as taken in or, with nothing, as waiting again; false where it is so already or where it is not confirmed. */
const mark = async (db: Transaction<Tables>, sent: string, taken: Taken): Promise<boolean> => {
  const done = await db
    .updateTable("reply")
    .set(taken)
    .where("sent", "=", sent)
    .where("confirmed_at", "is not", null)
    .where("taken_at", taken.taken_at === null ? "is not" : "is", null)
    .executeTakeFirst();
  return done.numUpdatedRows > 0n;
};

const SEEN_TO = "the reply was taken in already, or is not confirmed yet";
const NOT_TAKEN = "the reply is not taken in";

/** Writes frame, answers and the reply's state in one transaction. */
const written = (
  db: Kysely<Tables>,
  { visit, sent, seen, frame, answers }: Omit<TakingReply, "outcome">,
  taken: Taken,
  by: Act,
): Promise<Result<{ readonly version: number }>> =>
  rolledBack(
    db.transaction().execute(async (inner): Promise<Result<{ readonly version: number }>> => {
      const version = await count(inner, visit, by);
      if (version === null) return failure(NO_VISIT);
      if (!(await mark(inner, sent, taken))) throw new TakenBack(failure(taken.taken_at === null ? NOT_TAKEN : SEEN_TO));
      // Answers count as well as the frame: what was weighed was the whole visit.
      if (version !== seen + 1 || !(await changeFrame(inner, visit, frame, { version, seen }))) throw new TakenBack(failure(MEANWHILE));
      await insertAnswers(inner, visit, version, answers, by);
      return success({ version });
    }),
  );

/** Taking replies into their visits, and taking that back, on an open database. */
export const takingOn = (db: Kysely<Tables>): Pick<ExchangeStore, "takeReply" | "takeBackReply"> => ({
  takeReply: ({ outcome, ...taking }, by) =>
    written(db, taking, { taken_at: by.when, taken_by: by.who, outcome: JSON.stringify(outcome) }, by),
  takeBackReply: (taking, by) => written(db, taking, { taken_at: null, taken_by: null, outcome: null }, by),
});
