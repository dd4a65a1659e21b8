import type { World } from "../../kernel/ports.ts";
import { RULE_BASIS } from "../../model/facts/visit.ts";
import { readVisit } from "../../model/read.ts";
import { decisionsIn, provesLetters } from "../../plan/decisions.ts";
import type { Planner } from "../../plan/plan.ts";
import type { Plan } from "../../plan/schema.ts";
import type { KeptPlan } from "../../store/plans.ts";
import type { Act, Store, StoredVisit } from "../../store/store.ts";
import type { Planned } from "../planFile.ts";
import { storedPointer } from "../visits/places.ts";
import { fileOfVisit } from "../visits/planVisit.ts";

/** A decision as it is kept, in few letters: there are many. In this order: pointer with the id of its set, kind, set, maker, mark, engine’s choice, choice, what it proves, reason. */
export type KeptDecision = readonly [
  at: string,
  kind: string,
  set: string,
  maker: string,
  mark: string,
  engine: string,
  chosen: string,
  proves: string,
  reason: string,
];

export const rulebookName = ({ rulebook, digest }: Pick<Planner, "rulebook" | "digest">): string => `${rulebook.version} ${digest}`;

/** Of what a plan is kept. */
export interface ToKeep {
  readonly visit: string;
  readonly version: number;
  readonly why: KeptPlan["why"];
  /** The visit file that it was made from. */
  readonly file: string;
  readonly sets: readonly number[];
  /** The rulebook that it was made by, where that is not the planner’s. */
  readonly rulebook?: string;
}

/** A plan as it is kept to be compared. Pure. */
export const keptPlan = (planner: Planner, { read, plan }: Planned, toKeep: ToKeep, by: Act): KeptPlan => {
  const { decisions, signatures } = decisionsIn(planner, read, plan);
  const { visit, version, why, file, sets } = toKeep;
  return {
    visit,
    version,
    why,
    ...by,
    rulebook: toKeep.rulebook ?? rulebookName(planner),
    ruleBasis: String(read.answers.get(RULE_BASIS) ?? "not known"),
    vessel: plan.visit.vessel,
    file,
    sets,
    decisions: JSON.stringify(
      decisions.map(
        ({ at, kind, set, maker, mark, engine, chosen, proves, reason }): KeptDecision => [
          storedPointer(at, sets),
          kind,
          set,
          maker,
          mark,
          engine,
          chosen,
          provesLetters(proves),
          reason ?? "",
        ],
      ),
    ),
    signatures: new Map(signatures.map(({ mark, facts }) => [mark, JSON.stringify(facts.map(({ of, value }) => [of, value]))])),
  };
};

/** Keeps the plan of a visit as it stands, for its review. */
export const keepForReview = (
  { store, planner }: { readonly store: Store; readonly planner: Planner },
  stored: StoredVisit,
  planned: Planned,
  by: Act,
): Promise<void> => {
  const file = JSON.stringify(fileOfVisit(stored, planner));
  return store.keepPlan(
    keptPlan(planner, planned, { visit: stored.id, version: stored.version, why: "review", file, sets: stored.sets }, by),
  );
};

interface Keeping {
  readonly store: Store;
  readonly world: World;
  readonly planner: Planner;
}

/** Keeps the plans of letters that were made before plans were kept, as they were then. Quick where there are none. */
export const keepFormerPlans = async ({ store, planner }: Keeping): Promise<void> => {
  for (const visit of await store.visitsToKeep()) {
    const [last] = await store.madeOf(visit);
    const made = last === undefined ? null : await store.made(last.id);
    const stored = await store.visit(visit);
    if (made === null || stored === null) continue;
    const read = readVisit(JSON.parse(made.file), planner.rulebook.facts, planner.known);
    if (!read.ok) continue;
    const planned = { read: read.value, plan: JSON.parse(made.plan) as Plan };
    const toKeep = { visit, version: made.version, why: "letter", file: made.file, sets: stored.sets, rulebook: made.rulebook } as const;
    await store.keepPlan(keptPlan(planner, planned, toKeep, made));
  }
};
