import type { OfficePolicy } from "../model/officePolicy.ts";
import type { Policy } from "../model/policy.ts";
import { type PolicyLine, policyLines } from "../plan/policyFields.ts";
import { small } from "../plan/say.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { UnitSystem } from "../units/units.ts";

/** A field in which two policies differ. */
export interface PolicyChange extends Pick<PolicyLine, "id" | "label" | "group" | "scope"> {
  readonly was: string;
  readonly now: string;
}

interface Reader {
  readonly rulebook: Pick<Rulebook, "protections" | "techniques">;
  readonly units: UnitSystem;
}

/** Of what a field is, where its label says it only under its heading. */
const OF: Readonly<Partial<Record<PolicyLine["group"], string>>> = {
  "Loop parts that may stay unproven": "Unproven loop part",
  Protections: "Protections",
  "Local rules": "Local rules",
};

const apart = ({ group, label }: Pick<PolicyLine, "group" | "label">): string =>
  OF[group] === undefined ? label : `${OF[group]}, ${small(label)}`;

/** In what one policy differs from another, in words, field by field. */
export const policyChanges = (before: OfficePolicy, after: OfficePolicy, reader: Reader): readonly PolicyChange[] => {
  const was = policyLines(before, reader);
  return policyLines(after, reader).flatMap(({ id, label, group, scope, text, value }, place) => {
    const own = was[place];
    return own === undefined || own.value === value ? [] : [{ id, label: apart({ group, label }), group, scope, was: own.text, now: text }];
  });
};

/**
 * In what a visit's own policy differs from the office's. Letterhead and paper are the inspector's to change, and how the office itself works binds no
 * visit: neither counts. That a part needs consent is no part of a visit's policy, so only whether it may stay unproven is compared.
 */
export const visitPolicyChanges = (visit: Policy, office: OfficePolicy, reader: Reader): readonly PolicyChange[] =>
  policyChanges({ ...office, plan: visit }, office, reader).filter(({ scope }) => scope === "visit");
