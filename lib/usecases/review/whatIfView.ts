import { provesIn } from "../../plan/decisions.ts";
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

/** A decision that would be another. */
export interface ChangeLine {
  readonly visit: string;
  readonly vessel: string;
  readonly owner: string;
  readonly at: string;
  readonly set: string;
  readonly rulebook: string;
  readonly before: Side;
  readonly after: Side;
}

export interface WhatIfView {
  readonly title: string;
  readonly total: number;
  readonly done: number;
  /** Plans of which some decision would be another. */
  readonly changed: number;
  readonly decisions: number;
  /** By protection, those with most changes first. */
  readonly groups: readonly { readonly protection: string; readonly lines: readonly ChangeLine[] }[];
  readonly faults: readonly { readonly visit: string; readonly vessel: string; readonly says: string }[];
  /** Plans of which more, or fewer, tests would be reviewed; null where no policy is tried. */
  readonly review: { readonly more: number; readonly fewer: number } | null;
}

/** What a trial has come to, in words. Pure. */
export const whatIfView = ({ whatIf, tried, done, outcomes }: WhatIfNow, compare: Compare, rulebook: Rulebook): WhatIfView => {
  const words = methodWords(rulebook);
  const plans = new Map(compare.plans.map((plan) => [plan.visit, plan] as const));
  const vesselOf = (visit: string): string => plans.get(visit)?.vessel ?? "";
  const names = new Map(rulebook.protections.map(({ kind, name }) => [kind, capital(name)]));
  const side = (taken: { readonly chosen: string; readonly proves: string } | null): Side =>
    taken === null
      ? { way: "does not apply, or is not proven", proves: null }
      : { way: words(taken.chosen), proves: provesIn(taken.proves) };
  const groups = new Map<string, ChangeLine[]>();
  for (const { visit, outcome } of outcomes)
    for (const { at, kind, set, before, after } of outcome.changes) {
      const line = {
        visit,
        vessel: vesselOf(visit),
        owner: plans.get(visit)?.owner ?? "",
        at,
        set,
        rulebook: plans.get(visit)?.rulebook.split(" ")[0] ?? "",
        before: side(before),
        after: side(after),
      };
      const group = groups.get(kind);
      if (group === undefined) groups.set(kind, [line]);
      else group.push(line);
    }
  const reviews = outcomes.flatMap(({ outcome }) => (outcome.review === undefined ? [] : [outcome.review]));
  return {
    title: triedWords(tried),
    total: whatIf.plans.length,
    done,
    changed: outcomes.filter(({ outcome }) => outcome.changes.length > 0).length,
    decisions: outcomes.reduce((sum, { outcome }) => sum + outcome.changes.length, 0),
    groups: [...groups]
      .map(([kind, lines]) => ({ protection: names.get(kind) ?? kind, lines }))
      .sort((a, b) => b.lines.length - a.lines.length || (a.protection < b.protection ? -1 : 1)),
    faults: outcomes.flatMap(({ visit, outcome: { fault } }) =>
      fault === undefined ? [] : [{ visit, vessel: vesselOf(visit), says: fault }],
    ),
    review:
      tried.sort === "policy"
        ? { more: reviews.filter(([was, is]) => is > was).length, fewer: reviews.filter(([was, is]) => is < was).length }
        : null,
  };
};
