import { capital } from "../../plan/say.ts";
import { type SaidFact, sayFact } from "../../plan/sayFact.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Compare } from "./comparer.ts";
import { type FindingLine, lineOf } from "./findingView.ts";

/** Every decision of the office on the same facts, whether they agree or not. */
export interface SideBySide {
  readonly protection: string;
  readonly facts: readonly SaidFact[];
  readonly lines: readonly FindingLine[];
}

/** Null where no kept plan bears such a signature. */
export const sideBySide = (compare: Compare, mark: string, rulebook: Rulebook): SideBySide | null => {
  const own = compare.bearing(mark);
  const [first] = own;
  if (first === undefined) return null;
  const specs = new Map(rulebook.facts.map((fact) => [fact.at, fact]));
  return {
    protection: capital(rulebook.protections.find(({ kind }) => kind === first.kind)?.name ?? first.kind),
    facts: compare.factsOf(mark).map((fact) => sayFact(fact, (at) => specs.get(at))),
    lines: own.flatMap((decision) => lineOf(compare, decision, rulebook) ?? []),
  };
};
