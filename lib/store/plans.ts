import type { Kysely } from "kysely";
import type { Tables } from "./schema.ts";
import type { Act, Json } from "./store.ts";
import { holdName } from "./transactions.ts";

/** A plan of a visit as it is kept to be compared with others and tried anew. */
export interface KeptPlan extends Act {
  readonly visit: string;
  readonly version: number;
  /** By what it came to be kept. */
  readonly why: "review" | "letter";
  readonly rulebook: string;
  readonly ruleBasis: string;
  readonly vessel: string;
  /** JSON of the visit file. */
  readonly file: string;
  /** Ids of its sets as they stand in that file. */
  readonly sets: readonly number[];
  /** JSON of its decisions. */
  readonly decisions: string;
  /** From the mark of each of its signatures to their facts as JSON. */
  readonly signatures: ReadonlyMap<string, string>;
}

/** One of them as it is read again; `owner` is whose visit it was then. */
export type PlanLine = Omit<KeptPlan, "signatures" | "file" | "sets"> & { readonly owner: string; readonly seq: number };

/** The visit file of a kept plan, with the decisions that were made of it. */
export type PlanFile = Pick<KeptPlan, "visit" | "file" | "rulebook" | "decisions" | "sets">;

/** Something that is tried on past plans, and how far that is. */
export interface WhatIf extends Act {
  readonly id: string;
  readonly about: Json;
  /** Visits whose plans it is tried on. */
  readonly plans: readonly string[];
}

export interface WhatIfPlan {
  readonly visit: string;
  readonly outcome: Json;
}

export interface PlanStore {
  /** Keeps a plan in place of the visit's former one; an older version never takes the place of a later. */
  readonly keepPlan: (plan: KeptPlan) => Promise<void>;
  /** Plans kept later than a number, in the order they were kept. */
  readonly plansSince: (seq: number) => Promise<readonly PlanLine[]>;
  /** The highest number of a kept plan and how many there are: what tells a reader whether he has all. */
  readonly plansNow: () => Promise<{ readonly seq: number; readonly count: number }>;
  /** Facts as JSON by mark: of these marks, or of all. */
  readonly signatures: (marks?: readonly string[]) => Promise<ReadonlyMap<string, string>>;
  /** The visit files of kept plans, those of these visits. */
  readonly planFiles: (visits: readonly string[]) => Promise<readonly PlanFile[]>;
  /** Visits of which a letter was made later than their plan was kept, or no plan is kept: made before plans were, or cut off in between. */
  readonly visitsToKeep: () => Promise<readonly string[]>;
  readonly beginWhatIf: (whatIf: WhatIf) => Promise<void>;
  readonly whatIf: (id: string) => Promise<WhatIf | null>;
  /** The latest first. */
  readonly whatIfs: (limit: number) => Promise<readonly WhatIf[]>;
  readonly keepWhatIfPlans: (id: string, plans: readonly WhatIfPlan[]) => Promise<void>;
  readonly whatIfPlans: (id: string) => Promise<readonly WhatIfPlan[]>;
}

/** So many values one statement may name. */
const AT_ONCE = 400;

export const chunked = <Item>(items: readonly Item[], size = AT_ONCE): readonly (readonly Item[])[] =>
  Array.from({ length: Math.ceil(items.length / size) }, (_, place) => items.slice(place * size, (place + 1) * size));

/** Keeps the plan of a visit in place of an older one, within a transaction. */
export const insertPlan = async (inner: Kysely<Tables>, plan: KeptPlan): Promise<void> => {
  const { visit, version, why, who, when, rulebook, ruleBasis, vessel, file, sets, decisions, signatures } = plan;
  const former = await inner.selectFrom("kept_plan").select("version").where("visit", "=", visit).executeTakeFirst();
  if (former !== undefined && former.version > version) return;
  await holdName(inner, "kept_plan");
  const { seq } = await inner
    .selectFrom("kept_plan")
    .select(({ fn, lit }) => fn.coalesce(fn.max("seq"), lit(0)).as("seq"))
    .executeTakeFirstOrThrow();
  const { owner } = await inner.selectFrom("visit").select("owner").where("id", "=", visit).executeTakeFirstOrThrow();
  const row = {
    seq: Number(seq) + 1,
    version,
    why,
    owner,
    who,
    kept_at: when,
    rulebook,
    rule_basis: ruleBasis,
    vessel,
    file,
    sets: JSON.stringify(sets),
    decisions,
  };
  await inner
    .insertInto("kept_plan")
    .values({ visit, ...row })
    .onConflict((conflict) => conflict.column("visit").doUpdateSet(row))
    .execute();
  const facts = [...signatures].map(([mark, text]) => ({ mark, facts: text }));
  for (const rows of chunked(facts))
    await inner
      .insertInto("signature")
      .values([...rows])
      .onConflict((conflict) => conflict.column("mark").doNothing())
      .execute();
};

