import type { World } from "../../kernel/ports.ts";
import { type OfficePolicy, officePolicySchema } from "../../model/officePolicy.ts";
import type { PolicyAct, StoredPolicy } from "../../store/policies.ts";
import type { Store } from "../../store/store.ts";

/** A policy of the office that was written once, be it a draft, dropped, or adopted. */
export interface PolicyVersion extends Omit<StoredPolicy, "policy"> {
  readonly policy: OfficePolicy;
}

/** A policy that was adopted, from a day on. */
export interface AdoptedPolicy extends PolicyVersion {
  readonly decided: Extract<PolicyAct, { readonly act: "adopted" }>;
}

/** Number 0 is what holds where nothing was ever adopted: the defaults. */
export interface PolicyInForce {
  readonly number: number;
  readonly since: string | null;
  readonly policy: OfficePolicy;
}

const DEFAULTS: PolicyInForce = { number: 0, since: null, policy: officePolicySchema.parse({}) };

/** Every policy that was written, the first first. */
export const policyVersions = async (store: Pick<Store, "policies">): Promise<readonly PolicyVersion[]> =>
  (await store.policies()).map(({ policy, ...version }) => ({ ...version, policy: officePolicySchema.parse(policy) }));

/** One policy by its number, drafts too; number 0 is none that was written. */
export const policyVersion = async (store: Pick<Store, "policies">, number: number): Promise<PolicyVersion | null> =>
  (await policyVersions(store)).find((version) => version.number === number) ?? null;

const isAdopted = (version: PolicyVersion): version is AdoptedPolicy => version.decided?.act === "adopted";

/** Those that were adopted, in the order in which they were. */
export const adoptedIn = (versions: readonly PolicyVersion[]): readonly AdoptedPolicy[] =>
  versions.filter(isAdopted).sort((a, b) => a.decided.number - b.decided.number);

/**
 * What holds on a day: of those that take effect by then the one adopted last, so that one which was adopted to replace another that is yet to come
 * stays when the other’s day comes.
 */
export const inForceOf = (versions: readonly PolicyVersion[], day: string): PolicyInForce => {
  const last = adoptedIn(versions).findLast(({ decided }) => decided.takesEffect <= day);
  return last === undefined ? DEFAULTS : { number: last.number, since: last.decided.takesEffect, policy: last.policy };
};

/** What holds on a day, a plain date. */
export const policyInForce = async (store: Pick<Store, "policies">, day: string): Promise<PolicyInForce> =>
  inForceOf(await policyVersions(store), day);

/** What holds today by the office's clock. */
export const policyNow = ({ store, world }: { readonly store: Pick<Store, "policies">; readonly world: World }): Promise<PolicyInForce> =>
  policyInForce(store, world.now().slice(0, 10));

/** Those adopted that will yet take effect, in the order of their days, without those that others were adopted to replace. */
export const toComeOf = (versions: readonly PolicyVersion[], day: string): readonly AdoptedPolicy[] => {
  const adopted = adoptedIn(versions);
  return adopted
    .filter(
      ({ decided }, place) =>
        decided.takesEffect > day && !adopted.slice(place + 1).some((later) => later.decided.takesEffect <= decided.takesEffect),
    )
    .sort((a, b) => (a.decided.takesEffect < b.decided.takesEffect ? -1 : 1));
};

/** What a policy is compared with: the one adopted before it; of one that is not adopted, the one adopted before it was written. */
export const beforeOf = (versions: readonly PolicyVersion[], { number, decided }: PolicyVersion): PolicyInForce => {
  const earlier = adoptedIn(versions).filter((other) =>
    decided?.act === "adopted"
      ? other.decided.number < decided.number
      : other.number < number && (decided === null || other.decided.number < decided.number),
  );
  const last = earlier.at(-1);
  return last === undefined ? DEFAULTS : { number: last.number, since: last.decided.takesEffect, policy: last.policy };
};
