import { type WouldChange, wouldChange } from "../../compare/whatIf.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { decisionsIn, type PlanDecision, provesIn } from "../../plan/decisions.ts";
import type { PlanFile } from "../../store/plans.ts";
import type { Act, StoredVisit } from "../../store/store.ts";
import type { Planned } from "../planFile.ts";
import { placedPointer } from "../visits/places.ts";
import { planVisit } from "../visits/planVisit.ts";
import type { ReviewWorld } from "./decide.ts";
import { type KeptDecision, keepForReview, rulebookName } from "./keepPlan.ts";

/** Decisions as they were kept, at their places in a visit with these sets. */
export const keptDecisions = ({ decisions }: Pick<PlanFile, "decisions">, sets: readonly number[]): readonly PlanDecision[] =>
  (JSON.parse(decisions) as readonly KeptDecision[]).map(([at, kind, set, maker, mark, engine, chosen, proves, reason]) => ({
    at: placedPointer(at, sets),
    kind,
    set,
    maker,
    mark,
    engine,
    chosen,
    proves: provesIn(proves),
    ...(reason === "" ? {} : { reason }),
  }));

/** A plan that was kept by another rulebook than today’s, with what is decided otherwise now. */
export interface OtherRulebook {
  readonly was: string;
  readonly is: string;
  readonly changes: readonly WouldChange[];
}

/** Null where the visit has no kept plan, or one by today’s rulebook. */
export const otherRulebook = async (
  { store, planner }: Pick<ReviewWorld, "store" | "planner">,
  stored: StoredVisit,
  { read, plan }: Planned,
): Promise<OtherRulebook | null> => {
  const [kept] = await store.planFiles([stored.id]);
  const is = rulebookName(planner);
  if (kept === undefined || kept.rulebook === is) return null;
  const changes = wouldChange(keptDecisions(kept, stored.sets), decisionsIn(planner, read, plan).decisions);
  const version = (name: string): string => name.split(" ")[0] ?? "";
  return { was: version(kept.rulebook), is: version(is), changes };
};

/** Keeps the plan of a visit as today’s rulebook makes it, in place of the one kept before. */
export const runAgain = async ({ store, planner }: ReviewWorld, stored: StoredVisit, by: Act): Promise<Result<null>> => {
  const planned = planVisit(stored, planner);
  if (!planned.ok) return failure("This plan cannot be made as things stand; its letter page tells what is missing");
  await keepForReview({ store, planner }, stored, planned.value, by);
  return success(null);
};
