import type { Kysely } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import type { OfficePolicy } from "../model/officePolicy.ts";
import { QUICKER } from "./reviews.ts";
import type { Tables } from "./schema.ts";
import type { Act, Json } from "./store.ts";

/** What became of a draft, decided once. */
export type PolicyDecision = { readonly act: "adopted"; readonly takesEffect: string } | { readonly act: "dropped" };

/** A decision as it is kept. */
export type PolicyAct = Act &
  PolicyDecision & {
    /** Counts what was decided of all policies, in its order. */
    readonly number: number;
    readonly note: string;
  };

/** A policy of the office as it was written. */
export interface StoredPolicy extends Act {
  readonly number: number;
  readonly policy: Json;
  readonly note: string;
  /** Null while it is a draft that is being weighed. */
  readonly decided: PolicyAct | null;
}

/** So much a writer saw: the number of the last policy, and of the last decision. */
export interface PoliciesSeen {
  readonly versions: number;
  readonly acts: number;
}

export interface PolicyStore {
  /** Keeps a draft; its number. Fails where somebody wrote or decided one meanwhile; nothing is then kept. */
  readonly addPolicy: (policy: OfficePolicy, note: string, seen: PoliciesSeen, by: Act) => Promise<Result<number>>;
  /** Adopts or drops a draft. Fails where anything was decided meanwhile; nothing is then kept. */
  readonly decidePolicy: (
    version: number,
    decision: PolicyDecision,
    note: string,
    seen: Pick<PoliciesSeen, "acts">,
    by: Act,
  ) => Promise<Result<true>>;
  /** Every policy that was written, the first first. */
  readonly policies: () => Promise<readonly StoredPolicy[]>;
}

const lastIn = async (db: Kysely<Tables>, table: "policy_version" | "policy_act"): Promise<number> => {
  const { last } = await db
    .selectFrom(table)
    .select(({ fn, lit }) => fn.coalesce(fn.max("number"), lit(0)).as("last"))
    .executeTakeFirstOrThrow();
  return Number(last);
};

/** Policies of the office, on an open database. */
export const policiesOn = (db: Kysely<Tables>): PolicyStore => ({
  addPolicy: (policy, note, { versions, acts }, { who, when }) =>
    db.transaction().execute(async (inner): Promise<Result<number>> => {
      if ((await lastIn(inner, "policy_act")) !== acts) return failure(QUICKER);
      const number = versions + 1;
      const kept = await inner
        .insertInto("policy_version")
        .values({ number, policy: JSON.stringify(policy), note, who, written_at: when })
        .onConflict((conflict) => conflict.column("number").doNothing())
        .executeTakeFirst();
      return kept.numInsertedOrUpdatedRows === 0n ? failure(QUICKER) : success(number);
    }),

  // The number is the next one to what was seen, and stands once: of two who decide at once one is turned back.
  decidePolicy: async (version, decision, note, { acts }, { who, when }) => {
    const kept = await db
      .insertInto("policy_act")
      .values({
        number: acts + 1,
        version,
        act: decision.act,
        takes_effect: decision.act === "adopted" ? decision.takesEffect : null,
        note,
        who,
        done_at: when,
      })
      .onConflict((conflict) => conflict.doNothing())
      .executeTakeFirst();
    return kept.numInsertedOrUpdatedRows === 0n ? failure(QUICKER) : success(true);
  },

  policies: async () => {
    const rows = await db
      .selectFrom("policy_version as version")
      .leftJoin("policy_act as act", "act.version", "version.number")
      .select([
        "version.number",
        "version.policy",
        "version.note",
        "version.who",
        "version.written_at",
        "act.number as act_number",
        "act.takes_effect",
        "act.note as act_note",
        "act.who as act_who",
        "act.done_at",
      ])
      .orderBy("version.number")
      .execute();
    return rows.map(({ number, policy, note, who, written_at, act_number, takes_effect, act_note, act_who, done_at }) => ({
      number,
      policy: JSON.parse(policy) as Json,
      note,
      who,
      when: written_at,
      decided:
        act_number === null || act_who === null || done_at === null
          ? null
          : {
              number: act_number,
              ...(takes_effect === null ? { act: "dropped" as const } : { act: "adopted" as const, takesEffect: takes_effect }),
              note: act_note ?? "",
              who: act_who,
              when: done_at,
            },
    }));
  },
});
