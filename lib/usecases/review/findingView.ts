import { type Compared, decisionsOf, deviationsOf, type Finding } from "../../compare/consistency.ts";
import { specsBy } from "../../model/places.ts";
import { methodsIn, provesIn } from "../../plan/decisions.ts";
import { capital, listAnd } from "../../plan/say.ts";
import { factName, factValue, type SaidFact, sayFact } from "../../plan/sayFact.ts";
import type { Proves, Rulebook } from "../../rulebook/types.ts";
import type { SettledFinding } from "../../store/reviews.ts";
import type { Compare, OfficeDecision } from "./comparer.ts";

/** A method of a way, with its name. */
export interface WayPart {
  readonly id: string;
  readonly name: string;
}

/** The methods of a choice with their names. */
export const wayParts = ({ protections }: Rulebook): ((choice: string) => readonly WayPart[]) => {
  const names = new Map(protections.flatMap(({ methods }) => methods.map(({ id, name }) => [id, name] as const)));
  return (choice) => methodsIn(choice).map((id) => ({ id, name: names.get(id) ?? id }));
};

const said = (ways: readonly WayPart[]): string => (ways.length === 0 ? "nothing acceptable" : listAnd(ways.map(({ name }) => name)));

/** A choice of methods in words. */
export const methodWords = (rulebook: Rulebook): ((choice: string) => string) => {
  const parts = wayParts(rulebook);
  return (choice) => said(parts(choice));
};

/** One decision in the table of a finding. */
export interface FindingLine {
  readonly visit: string;
  readonly at: string;
  readonly vessel: string;
  readonly set: string;
  readonly maker: string;
  /** By id. */
  readonly inspector: string;
  readonly when: string;
  readonly ruleBasis: string;
  readonly rulebook: string;
  readonly way: string;
  readonly ways: readonly WayPart[];
  readonly proves: Proves;
  /** Why it was taken against the engine; empty where it was not. */
  readonly reason: string;
  readonly against: boolean;
  /** Where the twin differs; null elsewhere. */
  readonly differs: { readonly name: string; readonly here: string; readonly there: string } | null;
  /** Came after the finding was settled. */
  readonly isNew: boolean;
}

export interface FindingView {
  readonly id: string;
  readonly sort: Finding["sort"];
  readonly protection: string;
  readonly kind: string;
  readonly engine: string;
  /** What is found, in a sentence. */
  readonly says: string;
  readonly equal: readonly SaidFact[];
  readonly lines: readonly FindingLine[];
  /** How many decisions stand in it that are not among the lines. */
  readonly more: number;
  readonly settled: readonly SettledFinding[];
}

/** By what a settled finding knows a choice again: the same way of the same test of the same visit. */
export const coverOf = ({ plans }: Compare, { plan, at, chosen }: Compared): string => `${plans[plan]?.visit ?? ""} ${at} ${chosen}`;

/** Whether a finding is settled: it was once, and nobody has chosen against the engine in it since; what is usual stays settled. */
export const isSettled = (compare: Compare, finding: Finding, settled: readonly SettledFinding[]): boolean => {
  if (settled.length === 0) return false;
  if (finding.sort === "usual") return true;
  const covered = new Set(settled.flatMap(({ covers }) => covers));
  return deviationsOf(finding).every((decision) => covered.has(coverOf(compare, decision)));
};

const count = (many: number, one: string, more = `${one}s`): string => `${many} ${many === 1 ? one : more}`;

const saysOf = (finding: Finding<OfficeDecision>, compare: Compare, words: (choice: string) => string): string => {
  const visits = (decisions: readonly Compared[]): string =>
    count(new Set(decisions.map(({ plan }) => compare.plans[plan]?.visit)).size, "visit");
  if (finding.sort === "alike")
    return `On the same facts: ${finding.ways.map(({ chosen, decisions }) => `${words(chosen)} (${visits(decisions)})`).join("; ")}.`;
  const way = words(finding.way.chosen);
  if (finding.sort === "usual")
    return `In ${finding.visits} of ${finding.of} visits in which the engine chooses ${words(finding.engine)}, the office takes ${way}.`;
  const facts = count(new Set(finding.twins.map(({ of }) => of)).size, "fact");
  const others = visits(finding.twins.flatMap(({ decisions }) => decisions));
  return `Against the engine: ${way}. Otherwise in ${others} that differ in ${facts} only.`;
};

/** One decision as a table tells it; null where its plan is not among those compared. */
export const lineOf = (compare: Compare, decision: OfficeDecision, parts: ReturnType<typeof wayParts>): FindingLine | null => {
  const plan = compare.plans[decision.plan];
  if (plan === undefined) return null;
  const ways = parts(decision.chosen);
  return {
    visit: plan.visit,
    at: decision.at,
    vessel: plan.vessel,
    set: decision.set,
    maker: decision.maker,
    inspector: plan.owner,
    when: plan.when,
    ruleBasis: plan.ruleBasis,
    rulebook: plan.rulebook,
    way: said(ways),
    ways,
    proves: provesIn(decision.proves),
    reason: decision.reason,
    against: decision.engine !== decision.chosen,
    differs: null,
    isNew: false,
  };
};

const linesOf = (
  compare: Compare,
  finding: Finding<OfficeDecision>,
  covered: ReadonlySet<string> | null,
  rulebook: Rulebook,
  most: number,
): readonly FindingLine[] => {
  const specAt = specsBy(rulebook.facts);
  const parts = wayParts(rulebook);
  const twinOf = new Map(
    finding.sort === "twins" ? finding.twins.flatMap((twin) => twin.decisions.map((decision) => [decision, twin] as const)) : [],
  );
  const every = decisionsOf(finding);
  const shown =
    every.length <= 2 * most
      ? every
      : [deviationsOf(finding), every.filter(({ engine, chosen }) => engine === chosen)].flatMap((some) => some.slice(0, most));
  return shown.flatMap((decision): readonly FindingLine[] => {
    const line = lineOf(compare, decision, parts);
    if (line === null) return [];
    const twin = twinOf.get(decision);
    const differs =
      twin === undefined
        ? null
        : {
            name: factName(twin.of, specAt),
            here: factValue(twin.of, twin.here, specAt),
            there: factValue(twin.of, twin.there, specAt),
          };
    return [{ ...line, differs, isNew: covered !== null && line.against && !covered.has(coverOf(compare, decision)) }];
  });
};

/** What a kind of protection is called, at the head of something. */
export const nameOfKind = (rulebook: Rulebook, kind: string): string =>
  capital(rulebook.protections.find((one) => one.kind === kind)?.name ?? kind);

/** A finding in words. */
export const findingView = (
  compare: Compare,
  finding: Finding<OfficeDecision>,
  settled: readonly SettledFinding[],
  rulebook: Rulebook,
  most = Number.POSITIVE_INFINITY,
): FindingView => {
  const words = methodWords(rulebook);
  const specAt = specsBy(rulebook.facts);
  const protection = nameOfKind(rulebook, finding.kind);
  const covered = settled.length === 0 || finding.sort === "usual" ? null : new Set(settled.flatMap(({ covers }) => covers));
  const lines = linesOf(compare, finding, covered, rulebook, most);
  return {
    id: finding.id,
    sort: finding.sort,
    protection,
    kind: finding.kind,
    engine: words(finding.engine),
    says: saysOf(finding, compare, words),
    equal: finding.sort === "usual" ? [] : finding.equal.map((fact) => sayFact(fact, specAt)),
    lines,
    more: decisionsOf(finding).length - lines.length,
    settled,
  };
};
