import { decisionsOf, deviationsOf, type Finding, grouped } from "../../compare/consistency.ts";
import type { World } from "../../kernel/ports.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { text } from "../../model/text.ts";
import { methodsIn } from "../../plan/decisions.ts";
import type { Planner } from "../../plan/plan.ts";
import { QUICKER, SETTLED_HOW, type SettledFinding } from "../../store/reviews.ts";
import type { Act, Store } from "../../store/store.ts";
import type { Compare, OfficeDecision } from "./comparer.ts";
import { LONGEST_WORDS, type ReviewFault } from "./decide.ts";
import { coverOf, type FindingView, findingView, isSettled } from "./findingView.ts";

/** Which findings are wanted: those in which at least one decision is all of this. Empty is any. */
export interface FindingFilter {
  readonly vessel: string;
  readonly maker: string;
  /** Id of a method, planned or chosen by the engine. */
  readonly method: string;
  /** Id of whose visit it is. */
  readonly inspector: string;
  readonly ruleBasis: string;
  /** Plain dates, both within. */
  readonly from: string;
  readonly to: string;
  /** Those that are settled too. */
  readonly settled: boolean;
}

export const NO_FILTER: FindingFilter = {
  vessel: "",
  maker: "",
  method: "",
  inspector: "",
  ruleBasis: "",
  from: "",
  to: "",
  settled: false,
};

const holds = (own: string, wanted: string): boolean => wanted === "" || own.toLowerCase().includes(wanted.trim().toLowerCase());

const matches =
  ({ plans }: Compare, filter: FindingFilter) =>
  ({ plan, maker, engine, chosen }: OfficeDecision): boolean => {
    const own = plans[plan];
    if (own === undefined) return false;
    const day = own.when.slice(0, 10);
    return (
      holds(own.vessel, filter.vessel) &&
      holds(maker, filter.maker) &&
      (filter.method === "" || methodsIn(engine).includes(filter.method) || methodsIn(chosen).includes(filter.method)) &&
      (filter.inspector === "" || own.owner === filter.inspector) &&
      (filter.ruleBasis === "" || own.ruleBasis === filter.ruleBasis) &&
      (filter.from === "" || day >= filter.from) &&
      (filter.to === "" || day <= filter.to)
    );
  };

/** All settlements of each finding, the first first. */
export const settledById = (settled: readonly SettledFinding[]): ReadonlyMap<string, readonly SettledFinding[]> =>
  grouped(settled, ({ finding }) => finding);

const ORDER = { alike: 0, twins: 1, usual: 2 } as const;

/** The day of the latest choice against the engine in a finding; findings live as long as the plans they were found in. */
const latest = new WeakMap<Finding, string>();

const latestOf = (compare: Compare, finding: Finding<OfficeDecision>): string => {
  const known = latest.get(finding);
  if (known !== undefined) return known;
  const made =
    deviationsOf(finding)
      .map(({ plan }) => compare.plans[plan]?.when ?? "")
      .sort()
      .at(-1) ?? "";
  latest.set(finding, made);
  return made;
};

const isAny = ({ settled: _, ...filter }: FindingFilter): boolean => Object.values(filter).every((wanted) => wanted === "");

/** Findings by their sort, then the newest first: the day of the latest choice against the engine. */
export const findingsBy = (
  compare: Compare,
  filter: FindingFilter,
  settled: readonly SettledFinding[],
): readonly Finding<OfficeDecision>[] => {
  const byId = settledById(settled);
  const isWanted = isAny(filter) ? null : matches(compare, filter);
  return compare.findings
    .filter((finding) => filter.settled || !isSettled(compare, finding, byId.get(finding.id) ?? []))
    .filter((finding) => isWanted === null || decisionsOf(finding).some(isWanted))
    .sort((a, b) => {
      const [one, other] = [latestOf(compare, a), latestOf(compare, b)];
      return ORDER[a.sort] - ORDER[b.sort] || (one < other ? 1 : one > other ? -1 : a.id < b.id ? -1 : 1);
    });
};

/** Findings in words; of each at most so many decisions for and against the engine, where a page cannot show all. */
export const findingViews = (
  compare: Compare,
  findings: readonly Finding<OfficeDecision>[],
  settled: readonly SettledFinding[],
  { rulebook }: Pick<Planner, "rulebook">,
  most = Number.POSITIVE_INFINITY,
): readonly FindingView[] => {
  const byId = settledById(settled);
  return findings.map((finding) => findingView(compare, finding, byId.get(finding.id) ?? [], rulebook, most));
};

/** How a finding is to be settled, as the page showed it. */
export interface Settling {
  readonly finding: string;
  readonly how: string;
  readonly words: string;
  /** How often it was settled before, as the page showed it. */
  readonly seen: number;
  /** Visits whose plans are sent back, where it is settled so. */
  readonly back: readonly string[];
}

const isHow = (how: string): how is SettledFinding["how"] => SETTLED_HOW.some((one) => one === how);

/**
 * Settles a finding with words, so that it does not come again until somebody chooses so anew. Sending back goes to the review of each visit named. Fails,
 * and keeps nothing, where the finding is found no longer or somebody else settled it meanwhile.
 */
export const settleFinding = async (
  { store, world, planner }: { readonly store: Store; readonly world: World; readonly planner: Planner },
  compare: Compare,
  settling: Settling,
  who: string,
): Promise<Result<SettledFinding, ReviewFault>> => {
  const { finding: id, how, seen } = settling;
  const words = settling.words.trim();
  const finding = compare.findings.find((one) => one.id === id);
  if (finding === undefined) return failure({ field: "", says: "This is found no longer: one of its plans was changed meanwhile" });
  const field = `words-${id}`;
  if (!isHow(how))
    return failure({ field: `how-${id}`, says: `How it is settled: given nothing; wanted one of ${SETTLED_HOW.join(", ")}` });
  if (words === "") return failure({ field, says: "Because: given nothing; wanted the reason, for who reads it later" });
  const read = text(LONGEST_WORDS).safeParse(words);
  if (!read.success)
    return failure({ field, says: `Because: given ${words.length} characters; wanted at most ${LONGEST_WORDS}, without control signs` });
  const deviating = deviationsOf(finding);
  const visits = new Set(deviating.map(({ plan }) => compare.plans[plan]?.visit ?? ""));
  const back = how === "sent back" ? settling.back.filter((visit) => visits.has(visit)) : [];
  if (how === "sent back" && back.length === 0)
    return failure({
      field: `how-${id}`,
      says: "Send back: no plan is ticked; wanted at least one of those that chose against the engine",
    });
  const by: Act = { who, when: world.now() };
  const { protection, says } = findingView(compare, finding, [], planner.rulebook, 0);
  const settled: SettledFinding = {
    finding: id,
    number: seen + 1,
    how,
    words,
    about: `${protection}. ${says}`,
    covers: deviating.map((decision) => coverOf(compare, decision)),
    ...by,
  };
  const events = back.map((visit) => ({
    visit,
    act: "sent back" as const,
    version: compare.plans.find((plan) => plan.visit === visit)?.version ?? 0,
    words: `${protection}: ${words}`,
    marks: {},
    ...by,
  }));
  const kept = await store.settleFinding(settled, events);
  if (kept.ok) return success(settled);
  return failure({
    field: "",
    says:
      kept.faults[0] === QUICKER ? "Somebody else settled this after you opened the page. Look at what he decided" : kept.faults.join("; "),
  });
};
