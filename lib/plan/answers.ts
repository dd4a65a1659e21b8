import type { Condition } from "../logic/condition.ts";
import { type Frame, frameOf, type Knowledge, learn, nothingKnown } from "../logic/frame.ts";
import { type Bound, bind, NO, type Truth, truthOf, YES } from "../logic/kleene.ts";
import { type FactSpec, resolve } from "../model/fact.ts";
import { placesIn } from "../model/places.ts";
import type { ReadVisit } from "../model/read.ts";

/** One fact at one place of a visit. */
export interface PlacedFact {
  readonly spec: FactSpec;
  readonly at: string;
  /** The first set it belongs to; null for the visit's and support's facts. */
  readonly set: number | null;
  /** Whether its parent's answer lets it apply. */
  readonly applies: Truth;
  readonly answer: string | number | undefined;
}

/** What of a visit's answers it takes to tell which facts apply. */
type Answered = Pick<ReadVisit, "answers" | "sets">;

const knowledgeOfSet = (frame: Frame, { answers, sets }: Answered, set: number): Knowledge => {
  const knowledge = nothingKnown(frame);
  for (const { at } of frame.variables) {
    const answer = answers.get(resolve(at, set, sets[set]?.sisters ?? "A"));
    if (answer !== undefined) learn(frame, knowledge, at, answer);
  }
  return knowledge;
};

interface Framed {
  readonly frame: Frame;
  readonly parents: ReadonlyMap<string, Bound>;
}

/** A rulebook's facts are the same list for as long as it lives; their frame is made once. */
const framed = new WeakMap<readonly FactSpec[], Framed>();

const framedBy = (facts: readonly FactSpec[]): Framed => {
  const known = framed.get(facts);
  if (known !== undefined) return known;
  const frame = frameOf(facts.map(({ at, domain }) => ({ at, domain })));
  const parents = new Map(facts.flatMap((spec) => (spec.parent === undefined ? [] : [[spec.at, bind(frame, spec.parent)] as const])));
  framed.set(facts, { frame, parents });
  return { frame, parents };
};

/** The truth of conditions of the rulebook by the answers of each set, in the order of the sets; made once for a visit. */
export const truthsIn = (facts: readonly FactSpec[], read: ReadVisit): readonly ((when: Condition) => Truth)[] => {
  const { frame } = framedBy(facts);
  return read.sets.map((_, set) => {
    const knowledge = knowledgeOfSet(frame, read, set);
    return (when) => truthOf(bind(frame, when), knowledge);
  });
};

/** Every fact of the rulebook at every place of the visit, in rulebook order, set by set. */
export const placedFacts = (facts: readonly FactSpec[], read: Answered): readonly PlacedFact[] => {
  const { frame, parents } = framedBy(facts);
  const knowledge = read.sets.map((_, set) => knowledgeOfSet(frame, read, set));
  return placesIn(facts, read.sets).map(({ spec, at, set }) => {
    const parent = parents.get(spec.at);
    const here = knowledge[set];
    const applies = parent === undefined || here === undefined ? YES : truthOf(parent, here);
    return { spec, at, set: spec.at.startsWith("/sets/*/") ? set : null, applies, answer: read.answers.get(at) };
  });
};

/** Answers given although the parent's answer says that they do not apply. */
export const ignoredAnswers = (placed: readonly PlacedFact[]): readonly PlacedFact[] =>
  placed.filter(({ applies, answer }) => applies === NO && answer !== undefined);
