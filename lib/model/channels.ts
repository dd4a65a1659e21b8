import { type Condition, mentions } from "../logic/condition.ts";
import { frameOf, learn, nothingKnown } from "../logic/frame.ts";
import { bind, NO, truthOf } from "../logic/kleene.ts";
import { type FactSpec, resolve } from "./fact.ts";
import type { Policy } from "./policy.ts";

/** What the reader of a file must know of the rulebook. */
export interface Known {
  readonly facts: readonly FactSpec[];
  readonly protections: readonly {
    readonly kind: string;
    readonly methods: readonly string[];
    readonly applies: Condition;
    readonly onWish: boolean;
  }[];
}

export type Sets = readonly { readonly sisters: string }[];

type Scope = Pick<Policy, "alsoProve" | "leaveOut">;

/** Whether a kind of protection is proven in this visit: all are, but those on wish that the office does not wish, and those it leaves out. */
export const inScope = (kind: string, onWish: boolean, { alsoProve, leaveOut }: Scope): boolean =>
  !leaveOut.includes(kind) && (!onWish || alsoProve.some((wished) => wished === kind));

/** Kinds that a visit leaves out, in rulebook order. */
export const leftOutOf = ({ protections }: Known, policy: Scope): readonly string[] =>
  protections.filter(({ kind, onWish }) => !inScope(kind, onWish, policy)).map(({ kind }) => kind);

/**
 * Pointers of the channels of a visit: set by set in plan order, first those that may apply, then those that by today's
 * answers do not, so that what is spoken of has the low numbers.
 */
export const channelsOf = (
  sets: Sets,
  { facts, protections }: Known,
  answers: ReadonlyMap<string, string | number>,
  policy: Scope,
): readonly string[] => {
  const own = protections.filter(({ kind, onWish }) => inScope(kind, onWish, policy));
  const named = new Set(own.flatMap(({ applies }) => mentions(applies)));
  const frame = frameOf(facts.filter(({ at }) => named.has(at)).map(({ at, domain }) => ({ at, domain })));
  const bound = own.map(({ kind, applies }) => ({ kind, applies: bind(frame, applies) }));
  const channels = sets.flatMap(({ sisters }, set) => {
    const knowledge = nothingKnown(frame);
    for (const { at } of frame.variables) {
      const answer = answers.get(resolve(at, set, sisters));
      if (answer !== undefined) learn(frame, knowledge, at, answer);
    }
    return bound.map(({ kind, applies }) => ({ at: `/sets/${set}/${kind}`, off: truthOf(applies, knowledge) === NO }));
  });
  return [...channels.filter(({ off }) => !off), ...channels.filter(({ off }) => off)].map(({ at }) => at);
};
