import type { Loose } from "./rows.ts";

const MINUTE = 60_000;
const DAY = 24 * 60 * MINUTE;

/** How long what is short-lived is kept. */
export const KEPT_FOR = { failedTries: 15 * MINUTE, invitations: 30 * DAY, typed: 90 * DAY, trials: 90 * DAY } as const;

/** What was removed, by table. */
export type Tidied = Readonly<Record<string, number>>;

const count = async (work: Promise<readonly { readonly numDeletedRows: bigint }[]>): Promise<number> =>
  (await work).reduce((sum, { numDeletedRows }) => sum + Number(numDeletedRows), 0);

/**
 * Removes what has run out: failed tries, sign-ins, invitations, what was typed and never kept, trials. Each is a deletion by its time, so that several
 * programs may do it at once. `now` is in milliseconds since 1970.
 */
export const tidyUpOn = async (db: Loose, now: number): Promise<Tidied> => {
  const before = (kept: number): string => new Date(now - kept).toISOString();
  const millis = (kept: number): string => String(now - kept);
  const trials = db.selectFrom("what_if").select("id").where("made_at", "<", before(KEPT_FOR.trials));
  const run = async (): Promise<Tidied> => ({
    failed_try: await count(db.deleteFrom("failed_try").where("tried_at", "<", millis(KEPT_FOR.failedTries)).execute()),
    session: await count(db.deleteFrom("session").where("expiresAt", "<", new Date(now).toISOString()).execute()),
    verification: await count(db.deleteFrom("verification").where("expiresAt", "<", new Date(now).toISOString()).execute()),
    invitation: await count(
      db
        .deleteFrom("invitation")
        .where(({ eb, fn }) => eb(fn.coalesce("used_at", "made_at"), "<", millis(KEPT_FOR.invitations)))
        .execute(),
    ),
    typed: await count(db.deleteFrom("typed").where("kept_at", "<", before(KEPT_FOR.typed)).execute()),
    what_if_plan: await count(db.deleteFrom("what_if_plan").where("what_if", "in", trials).execute()),
    what_if: await count(db.deleteFrom("what_if").where("made_at", "<", before(KEPT_FOR.trials)).execute()),
  });
  return run();
};
