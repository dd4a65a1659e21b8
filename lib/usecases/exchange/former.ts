import type { NotTaken } from "../../letter/changes.ts";
import type { LetterInput } from "../../letter/letter.ts";
import type { Plan } from "../../plan/schema.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { SentLetter } from "../../store/exchanges.ts";
import type { Store } from "../../store/store.ts";
import { takenLines } from "./record.ts";

/** What of the reply to a letter was left, in words. */
const leftOf = async (store: Store, sent: SentLetter, rulebook: Rulebook): Promise<readonly NotTaken[]> =>
  takenLines({ sent, state: await store.replyOf(sent.id) }, rulebook).flatMap(({ ref, says, state, reason }) =>
    state === "left" ? [{ ref, said: says, ...(reason === undefined ? {} : { because: reason }) }] : [],
  );

/**
 * What the next letter of a visit tells of the last one that went out: its plan, from which what changed is worked out, and what was answered to it and
 * left; nothing before the first.
 */
export const sinceLastLetter = async (
  store: Store,
  visit: string,
  rulebook: Rulebook,
): Promise<Pick<LetterInput, "notTaken"> & { readonly former?: Plan }> => {
  const last = (await store.sentOf(visit)).at(-1);
  if (last === undefined) return {};
  const made = await store.made(last.made);
  return { ...(made === null ? {} : { former: JSON.parse(made.plan) as Plan }), notTaken: await leftOf(store, last, rulebook) };
};
