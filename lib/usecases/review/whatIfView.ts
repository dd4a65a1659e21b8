import { grouped } from "../../compare/consistency.ts";
import type { WouldChange } from "../../compare/whatIf.ts";
import { provesIn } from "../../plan/decisions.ts";
import { checkPolicy } from "../../plan/policyCheck.ts";
import { capital } from "../../plan/say.ts";
import type { Proves, Rulebook } from "../../rulebook/types.ts";
import type { Compare } from "./comparer.ts";
import { methodWords } from "./findingView.ts";
import type { Tried, WhatIfNow } from "./whatIf.ts";

/** What is tried, in a few words. */
export const triedWords = (tried: Tried): string => {
  switch (tried.sort) {
    case "policy":
      return `Policy ${tried.number}${tried.note === "" ? "" : `: ${tried.note}`}`;
    case "rulebook":
      return `The rulebook of this program, ${tried.name.split(" ")[0] ?? ""}`;
    case "file":
      return `Rulebook ${tried.name}`;
  }
};

interface Side {
  readonly way: string;
  readonly proves: Proves | null;
}

/** One plan in which decisions would be others in the same way. */
export interface ChangedPlan {
  readonly visit: string;
  readonly vessel: string;
  readonly owner: string;
  readonly sets: readonly string[];
  readonly rulebook: string;
}

/** One way in which decisions of a protection would be others. */
export interface Change {
  readonly before: Side;
  readonly after: Side;
  readonly decisions: number;
  readonly plans: readonly ChangedPlan[];
}

export interface WhatIfView {
  readonly title: string;
  readonly total: number;
  readonly done: number;
  /** Plans of which some decision would be another. */
  readonly changed: number;
  readonly decisions: number;
  /** By protection, those with most changes first. */
  readonly groups: readonly {
    readonly protection: string;
    readonly kind: string;
    readonly decisions: number;
    readonly changes: readonly Change[];
  }[];
  readonly faults: readonly { readonly visit: string; readonly vessel: string; readonly says: string }[];
  /** Plans of which another number of tests would be reviewed; null where no policy is tried. */
  readonly review: readonly { readonly visit: string; readonly vessel: string; readonly before: number; readonly after: number }[] | null;
  /** Why what is tried could not be adopted. */
  readonly refused: readonly string[];
}

const NOT_THERE = "does not apply, or is not proven";

/** What a trial has come to, in words. Pure. */
export const whatIfView = ({ whatIf, tried, done, outcomes }: WhatIfNow, compare: Compare, rulebook: Rulebook): WhatIfView => {
  const words = methodWords(rulebook);
  const plans = new Map(compare.plans.map((plan) => [plan.visit, plan] as const));
  const vesselOf = (visit: string): string => plans.get(visit)?.vessel ?? "";
  const names = new Map(rulebook.protections.map(({ kind, name }) => [kind, capital(name)]));
  const side = (taken: WouldChange["before"]): Side =>
    taken === null ? { way: NOT_THERE, proves: null } : { way: words(taken.chosen), proves: provesIn(taken.proves) };
  const each = outcomes.flatMap(({ visit, outcome }) => outcome.changes.map((change) => ({ visit, ...change })));
  const groups = [...grouped(each, ({ kind }) => kind)].map(([kind, ofKind]) => ({
    protection: names.get(kind) ?? kind,
    kind,
    decisions: ofKind.length,
    changes: [...grouped(ofKind, ({ before, after }) => JSON.stringify([before, after])).values()]
      .map((alike): Change => {
        const [first] = alike;
        return {
          before: side(first?.before ?? null),
          after: side(first?.after ?? null),
          decisions: alike.length,
          plans: [...grouped(alike, ({ visit }) => visit)].map(([visit, own]) => ({
            visit,
            vessel: vesselOf(visit),
            owner: plans.get(visit)?.owner ?? "",
            sets: own.map(({ set }) => set),
            rulebook: plans.get(visit)?.rulebook.split(" ")[0] ?? "",
          })),
        };
      })
      .sort((a, b) => b.decisions - a.decisions),
  }));
  return {
    title: triedWords(tried),
    total: whatIf.plans.length,
    done,
    changed: outcomes.filter(({ outcome }) => outcome.changes.length > 0).length,
    decisions: each.length,
    groups: groups.sort((a, b) => b.decisions - a.decisions || (a.protection < b.protection ? -1 : 1)),
    faults: outcomes.flatMap(({ visit, outcome: { fault } }) =>
      fault === undefined ? [] : [{ visit, vessel: vesselOf(visit), says: fault }],
    ),
    review:
      tried.sort === "policy"
        ? outcomes.flatMap(({ visit, outcome: { review } }) =>
            review === undefined || review[0] === review[1]
              ? []
              : [{ visit, vessel: vesselOf(visit), before: review[0], after: review[1] }],
          )
        : null,
    refused: tried.sort === "policy" ? checkPolicy(rulebook, tried.after).refused.map(({ says }) => says) : [],
  };
};
