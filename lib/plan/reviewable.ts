import { digestOf } from "../kernel/digest.ts";
import type { ReviewPolicy } from "../model/officePolicy.ts";
import type { Part } from "../rulebook/types.ts";
import type { Plan, PlanProtection } from "./schema.ts";

/** Why a test is to be seen by a supervisor before a letter goes out. */
export type ReviewCause =
  | { readonly sort: "every plan" }
  | { readonly sort: "deviation" }
  | { readonly sort: "unproven"; readonly parts: readonly Part[] };

/** A test that is to be reviewed, as it stands. */
export interface ToReview {
  readonly protection: PlanProtection;
  readonly causes: readonly ReviewCause[];
  /** Of all that an approval is about: another way, proof or reason is another mark. */
  readonly mark: string;
}

const causesOf = ({ deviation, decision }: PlanProtection, policy: ReviewPolicy): readonly ReviewCause[] => {
  const parts = decision.unproven.filter((part) => policy.consent.includes(part));
  return [
    ...(policy.deviations && deviation !== undefined && !deviation.refused ? [{ sort: "deviation" } as const] : []),
    ...(parts.length > 0 ? [{ sort: "unproven", parts } as const] : []),
    ...(policy.everyPlan ? [{ sort: "every plan" } as const] : []),
  ];
};

/** What of a test an approval is about: the way, what it proves, and why another was taken. That its facts were confirmed since changes none of it. */
export const approvalMark = ({ kind, decision, deviation }: PlanProtection): string =>
  digestOf([
    kind,
    decision.outcome,
    decision.methods,
    decision.proves,
    deviation === undefined || deviation.refused ? null : [deviation.method, deviation.reason],
  ]);

/** The tests of a plan that the office's policy wants reviewed. Pure. */
export const toReview = (plan: Plan, policy: ReviewPolicy): readonly ToReview[] =>
  plan.sets
    .flatMap(({ protections }) => protections)
    .filter(({ applies }) => applies !== "no")
    .flatMap((protection): readonly ToReview[] => {
      const causes = causesOf(protection, policy);
      return causes.length === 0 ? [] : [{ protection, causes, mark: approvalMark(protection) }];
    });
