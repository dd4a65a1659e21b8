import { canonical } from "../kernel/digest.ts";
import type { OfficePolicy } from "../model/officePolicy.ts";
import { type PlanDecision, provesLetters } from "../plan/decisions.ts";

/** One decision that would be another. */
export interface WouldChange {
  /** Pointer of the protection in the visit file. */
  readonly at: string;
  readonly kind: string;
  readonly set: string;
  /** Planned methods joined by "+", and what they prove in letters; null where the protection does not apply or is not proven. */
  readonly before: Taken | null;
  readonly after: Taken | null;
}

export interface Taken {
  readonly chosen: string;
  readonly proves: string;
}

const takenOf = (decision: PlanDecision | undefined): Taken | null =>
  decision === undefined ? null : { chosen: decision.chosen, proves: provesLetters(decision.proves) };

/** Which decisions are other ones in the second of two plans of one visit: another way, or another proof by the same way. Pure. */
export const wouldChange = (before: readonly PlanDecision[], after: readonly PlanDecision[]): readonly WouldChange[] => {
  const [were, are] = [before, after].map((decisions) => new Map(decisions.map((decision) => [decision.at, decision] as const)));
  return [...new Set([...before, ...after].map(({ at }) => at))].flatMap((at): readonly WouldChange[] => {
    const [was, is] = [were?.get(at), are?.get(at)];
    const known = is ?? was;
    const [taken, taking] = [takenOf(was), takenOf(is)];
    if (known === undefined || canonical(taken) === canonical(taking)) return [];
    return [{ at, kind: known.kind, set: known.set, before: taken, after: taking }];
  });
};

/** What of a policy for plans is another in the second: its fields with their new values. */
export const policyFieldsChanged = (before: OfficePolicy["plan"], after: OfficePolicy["plan"]): Readonly<Record<string, unknown>> =>
  Object.fromEntries(
    [...new Set([...Object.keys(before), ...Object.keys(after)])].flatMap((field) => {
      const [was, is] = [before, after].map((policy) => (policy as Readonly<Record<string, unknown>>)[field]);
      return canonical(was ?? null) === canonical(is ?? null) ? [] : [[field, is]];
    }),
  );

/** A visit file with some of its policy changed; a field that is to have no value is taken out. */
export const withPolicy = (file: object, changes: Readonly<Record<string, unknown>>): object => {
  const { policy = {} } = file as { readonly policy?: object };
  const changed = Object.fromEntries(Object.entries({ ...policy, ...changes }).filter(([, value]) => value !== undefined));
  return { ...file, policy: changed };
};
