import { copyOf, isKnown, positionOf } from "../logic/frame.ts";
import type { Engine } from "./engine.ts";
import { chosenFor, type Decided, type Remaining, remainingAt } from "./protection.ts";
import type { Live } from "./restrict.ts";

/** The best place that is still reached when one choice takes one branch. */
const bestUnder = ({ diagram, root }: Live, variable: number, branch: number): number => {
  const seen = new Set<number>();
  let best = Number.POSITIVE_INFINITY;
  const visit = (at: number): void => {
    if (seen.has(at)) return;
    seen.add(at);
    if (diagram.isLeaf(at)) best = Math.min(best, diagram.valueOf(at));
    else if (diagram.variableOf(at) === variable) visit(diagram.branchesOf(at)[branch] ?? at);
    else diagram.branchesOf(at).forEach(visit);
  };
  visit(root);
  return best;
};

/**
 * What would be decided instead if a fact took a value (a refused request), or null where the decision stays. It is
 * what deciding again with that fact gives.
 */
export const decidedInstead = (engine: Engine, decided: Decided, fact: number, value: string): Remaining | null => {
  const { prepared, knowledge, live, insistence, remaining } = decided;
  const { frame } = prepared.compiled;
  const domain = frame.variables[fact]?.domain;
  const position = domain === undefined ? -1 : positionOf(domain, value);
  if (position < 0) return null;
  // The trace does not name it, so no answer to it changes the decision.
  if (!decided.because.includes(fact) && insistence === null && isKnown(frame, knowledge, fact)) return null;
  const branch = live.values(fact).indexOf(position);
  const readOff = insistence === null && branch >= 0 && !isKnown(frame, knowledge, fact);
  const again = (): Remaining => {
    const changed = copyOf(knowledge);
    changed.masks[fact] = 1 << position;
    return chosenFor(engine, decided.kind, changed, insistence?.method);
  };
  const instead = readOff ? remainingAt(prepared, bestUnder(live, fact, branch)) : again();
  return instead.methods.join("+") === remaining[0]?.methods.join("+") && instead.outcome === remaining[0]?.outcome ? null : instead;
};
