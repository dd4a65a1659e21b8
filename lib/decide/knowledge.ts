import { type Frame, isKnown, type Knowledge, learn, nothingKnown, positionOf } from "../logic/frame.ts";
import { IN_TIME, resolve } from "../model/fact.ts";
import type { Lead, Rulebook } from "../rulebook/types.ts";
import type { CompiledProtection } from "./compile.ts";

/** A visit as the core sees it: answers by pointer, which method is insisted on, and whether a lead time can still be kept. */
export interface Facts {
  readonly sets: readonly { readonly sisters: string }[];
  readonly answers: ReadonlyMap<string, string | number>;
  /** From "/sets/0/overspeed" to a method id. */
  readonly insisted: ReadonlyMap<string, string>;
  readonly inTime: (lead: Lead) => boolean;
  /** Kinds of protection that are not proven in this visit. */
  readonly leftOut?: ReadonlySet<string>;
  /** Answers that what else is known shuts out, by template: a rule basis that cannot bind this vessel. */
  readonly shutOut?: ReadonlyMap<string, readonly string[]>;
}

export type LeadOf = ReadonlyMap<string, Lead>;

/** The lead time behind each availability fact. */
export const leadsOf = (rulebook: Rulebook): LeadOf =>
  new Map(rulebook.needs.flatMap((need) => (need.at === undefined ? [] : [[need.at, need.lead] as const])));

/**
 * What is known of one protection's facts for one set. A thing that can no longer be ordered in time is not offered as
 * "in time", unless the vessel has said that it can be had.
 */
export const knowledgeOf = (facts: Facts, leads: LeadOf, { frame }: CompiledProtection, set: number): Knowledge => {
  const knowledge = nothingKnown(frame);
  const sisters = facts.sets[set]?.sisters ?? "A";
  frame.variables.forEach((variable, index) => {
    const answer = facts.answers.get(resolve(variable.at, set, sisters));
    if (answer !== undefined) learn(frame, knowledge, variable.at, answer);
    const limited = leads.has(variable.at) || facts.shutOut?.has(variable.at) === true;
    if (!limited || isKnown(frame, knowledge, index)) return;
    for (const value of impossibleAt(facts, leads, variable.at)) {
      const position = positionOf(variable.domain, value);
      if (position >= 0) knowledge.masks[index] = (knowledge.masks[index] ?? 0) & ~(1 << position);
    }
  });
  return knowledge;
};

/** The answers that an open fact can no longer have. */
export const impossibleAt = (
  { inTime, shutOut }: Pick<Facts, "inTime" | "shutOut">,
  leads: LeadOf,
  template: string,
): readonly string[] => {
  const lead = leads.get(template);
  return [...(lead !== undefined && !inTime(lead) ? [IN_TIME] : []), ...(shutOut?.get(template) ?? [])];
};

/** Equal keys, equal knowledge of the same frame. */
export const keyOf = ({ variables }: Frame, { masks, low, high }: Knowledge): string => {
  let key = "";
  for (let index = 0; index < variables.length; index += 1) {
    key += variables[index]?.domain.kind === "number" ? `${low[index]}:${high[index]},` : `${masks[index]},`;
  }
  return key;
};
