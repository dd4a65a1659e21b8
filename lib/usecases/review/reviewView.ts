import { grouped } from "../../compare/consistency.ts";
import { decisionsIn } from "../../plan/decisions.ts";
import type { Planner } from "../../plan/plan.ts";
import { partWords } from "../../plan/readable.ts";
import type { ReviewCause, ToReview } from "../../plan/reviewable.ts";
import { capital } from "../../plan/say.ts";
import type { Plan, PlanProtection } from "../../plan/schema.ts";
import type { Proves } from "../../rulebook/types.ts";
import type { ReviewComment } from "../../store/reviews.ts";
import type { StoredVisit } from "../../store/store.ts";
import type { Planned } from "../planFile.ts";
import { storedPointer } from "../visits/places.ts";
import type { Compare } from "./comparer.ts";
import { methodWords, type WayPart, wayParts } from "./findingView.ts";
import { approvedIn, isApproved, type ReviewNow } from "./reviewNow.ts";

/** One test as its reviewer sees it. */
export interface ReviewedTest {
  readonly ref: string;
  /** Pointer in the visit file. */
  readonly at: string;
  readonly set: string;
  readonly name: string;
  readonly state: PlanProtection["decision"]["state"];
  readonly outcome: PlanProtection["decision"]["outcome"];
  readonly kind: string;
  readonly ways: readonly WayPart[];
  readonly proves: Proves;
  /** Parts that stay unproven, in words; empty where none does. */
  readonly unproven: string;
  /** What the engine chooses, and why the inspector does not; null where they agree. */
  readonly deviation: { readonly engine: string; readonly reason: string } | null;
  /** A choice that the engine refused; empty where there is none. */
  readonly refused: string;
  /** How the office decided elsewhere on the same facts: in so many visits so. */
  readonly elsewhere: readonly { readonly way: string; readonly count: number }[];
  readonly mark: string;
  readonly wanted: string;
  readonly approved: boolean;
  readonly comments: readonly ReviewComment[];
  /** Sets of which all this is true as well. */
  readonly also: readonly { readonly ref: string; readonly at: string; readonly set: string }[];
}

export interface ReviewView {
  readonly deviations: readonly ReviewedTest[];
  readonly risks: {
    readonly tests: readonly ReviewedTest[];
    readonly words: readonly string[];
  };
  readonly unproven: readonly ReviewedTest[];
  readonly others: readonly ReviewedTest[];
  /** Comments on the plan as a whole, and on tests that stand no longer in it. */
  readonly general: readonly ReviewComment[];
}

const causeWords = (cause: ReviewCause): string => {
  switch (cause.sort) {
    case "deviation":
      return "a choice against the order of preference";
    case "unproven":
      return `${partWords(cause.parts)} stays unproven`;
    case "every plan":
      return "every plan is reviewed";
  }
};

const wantedWords = (wanted: ToReview | undefined): string => wanted?.causes.map(causeWords).join("; ") ?? "";

const elsewhereOf = (compare: Compare, visit: string, mark: string, words: (choice: string) => string) => {
  const visits = new Map<string, Set<number>>();
  for (const { plan, chosen } of compare.bearing(mark))
    if (compare.plans[plan]?.visit !== visit) visits.set(chosen, (visits.get(chosen) ?? new Set()).add(plan));
  return [...visits].map(([choice, plans]) => ({ way: words(choice), count: plans.size })).sort((a, b) => b.count - a.count);
};

/** The same test of several sets, of which the same is true, once. */
const joinedSets = (tests: readonly ReviewedTest[]): readonly ReviewedTest[] => {
  // Beside a choice against the engine it is told how the office decided on the same facts: these must be the same.
  const alike = ({ ref: _ref, at: _at, set: _set, comments: _comments, also: _also, elsewhere: _elsewhere, mark, ...rest }: ReviewedTest) =>
    JSON.stringify([rest, rest.deviation === null ? "" : mark]);
  return [...grouped(tests, alike).values()].flatMap(([first, ...others]) =>
    first === undefined
      ? []
      : [
          {
            ...first,
            comments: [first, ...others].flatMap(({ comments }) => comments),
            also: others.map(({ ref, at, set }) => ({ ref, at, set })),
          },
        ],
  );
};

/** What is open in a plan beside its tests: what the rules, the days or the machinery leave in doubt. */
const riskWords = ({ warnings, findings, requests }: Plan): readonly string[] => [
  ...requests.filter(({ late }) => late === true).map(({ ref, text }) => `${ref}: ${capital(text)} can no longer be had in time.`),
  // What the inspector chose against the engine stands above it already.
  ...warnings.map(({ text }) => text).filter((text) => !text.endsWith("the supervisor sees it.")),
  ...findings.map(({ text }) => text),
];

/**
 * A plan as its reviewer sees it: choices against the engine first, then open risks, then parts that stay unproven, then the rest. Each test stands
 * once, where it weighs most.
 */
export const reviewView = (
  planner: Planner,
  stored: StoredVisit,
  { read, plan }: Planned,
  review: ReviewNow,
  compare: Compare,
): ReviewView => {
  const { rulebook } = planner;
  const [words, parts] = [methodWords(rulebook), wayParts(rulebook)];
  const own = new Map(decisionsIn(planner, read, plan).decisions.map((decision) => [decision.at, decision] as const));
  const wanted = new Map(review.wanted.map((one) => [one.protection.at, one] as const));
  const approved = approvedIn(review.events);
  const names = new Map(rulebook.protections.map(({ kind, name }) => [kind, name]));
  const tests = plan.sets.flatMap(({ name: set, protections }) =>
    protections
      .filter(({ applies }) => applies !== "no")
      .map((protection): ReviewedTest => {
        const { ref, at, kind, decision, deviation } = protection;
        const kept = own.get(at);
        const against = kept !== undefined && kept.engine !== kept.chosen;
        const storedAt = storedPointer(at, stored.sets);
        return {
          ref,
          at,
          set,
          name: capital(names.get(kind) ?? kind),
          state: decision.state,
          outcome: decision.outcome,
          kind,
          ways: parts(decision.methods.join("+")),
          proves: decision.proves,
          unproven: decision.outcome === "combination" && decision.unproven.length > 0 ? partWords(decision.unproven) : "",
          deviation: against ? { engine: words(kept.engine), reason: kept.reason ?? "" } : null,
          refused: deviation?.refused === true ? deviation.reason : "",
          elsewhere: against ? elsewhereOf(compare, stored.id, kept.mark, words) : [],
          mark: kept?.mark ?? "",
          wanted: wantedWords(wanted.get(at)),
          approved: isApproved(approved, protection, stored.sets),
          comments: review.comments.filter((comment) => comment.at === storedAt),
          also: [],
        };
      }),
  );
  const sort = ({ deviation, refused, outcome, unproven }: ReviewedTest): keyof ReviewView =>
    deviation !== null
      ? "deviations"
      : refused !== "" || outcome === "nothing acceptable"
        ? "risks"
        : unproven !== ""
          ? "unproven"
          : "others";
  const of = (group: keyof ReviewView): readonly ReviewedTest[] => joinedSets(tests.filter((test) => sort(test) === group));
  const shown = new Set(tests.map(({ at }) => storedPointer(at, stored.sets)));
  return {
    deviations: of("deviations"),
    risks: { tests: of("risks"), words: riskWords(plan) },
    unproven: of("unproven"),
    others: of("others"),
    general: review.comments.filter(({ at }) => !shown.has(at)),
  };
};
