import type { World } from "../../kernel/ports.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { text } from "../../model/text.ts";
import type { Planner } from "../../plan/plan.ts";
import { approvalMark } from "../../plan/reviewable.ts";
import type { Plan } from "../../plan/schema.ts";
import { QUICKER, type ReviewAct, type ReviewComment } from "../../store/reviews.ts";
import type { Act, Store, StoredVisit } from "../../store/store.ts";
import { storedPointer } from "../visits/places.ts";
import { planVisit } from "../visits/planVisit.ts";
import { keepForReview } from "./keepPlan.ts";

/** So much may be said at once. */
export const LONGEST_WORDS = 2_000;

/** What somebody does about the review of a plan, as his page showed it. */
export interface Deciding {
  readonly act: ReviewAct;
  readonly words: string;
  /** Comments by pointer in the visit file; under "" one of the whole plan. */
  readonly comments: ReadonlyMap<string, string>;
  /** How many events the page showed, and the version of the visit. */
  readonly seen: number;
  readonly version: number;
  /** Whether he stands in for whose visit it is. */
  readonly standsIn?: boolean;
}

/** What is wrong with it, and in which field of the page. */
export interface ReviewFault {
  readonly field: string;
  readonly says: string;
}

export interface ReviewWorld {
  readonly store: Store;
  readonly world: World;
  readonly planner: Planner;
}

const fault = (field: string, says: string): Result<never, ReviewFault> => failure({ field, says });

const wordsFault = (field: string, label: string, words: string): ReviewFault | null => {
  if (words.trim() === "") return null;
  if (words.trim().length > LONGEST_WORDS)
    return { field, says: `${label}: given ${words.trim().length} characters; wanted at most ${LONGEST_WORDS}` };
  const read = text(LONGEST_WORDS).safeParse(words.trim());
  return read.success ? null : { field, says: `${label}: ${read.error.issues[0]?.message ?? "wanted another"}` };
};

/** By which a page names the field of a comment. */
export const commentField = (at: string): string => `comment${at.replaceAll("/", "-")}`;

const commentsFrom = (
  { world }: ReviewWorld,
  { id, sets }: StoredVisit,
  comments: ReadonlyMap<string, string>,
  by: Act,
): readonly ReviewComment[] =>
  [...comments]
    .filter(([, words]) => words.trim() !== "")
    .map(([at, words]) => ({ id: world.newId(), visit: id, at: at === "" ? "" : storedPointer(at, sets), words: words.trim(), ...by }));

const marksOf = (plan: Plan, sets: readonly number[]): Readonly<Record<string, string>> =>
  Object.fromEntries(
    plan.sets
      .flatMap(({ protections }) => protections)
      .filter(({ applies }) => applies !== "no")
      .map((protection) => [storedPointer(protection.at, sets), approvalMark(protection)]),
  );

const faultsIn = (deciding: Deciding): readonly ReviewFault[] => {
  const { act, words, comments } = deciding;
  const label = act === "asked" ? "Note" : act === "sent back" ? "Reasons" : "Words";
  const missing =
    act === "sent back" && words.trim() === "" && [...comments.values()].every((one) => one.trim() === "")
      ? [{ field: "words", says: "Reasons: given nothing; wanted why it is sent back, here or at its tests" }]
      : [];
  const own = wordsFault("words", label, words);
  return [
    ...missing,
    ...(own === null ? [] : [own]),
    ...[...comments].flatMap(([at, said]) => wordsFault(commentField(at), "Comment", said) ?? []),
  ];
};

/**
 * Asks for a review, takes that back, approves a plan as it stands or sends it back, with comments. Fails, and keeps nothing, where the visit was changed
 * or somebody else decided after the page was shown, where the plan cannot be made, and where who prepares the visit would approve his own.
 */
export const decideReview = async (
  office: ReviewWorld,
  stored: StoredVisit,
  deciding: Deciding,
  by: Act,
): Promise<Result<null, ReviewFault>> => {
  const { store, planner } = office;
  const { act, words, seen, version } = deciding;
  const faults = faultsIn(deciding);
  if (faults.length > 0) return failure(...faults);
  if (version !== stored.version)
    return fault("decide", "The visit was changed after you opened this page. Look at the plan again, then decide");
  const planned = planVisit(stored, planner);
  if (!planned.ok) return fault("decide", "This plan cannot be made yet; its letter page tells what is missing");
  if (act === "approved" && (stored.owner === by.who || deciding.standsIn === true))
    return fault("decide", "This visit is your own, or you stand in for whose it is: another supervisor approves it");
  if (act === "asked") await keepForReview(office, stored, planned.value, by);
  const kept = await store.addReview(
    {
      visit: stored.id,
      number: seen + 1,
      act,
      version,
      words: words.trim(),
      marks: act === "approved" ? marksOf(planned.value.plan, stored.sets) : {},
      ...by,
    },
    commentsFrom(office, stored, deciding.comments, by),
  );
  if (kept.ok) return success(null);
  return kept.faults[0] === QUICKER
    ? fault(
        "decide",
        "Somebody else decided after you opened this page. Look at what he decided; what you wrote stands below and is not lost",
      )
    : fault("decide", kept.faults.join("; "));
};

/** Keeps comments without deciding anything. */
export const keepComments = async (
  office: ReviewWorld,
  stored: StoredVisit,
  comments: ReadonlyMap<string, string>,
  by: Act,
): Promise<Result<number, ReviewFault>> => {
  const faults = [...comments].flatMap(([at, said]) => wordsFault(commentField(at), "Comment", said) ?? []);
  if (faults.length > 0) return failure(...faults);
  const written = commentsFrom(office, stored, comments, by);
  if (written.length === 0) return fault("decide", "Comments: given nothing; wanted words at one of the tests, or for the whole plan");
  await office.store.addComments(written);
  return success(written.length);
};
