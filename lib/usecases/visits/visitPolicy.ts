import { type PolicyChange, visitPolicyChanges } from "../../compare/policies.ts";
import { previewOf, type Waiting } from "../../flow/live.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { valueAt } from "../../model/fault.ts";
import { type Policy, policySchema } from "../../model/policy.ts";
import type { Planner } from "../../plan/plan.ts";
import { capital, listAnd } from "../../plan/say.ts";
import type { PlanProtection } from "../../plan/schema.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Act, Store, StoredVisit } from "../../store/store.ts";
import type { PolicyInForce } from "../policy/inForce.ts";
import { openVisit, storedFrame } from "./visitDraft.ts";

/** What a visit may keep as its own beside the office's policy: who writes its letters, and on what paper. */
const OWN = ["office", "paper"] as const;

type Document = Readonly<Record<string, unknown>>;

const policyIn = (frame: unknown): Document => {
  const policy = valueAt(frame, "/policy");
  return typeof policy === "object" && policy !== null ? (policy as Document) : {};
};

/**
 * The policy document of a visit that takes over the office's, with its own letterhead and paper where it told them. Where the office never adopted one,
 * the visit's stays as it is.
 */
export const policyTakenOver = ({ number, policy }: PolicyInForce, own: unknown): unknown => {
  if (number === 0) return own;
  const kept = policyIn({ policy: own });
  return { ...policy.plan, ...Object.fromEntries(OWN.flatMap((key) => (kept[key] === undefined ? [] : [[key, kept[key]] as const]))) };
};

const policyOf = (stored: StoredVisit): Policy | null => {
  // The letterhead is no difference, and may be told in part only.
  const read = policySchema.safeParse({ ...policyIn(stored.frame), office: undefined });
  return read.success ? read.data : null;
};

type Reader = Pick<Rulebook, "protections" | "techniques">;

/** In what a visit was begun under another policy than the office's of today; nothing where the office never adopted one. */
export const otherPolicy = (stored: StoredVisit, inForce: PolicyInForce, rulebook: Reader): readonly PolicyChange[] => {
  const own = policyOf(stored);
  if (own === null || inForce.number === 0) return [];
  return visitPolicyChanges(own, inForce.policy, { rulebook, units: inForce.policy.units });
};

/** The frame of a visit with the office's policy in place of its own. */
const withPolicy = (frame: object, inForce: PolicyInForce): object => ({
  ...frame,
  policy: policyTakenOver(inForce, valueAt(frame, "/policy")),
});

/** A test that would be proven in another way, or no longer, or besides. */
export interface OtherWay {
  readonly at: string;
  readonly test: string;
  readonly was: string;
  readonly now: string;
}

export type PolicyEffect = { readonly ways: readonly OtherWay[] } | { readonly waits: readonly Waiting[] };

const appearing = ({ applies }: PlanProtection): boolean => applies !== "no";

/** What taking the office's policy would change of a visit's decisions; what would keep it from being planned at all. */
export const effectOfPolicy = (stored: StoredVisit, inForce: PolicyInForce, planner: Planner): PolicyEffect => {
  const { draft } = openVisit(stored);
  const [before, after] = [previewOf(draft, planner), previewOf({ ...draft, frame: withPolicy(draft.frame, inForce) }, planner)];
  if ("waits" in after) return "waits" in before ? { ways: [] } : { waits: after.waits };
  if ("waits" in before) return { ways: [] };
  const { protections } = planner.rulebook;
  const wayOf = (found: PlanProtection | undefined, kind: string): string => {
    if (found === undefined) return "not proven";
    const methods = protections.find((protection) => protection.kind === kind)?.methods ?? [];
    const names = found.decision.methods.map((id) => methods.find((method) => method.id === id)?.name ?? id);
    return names.length === 0 ? found.decision.outcome : listAnd(names);
  };
  const ways = after.plan.sets.flatMap(({ name }, set) =>
    protections.flatMap(({ kind, name: protection }) => {
      const [own, other] = [before, after].map(({ plan }) =>
        plan.sets[set]?.protections.find((one) => one.kind === kind && appearing(one)),
      );
      const [was, now] = [wayOf(own, kind), wayOf(other, kind)];
      return was === now ? [] : [{ at: `/sets/${set}/${kind}`, test: `${name}: ${protection}`, was: capital(was), now: capital(now) }];
    }),
  );
  return { ways };
};

export const MEANWHILE = "the visit or the policy was changed after this page was shown; look at it again";

/** Puts the office's policy in place of a visit's own, on the version of the visit and the policy that were looked at. */
export const takePolicy = async (
  store: Store,
  stored: StoredVisit,
  inForce: PolicyInForce,
  seen: { readonly version: number; readonly policy: number },
  by: Act,
): Promise<Result<{ readonly version: number }>> => {
  if (stored.version !== seen.version || inForce.number !== seen.policy) return failure(MEANWHILE);
  const frame = withPolicy(openVisit(stored).draft.frame, inForce);
  const kept = await store.saveFrame(stored.id, storedFrame(frame, stored.sets), stored.frameVersion, by);
  return kept.ok ? success(kept.value) : failure(MEANWHILE);
};
