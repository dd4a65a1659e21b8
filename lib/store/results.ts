import type { Kysely } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import { textOf } from "./answers.ts";
import { held, NO_VISIT } from "./changes.ts";
import type { Tables } from "./schema.ts";
import type { Conflict, Json, Store, StoredResult } from "./store.ts";

const entriesIn = async (db: Kysely<Tables>, visit: string): Promise<readonly StoredResult[]> => {
  const rows = await db
    .selectFrom("result")
    .select(["at", "version", "value", "who", "saved_at"])
    .where("visit", "=", visit)
    .orderBy("at")
    .orderBy("version", "desc")
    .execute();
  return rows.map(({ value, saved_at, ...row }) => ({
    ...row,
    when: saved_at,
    ...(value === null ? {} : { value: JSON.parse(value) as Json }),
  }));
};

/** What became of the tests aboard, on an open database. */
export const resultsOn = (db: Kysely<Tables>): Pick<Store, "keepResults" | "resultsOf"> => ({
  keepResults: (visit, writes, { who, when }) =>
    db.transaction().execute(async (inner): Promise<Result<readonly Conflict[]>> => {
      if (!(await held(inner, visit))) return failure(NO_VISIT);
      const entries = await entriesIn(inner, visit);
      const conflicts: Conflict[] = [];
      for (const { at, value, seen } of writes) {
        const own = entries.filter((entry) => entry.at === at);
        const [latest] = own;
        // Sent twice, since the answer to the first was lost on the way, an entry is one; what only repeats what its writer saw is none.
        if (textOf(value) === textOf(latest?.value)) continue;
        if (latest !== undefined && latest.version > seen) {
          const before = own.find(({ version }) => version === seen);
          if (textOf(value) !== textOf(before?.value)) conflicts.push({ at, yours: value, theirs: latest });
          continue;
        }
        const version = (latest?.version ?? 0) + 1;
        await inner
          .insertInto("result")
          .values({ visit, at, version, value: textOf(value), who, saved_at: when })
          .execute();
      }
      return success(conflicts);
    }),
  resultsOf: (visit) => entriesIn(db, visit),
});
