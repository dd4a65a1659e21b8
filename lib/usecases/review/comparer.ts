import { type Compared, type Finding, findingsIn, grouped } from "../../compare/consistency.ts";
import type { DecidingFact } from "../../plan/signature.ts";
import type { PlanLine } from "../../store/plans.ts";
import type { Store } from "../../store/store.ts";
import type { KeptDecision } from "./keepPlan.ts";

/** One decision of the office with all that a page tells of it. */
export interface OfficeDecision extends Compared {
  readonly set: string;
  readonly maker: string;
  readonly proves: string;
  readonly reason: string;
}

/** Every plan of the office side by side, and what is found in them. */
export interface Compare {
  readonly plans: readonly Omit<PlanLine, "decisions">[];
  readonly decisions: readonly OfficeDecision[];
  readonly findings: readonly Finding<OfficeDecision>[];
  readonly factsOf: (mark: string) => readonly DecidingFact[];
  /** Every decision that bears a signature. */
  readonly bearing: (mark: string) => readonly OfficeDecision[];
}

interface Parsed {
  readonly line: Omit<PlanLine, "decisions">;
  readonly decisions: readonly KeptDecision[];
}

const decisionOf = (plan: number, [at, kind, set, maker, mark, engine, chosen, proves, reason]: KeptDecision): OfficeDecision => ({
  plan,
  at,
  kind,
  set,
  maker,
  mark,
  engine,
  chosen,
  proves,
  reason,
});

/** Facts are read when somebody looks at them: most decisions are never looked at. */
const factsReader = (texts: ReadonlyMap<string, string>) => {
  const read = new Map<string, readonly DecidingFact[]>();
  return (mark: string): readonly DecidingFact[] => {
    const known = read.get(mark);
    if (known !== undefined) return known;
    const made = (JSON.parse(texts.get(mark) ?? "[]") as readonly (readonly [string, string])[]).map(([of, value]) => ({ of, value }));
    read.set(mark, made);
    return made;
  };
};

/** Filed by signature when somebody first asks for one. */
const filed = (decisions: readonly OfficeDecision[]): ((mark: string) => readonly OfficeDecision[]) => {
  let byMark: ReadonlyMap<string, readonly OfficeDecision[]> | null = null;
  return (mark) => {
    byMark ??= grouped(decisions, (decision) => decision.mark);
    return byMark.get(mark) ?? [];
  };
};

/**
 * Compares all kept plans of an office. What was read stays in mind; each time only what was kept since is read, as the store tells. Nothing of it is
 * needed to answer rightly: a new process reads all.
 */
export const newComparer = (store: Store): (() => Promise<Compare>) => {
  const parsed = new Map<string, Parsed>();
  const texts = new Map<string, string>();
  let seen = 0;
  let last: Compare | null = null;

  const readNew = async (): Promise<void> => {
    const cold = seen === 0;
    const wanted = new Set<string>();
    let latest = seen;
    for (const { decisions, ...line } of await store.plansSince(seen)) {
      const kept = JSON.parse(decisions) as readonly KeptDecision[];
      parsed.set(line.visit, { line, decisions: kept });
      if (!cold) for (const [, , , , mark] of kept) if (!texts.has(mark)) wanted.add(mark);
      latest = Math.max(latest, line.seq);
    }
    for (const [mark, facts] of await store.signatures(cold ? undefined : [...wanted])) texts.set(mark, facts);
    seen = latest;
  };

  const compared = (): Compare => {
    const own = [...parsed.values()];
    const decisions = own.flatMap(({ decisions: kept }, plan) => kept.map((decision) => decisionOf(plan, decision)));
    const factsOf = factsReader(texts);
    return { plans: own.map(({ line }) => line), decisions, findings: findingsIn(decisions, factsOf), factsOf, bearing: filed(decisions) };
  };

  const now = async (before: Promise<unknown>): Promise<Compare> => {
    await before.catch(() => null);
    const { seq, count } = await store.plansNow();
    if (last !== null && seq === seen && count === parsed.size) return last;
    await readNew();
    // A visit that was removed is told by their number alone: then all are read anew.
    if ((await store.plansNow()).count < parsed.size) {
      parsed.clear();
      seen = 0;
      await readNew();
    }
    last = compared();
    return last;
  };

  let running: Promise<Compare> | null = null;
  return () => {
    running = now(running ?? Promise.resolve());
    return running;
  };
};
