import { policyChanges } from "../../compare/policies.ts";
import { type PolicyFault, type PolicyTexts, readPolicy } from "../../flow/policyForm.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { checkPolicy } from "../../plan/policyCheck.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { PoliciesSeen } from "../../store/policies.ts";
import type { Act, Store } from "../../store/store.ts";
import { type AdoptedPolicy, adoptedIn, type PolicyVersion, policyVersions } from "./inForce.ts";

/** What there is of policies, as a form that was drawn of it carries it. */
export const seenOf = (versions: readonly PolicyVersion[]): PoliciesSeen => ({
  versions: Math.max(0, ...versions.map(({ number }) => number)),
  acts: Math.max(0, ...versions.flatMap(({ decided }) => (decided === null ? [] : [decided.number]))),
});

export const seenText = ({ versions, acts }: PoliciesSeen): string => `${versions}.${acts}`;

/** What a form saw; what nobody can have seen where it does not say. */
export const seenIn = (text: string): PoliciesSeen => {
  const [, versions, acts] = /^(\d{1,9})\.(\d{1,9})$/.exec(text) ?? [];
  return versions === undefined || acts === undefined ? { versions: -1, acts: -1 } : { versions: Number(versions), acts: Number(acts) };
};

/** The policy that was adopted last, be it in force or yet to come: what a new one is begun from. */
export const lastAdopted = (versions: readonly PolicyVersion[]): AdoptedPolicy | null => adoptedIn(versions).at(-1) ?? null;

export const MEANWHILE =
  "Somebody else wrote or decided a policy after you opened this page. What you gave stands below; look at it beside what is new, then send it again";

interface Written {
  readonly texts: PolicyTexts;
  readonly note: string;
  readonly seen: PoliciesSeen;
}

const LONGEST_NOTE = 600;

/** What is wrong with a reason or note; null where nothing is. */
export const noteFault = (id: string, label: string, note: string, wanted: boolean): PolicyFault | null => {
  if (wanted && note.trim() === "") return { id, says: `${label}: given nothing; wanted a sentence that says why` };
  return note.trim().length <= LONGEST_NOTE
    ? null
    : { id, says: `${label}: given ${note.trim().length} characters; wanted at most ${LONGEST_NOTE}` };
};

/** Keeps what a form says as a draft; its number. Every fault is told, also what the policy would bar or relax, and nothing is kept where there is one. */
export const keepDraft = async (
  { store, rulebook }: { readonly store: Store; readonly rulebook: Rulebook },
  { texts, note, seen }: Written,
  by: Act,
): Promise<Result<number, PolicyFault>> => {
  const read = readPolicy(texts, rulebook);
  const long = noteFault("note", "What it is for", note, false);
  if (!read.ok) return failure(...read.faults, ...(long === null ? [] : [long]));
  const { refused } = checkPolicy(rulebook, read.value);
  if (refused.length > 0 || long !== null) return failure(...refused, ...(long === null ? [] : [long]));
  const last = lastAdopted(await policyVersions(store));
  if (last !== null && policyChanges(last.policy, read.value, { rulebook, units: "metric" }).length === 0)
    return failure({
      id: "",
      says: `Nothing in it differs from policy ${last.number}, which was adopted last; wanted at least one change`,
    });
  const kept = await store.addPolicy(read.value, note.trim(), seen, by);
  return kept.ok ? success(kept.value) : failure({ id: "", says: MEANWHILE });
};
