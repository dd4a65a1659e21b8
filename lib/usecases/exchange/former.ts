import type { NotTaken } from "../../letter/changes.ts";
import type { LetterInput } from "../../letter/letter.ts";
import type { Plan } from "../../plan/schema.ts";
import type { KnownToVessel } from "../../reply/settlement.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Store } from "../../store/store.ts";
import { outcomeKept } from "./outcome.ts";
import { takenLines } from "./record.ts";

/**
 * What the next letter of a visit tells of the last one that went out: its plan, from which what changed is worked out, and of the answer to it what was
 * agreed and what was left; nothing before the first.
 */
export const sinceLastLetter = async (
  store: Store,
  visit: string,
  rulebook: Rulebook,
): Promise<Pick<LetterInput, "notTaken" | "agreed"> & { readonly former?: Plan }> => {
  const last = (await store.sentOf(visit)).at(-1);
  if (last === undefined) return {};
  const made = await store.made(last.made);
  const state = await store.replyOf(last.id);
  const notTaken = takenLines({ sent: last, state }, rulebook).flatMap(({ ref, says, state: became, reason }): readonly NotTaken[] =>
    became === "left" ? [{ ref, said: says, ...(reason === undefined ? {} : { because: reason }) }] : [],
  );
  return {
    ...(made === null ? {} : { former: JSON.parse(made.plan) as Plan }),
    notTaken,
    agreed: state.taken === undefined ? [] : outcomeKept(state.taken.outcome).agreed,
  };
};

/** What the vessel knows of the ways of its tests, by the last letter and what was taken of its replies; undefined before the first letter. */
export const knownToVessel = async (store: Store, visit: string): Promise<KnownToVessel | undefined> => {
  const letters = await store.sentOf(visit);
  const last = letters.at(-1);
  const made = last === undefined ? null : await store.made(last.made);
  if (made === null) return undefined;
  const taken = await Promise.all(letters.map(async ({ id }) => (await store.replyOf(id)).taken));
  const proposed = taken.flatMap((one) =>
    one === undefined ? [] : outcomeKept(one.outcome).deviations.map(({ protection, method }) => [protection, method] as const),
  );
  return { plan: JSON.parse(made.plan) as Plan, proposed: new Map(proposed) };
};
