import { type Altered, changesBetween } from "../../compare/plans.ts";
import { sumOf } from "../../flow/glance.ts";
import type { Preview } from "../../flow/live.ts";
import { wayWords } from "../../letter/changes.ts";
import { capital } from "../../letter/words.ts";
import type { Plan, PlanProtection } from "../../plan/schema.ts";
import type { Rulebook } from "../../rulebook/types.ts";

type Planned = Extract<Preview, { readonly plan: unknown }>;

/** Something under a reference, with what it is. */
export interface Named {
  readonly ref: string;
  readonly what: string;
}

/** What becomes of one test: how it stood, how it stands then. */
export interface ChangedTest extends Named {
  readonly before: string;
  readonly after: string;
}

/** What a change of answers does to a plan, in words. */
export interface ShownChanges {
  /** Both plans in a sentence each. */
  readonly sums: readonly [before: string, after: string];
  readonly tests: readonly ChangedTest[];
  readonly closed: readonly Named[];
  readonly asked: readonly Named[];
  readonly wanted: readonly Named[];
  readonly spared: readonly Named[];
  /** Requests that fall away because they cannot be had. */
  readonly lost: readonly Named[];
  /** What reads otherwise in another respect only, with which. */
  readonly altered: readonly (Named & Pick<Altered, "respects">)[];
}

/** How a test is to be proven, and whether that is settled. */
export const standsAs = (protection: PlanProtection, rulebook: Rulebook): string =>
  protection.decision.outcome === "combination"
    ? `${protection.decision.state}: ${wayWords(protection, rulebook)}`
    : wayWords(protection, rulebook);

/** Everything of a plan by its reference, with what it is. */
const namedIn = (plan: Plan, rulebook: Rulebook): ReadonlyMap<string, string> => {
  const names = new Map(rulebook.protections.map(({ kind, name }) => [kind, name]));
  return new Map([
    ...plan.sets.flatMap((set) =>
      set.protections.map(({ ref, kind }) => [ref, `${set.name}: ${capital(names.get(kind) ?? kind)}`] as const),
    ),
    ...plan.questions.map(({ ref, text }) => [ref, text] as const),
    ...plan.requests.map(({ ref, text }) => [ref, capital(text)] as const),
  ]);
};

/** What differs from one plan to the other, in words; `lost` are the requests that a reply refuses or gives too late. Pure. */
export const shownChanges = (
  before: Planned,
  after: Planned,
  { rulebook, lost }: { readonly rulebook: Rulebook; readonly lost: ReadonlySet<string> },
): ShownChanges => {
  const changes = changesBetween(before.plan, after.plan);
  const [were, are] = [namedIn(before.plan, rulebook), namedIn(after.plan, rulebook)];
  const named = (refs: readonly string[], letter: string): readonly Named[] =>
    refs.filter((ref) => ref.startsWith(letter)).map((ref) => ({ ref, what: are.get(ref) ?? were.get(ref) ?? "" }));
  const protections = ({ plan }: Planned): ReadonlyMap<string, PlanProtection> =>
    new Map(plan.sets.flatMap((set) => set.protections.map((one) => [one.ref, one] as const)));
  const [old, now] = [protections(before), protections(after)];
  const stands = (of: ReadonlyMap<string, PlanProtection>, ref: string): string => {
    const one = of.get(ref);
    return one === undefined || one.applies === "no" ? "does not apply" : standsAs(one, rulebook);
  };
  const told = new Set([...changes.replanned.map(({ after: one }) => one.ref), ...changes.settled]);
  for (const ref of [...changes.added, ...changes.gone]) if (ref.startsWith("T")) told.add(ref);
  return {
    sums: [sumOf(before.glance), sumOf(after.glance)],
    tests: [...now.keys(), ...[...old.keys()].filter((ref) => !now.has(ref))]
      .filter((ref) => told.has(ref))
      .map((ref) => ({ ref, what: are.get(ref) ?? were.get(ref) ?? "", before: stands(old, ref), after: stands(now, ref) })),
    closed: named(changes.gone, "Q"),
    asked: named(changes.added, "Q"),
    wanted: named(changes.added, "R"),
    spared: named(changes.gone, "R").filter(({ ref }) => !lost.has(ref)),
    lost: named([...lost], "R"),
    altered: changes.altered.map(({ ref, respects }) => ({ ref, respects, what: are.get(ref) ?? "" })),
  };
};
