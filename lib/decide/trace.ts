import type { Knowledge } from "../logic/frame.ts";
import { markRead, NO, type Truth, truthOf } from "../logic/kleene.ts";
import type { Prepared } from "./prepared.ts";

/**
 * The facts that the decision names: options in order, the conditions of each in rulebook order up to the first false
 * one, until the first option that is possible (`first`, or none). Facts not named cannot change the decision.
 * Returns frame indices in the order of the frame.
 */
export const traceOf = ({ compiled, literals, options }: Prepared, knowledge: Knowledge, first: number): readonly number[] => {
  const seen = new Uint8Array(knowledge.masks.length);
  const truths = new Int8Array(literals.length).fill(-1);
  const read = new Uint8Array(literals.length);
  const truth = (place: number): Truth => {
    const known = truths[place] ?? -1;
    if (known >= 0) return known as Truth;
    const literal = literals[place];
    const found = literal === undefined ? NO : truthOf(literal, knowledge);
    truths[place] = found;
    return found;
  };
  const readLiteral = (place: number): void => {
    const literal = literals[place];
    if (literal === undefined || read[place] === 1) return;
    read[place] = 1;
    markRead(literal, knowledge, seen);
  };

  markRead(compiled.applies, knowledge, seen);
  if (truthOf(compiled.applies, knowledge) !== NO) {
    for (let place = 0; place < options.length; place += 1) {
      for (const conjunct of options[place]?.conjuncts ?? []) {
        readLiteral(conjunct);
        if (truth(conjunct) === NO) break;
      }
      if (place === first) break;
    }
  }
  const named: number[] = [];
  seen.forEach((mark, index) => {
    if (mark === 1) named.push(index);
  });
  return named;
};
