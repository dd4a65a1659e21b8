import { readDay } from "../../figures/readDay.ts";
import type { PolicyFault } from "../../flow/policyForm.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { quotedWords } from "../../model/fault.ts";
import { checkPolicy } from "../../plan/policyCheck.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Act, Store } from "../../store/store.ts";
import { MEANWHILE, noteFault } from "./draft.ts";
import { policyVersions, toComeOf } from "./inForce.ts";

interface Adopting {
  readonly number: number;
  /** As it was typed. */
  readonly from: string;
  readonly reason: string;
  /** Whether it may take the place of others that are yet to come. */
  readonly replaces: boolean;
  /** The last decision that the form saw. */
  readonly acts: number;
}

const DECIDED = "This policy was decided already; it stands as it is";

const dayIn = (text: string, today: string): Result<string, PolicyFault> => {
  const read = readDay(text, today);
  const told = text.trim() === "" ? "nothing" : quotedWords(text.trim());
  if (!read.ok) return failure({ id: "from", says: `Takes effect on: given ${told}; wanted ${read.faults.join("; ")}` });
  return read.value >= today
    ? read
    : failure({ id: "from", says: `Takes effect on: given ${told}; wanted today, ${today}, or a later day` });
};

/** Adopts a draft from a day on; that day. It is checked once more: the rulebook may be another than when it was written. */
export const adoptPolicy = async (
  { store, rulebook }: { readonly store: Store; readonly rulebook: Rulebook },
  { number, from, reason, replaces, acts }: Adopting,
  by: Act,
): Promise<Result<string, PolicyFault>> => {
  const versions = await policyVersions(store);
  const draft = versions.find((version) => version.number === number);
  if (draft === undefined) return failure({ id: "", says: `There is no policy ${number}` });
  if (draft.decided !== null) return failure({ id: "", says: DECIDED });
  const today = by.when.slice(0, 10);
  const day = dayIn(from, today);
  const unsaid = noteFault("reason", "Why", reason, true);
  const replaced = day.ok ? toComeOf(versions, today).filter(({ decided }) => decided.takesEffect >= day.value) : [];
  const faults = [
    ...(day.ok ? [] : day.faults),
    ...(unsaid === null ? [] : [unsaid]),
    ...(replaced.length > 0 && !replaces
      ? replaced.map(({ number: other, decided }) => ({
          id: "replaces",
          says: `Takes effect on: policy ${other} is to take effect on ${decided.takesEffect}; wanted a later day, or a tick that this one takes its place`,
        }))
      : []),
    ...checkPolicy(rulebook, draft.policy).refused.map(({ says }) => ({ id: "", says })),
  ];
  if (!day.ok || faults.length > 0) return failure(...faults);
  const kept = await store.decidePolicy(number, { act: "adopted", takesEffect: day.value }, reason.trim(), { acts }, by);
  return kept.ok ? success(day.value) : failure({ id: "", says: MEANWHILE });
};

/** Drops a draft; it stays readable. */
export const dropPolicy = async (
  { store }: { readonly store: Store },
  { number, reason, acts }: Pick<Adopting, "number" | "reason" | "acts">,
  by: Act,
): Promise<Result<true, PolicyFault>> => {
  const draft = (await policyVersions(store)).find((version) => version.number === number);
  if (draft === undefined) return failure({ id: "", says: `There is no policy ${number}` });
  if (draft.decided !== null) return failure({ id: "", says: DECIDED });
  const long = noteFault("drop-reason", "Why it is dropped", reason, false);
  if (long !== null) return failure(long);
  const kept = await store.decidePolicy(number, { act: "dropped" }, reason.trim(), { acts }, by);
  return kept.ok ? success(true) : failure({ id: "", says: MEANWHILE });
};
