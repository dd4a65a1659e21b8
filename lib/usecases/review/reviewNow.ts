import type { ReviewPolicy } from "../../model/officePolicy.ts";
import { approvalMark, type ToReview, toReview } from "../../plan/reviewable.ts";
import type { Plan, PlanProtection } from "../../plan/schema.ts";
import type { ReviewComment, ReviewEvent } from "../../store/reviews.ts";
import type { Store, StoredVisit } from "../../store/store.ts";
import { policyInForce } from "../policy/inForce.ts";
import { storedPointer } from "../visits/places.ts";

/** How far the review of a visit’s plan is. */
export interface ReviewNow {
  readonly state: "not asked" | "asked" | "sent back" | "approved";
  /** What was last done about it; null where nothing was. */
  readonly last: ReviewEvent | null;
  readonly events: readonly ReviewEvent[];
  readonly comments: readonly ReviewComment[];
  /** What the office’s policy of today wants reviewed of this plan. */
  readonly wanted: readonly ToReview[];
  /** What of it is not approved as it stands: no letter goes out before it is. */
  readonly missing: readonly ToReview[];
}

const stateOf = (last: ReviewEvent | undefined): ReviewNow["state"] =>
  last === undefined || last.act === "withdrawn" ? "not asked" : last.act;

const key = (at: string, mark: string): string => `${at} ${mark}`;

/** Every approval that still holds: those since the plan was last sent back. Pure. */
export const approvedIn = (events: readonly ReviewEvent[]): ReadonlySet<string> => {
  const back = events.findLastIndex(({ act }) => act === "sent back");
  return new Set(events.slice(back + 1).flatMap(({ marks }) => Object.entries(marks).map(([at, mark]) => key(at, mark))));
};

export const isApproved = (approved: ReadonlySet<string>, protection: PlanProtection, sets: readonly number[]): boolean =>
  approved.has(key(storedPointer(protection.at, sets), approvalMark(protection)));

/** How far the review of a plan is, by what was done and what is wanted of it. Pure. */
export const reviewBy = (
  plan: Plan,
  sets: readonly number[],
  policy: ReviewPolicy,
  events: readonly ReviewEvent[],
  comments: readonly ReviewComment[],
): ReviewNow => {
  const wanted = toReview(plan, policy);
  const approved = approvedIn(events);
  return {
    state: stateOf(events.at(-1)),
    last: events.at(-1) ?? null,
    events,
    comments,
    wanted,
    missing: wanted.filter(({ protection }) => !isApproved(approved, protection, sets)),
  };
};

/** How far the review of a visit is; `today` is a plain date. */
export const reviewNow = async (store: Store, stored: StoredVisit, plan: Plan, today: string): Promise<ReviewNow> => {
  const { policy } = await policyInForce(store, today);
  return reviewBy(plan, stored.sets, policy.review, await store.reviewOf(stored.id), await store.commentsOf(stored.id));
};

/** Why no letter of a plan may go out yet, naming the tests; null where one may. */
export const unreviewed = ({ missing, state }: ReviewNow): string | null => {
  if (missing.length === 0) return null;
  const named = missing.slice(0, 6).map(({ protection }) => protection.ref);
  const more = missing.length > named.length ? ` and ${missing.length - named.length} more` : "";
  const how =
    state === "asked"
      ? "its review was asked for and is not decided yet"
      : state === "sent back"
        ? "it was sent back"
        : state === "approved"
          ? "it was changed after it was approved"
          : "its review was not asked for yet";
  return `Review: the office’s policy wants ${named.join(", ")}${more} approved by a supervisor before a letter goes out; ${how}`;
};
