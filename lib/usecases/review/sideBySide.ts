import { specsBy } from "../../model/places.ts";
import { type SaidFact, sayFact } from "../../plan/sayFact.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Compare } from "./comparer.ts";
import { type FindingLine, lineOf, nameOfKind, wayParts } from "./findingView.ts";

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
  const [specAt, parts] = [specsBy(rulebook.facts), wayParts(rulebook)];
  return {
    protection: nameOfKind(rulebook, first.kind),
    facts: compare.factsOf(mark).map((fact) => sayFact(fact, specAt)),
    lines: own.flatMap((decision) => lineOf(compare, decision, parts) ?? []),
  };
};