const whatIfOf = (row: { id: string; about: string; who: string; made_at: string; plans: string }): WhatIf => ({
  id: row.id,
  about: JSON.parse(row.about),
  who: row.who,
  when: row.made_at,
  plans: JSON.parse(row.plans),
});

/** Plans kept to be compared, on an open database. */
export const plansOn = (db: Kysely<Tables>): PlanStore => ({
  keepPlan: (plan) => db.transaction().execute((inner) => insertPlan(inner, plan)),

  plansSince: async (seq) => {
    const rows = await db
      .selectFrom("kept_plan")
      .select(["visit", "seq", "version", "why", "owner", "who", "kept_at", "rulebook", "rule_basis", "vessel", "decisions"])
      .where("seq", ">", seq)
      .orderBy("seq")
      .execute();
    return rows.map(({ kept_at, rule_basis, why, ...row }) => ({
      ...row,
      why: why === "review" ? "review" : "letter",
      when: kept_at,
      ruleBasis: rule_basis,
    }));
  },

  plansNow: async () => {
    const { seq, count } = await db
      .selectFrom("kept_plan")
      .select(({ fn, lit }) => [fn.coalesce(fn.max("seq"), lit(0)).as("seq"), fn.countAll().as("count")])
      .executeTakeFirstOrThrow();
    return { seq: Number(seq), count: Number(count) };
  },

  signatures: async (marks) => {
    if (marks === undefined) {
      const rows = await db.selectFrom("signature").select(["mark", "facts"]).execute();
      return new Map(rows.map(({ mark, facts }) => [mark, facts]));
    }
    const found = new Map<string, string>();
    for (const some of chunked(marks)) {
      const rows = await db.selectFrom("signature").select(["mark", "facts"]).where("mark", "in", some).execute();
      for (const { mark, facts } of rows) found.set(mark, facts);
    }
    return found;
  },

  planFiles: async (visits) => {
    const found: PlanFile[] = [];
    for (const some of chunked(visits)) {
      const rows = await db
        .selectFrom("kept_plan")
        .select(["visit", "file", "rulebook", "decisions", "sets"])
        .where("visit", "in", some)
        .execute();
      for (const { sets, ...row } of rows) found.push({ ...row, sets: JSON.parse(sets) });
    }
    return found;
  },

  visitsToKeep: async () => {
    const rows = await db
      .selectFrom("made")
      .leftJoin("kept_plan", "kept_plan.visit", "made.visit")
      .select("made.visit")
      .distinct()
      .where(({ eb, or, ref }) => or([eb("kept_plan.visit", "is", null), eb("made.made_at", ">", ref("kept_plan.kept_at"))]))
      .execute();
    return rows.map(({ visit }) => visit);
  },

  beginWhatIf: async ({ id, about, who, when, plans }) => {
    await db
      .insertInto("what_if")
      .values({ id, about: JSON.stringify(about), who, made_at: when, plans: JSON.stringify(plans) })
      .execute();
  },

  whatIf: async (id) => {
    const row = await db.selectFrom("what_if").selectAll().where("id", "=", id).executeTakeFirst();
    return row === undefined ? null : whatIfOf(row);
  },

  whatIfs: async (limit) =>
    (await db.selectFrom("what_if").selectAll().orderBy("made_at", "desc").orderBy("id").limit(limit).execute()).map(whatIfOf),

  keepWhatIfPlans: async (id, plans) => {
    for (const some of chunked(plans))
      await db
        .insertInto("what_if_plan")
        .values(some.map(({ visit, outcome }) => ({ what_if: id, visit, outcome: JSON.stringify(outcome) })))
        .onConflict((conflict) => conflict.columns(["what_if", "visit"]).doNothing())
        .execute();
  },

  whatIfPlans: async (id) => {
    const rows = await db.selectFrom("what_if_plan").select(["visit", "outcome"]).where("what_if", "=", id).orderBy("visit").execute();
    return rows.map(({ visit, outcome }) => ({ visit, outcome: JSON.parse(outcome) as Json }));
  },
});
