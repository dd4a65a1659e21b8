import { copyOf, isKnown } from "../logic/frame.ts";
import { PRIME_MOVER, ROLE } from "../model/facts/set.ts";
import { RULE_BASIS } from "../model/facts/visit.ts";
import type { Engine } from "./engine.ts";
import { chosenFor, type Decided, type Remaining } from "./protection.ts";

/** Facts that no arrangement changes. */
const GIVEN: ReadonlySet<string> = new Set([RULE_BASIS, PRIME_MOVER, ROLE]);

/** A single other answer to a known fact that would leave something acceptable. */
export interface WouldOpen {
  readonly fact: number;
  readonly value: string;
  readonly to: Remaining;
}

/** Where nothing acceptable is left: every single known fact whose other answer would open a combination. */
export const wouldOpen = (engine: Engine, { kind, prepared, knowledge, remaining, because }: Decided): readonly WouldOpen[] => {
  if (remaining[0]?.outcome !== "nothing left") return [];
  const { frame } = prepared.compiled;
  return because.flatMap((fact) => {
    const { domain, at } = frame.variables[fact] ?? {};
    // Nobody chooses under which rules he is, nor what a set is or has.
    if (at !== undefined && (GIVEN.has(at) || at.endsWith("/fitted") || at.endsWith("/element"))) return [];
    if (domain?.kind !== "choice" || !isKnown(frame, knowledge, fact)) return [];
    return domain.values.flatMap((value, position): readonly WouldOpen[] => {
      const changed = copyOf(knowledge);
      changed.masks[fact] = 1 << position;
      const to = chosenFor(engine, kind, changed, undefined);
      return to.outcome === "combination" ? [{ fact, value, to }] : [];
    });
  });
};
