import { failure, type Result, success } from "../../kernel/result.ts";
import type { Closing } from "../../letter/closed.ts";
import { outcomeOf } from "../../letter/closing.ts";
import { waitingAlike } from "../../letter/closingWaits.ts";
import type { PlanInput } from "../../letter/protections.ts";
import { refsOf, windowWords } from "../../letter/words.ts";
import type { Ended } from "../../outside/entries.ts";
import type { Rulebook } from "../../rulebook/types.ts";

import type { Store, StoredVisit } from "../../store/store.ts";
import type { Planned } from "../planFile.ts";
import { closingOf } from "./closing.ts";

/** How the exchange ends with a letter, as calendar and mail tell it; null with a letter that asks. */
export const endedBy = (input: PlanInput, closing: Closing | undefined): Ended | null => {
  if (closing === undefined) return null;
  const { done, later } = outcomeOf(input, closing);
  return { done: done.map(({ ref }) => ref), later: later.map(({ protection }) => protection.ref) };
};

/** How the exchange of a visit has ended, as its calendar tells it; null where its last letter asks, or where what changed since opened it again. */
export const endedNow = async (
  at: { readonly store: Store; readonly stored: StoredVisit },
  planned: Planned,
  rulebook: Rulebook,
): Promise<Ended | null> => {
  const kind = (await at.store.sentOf(at.stored.id)).at(-1)?.kind;
  if (kind === undefined || kind === "letter") return null;
  const closing = await closingOf(at, planned, kind);
  return closing.ok ? endedBy({ ...planned, rulebook, units: "metric" }, closing.value) : null;
};

/** What ending an exchange without all being settled would say and do, in words, for whoever is about to. */
export interface Ending {
  /** The tests that would be done, and how many of them the vessel agreed to; empty where none would. */
  readonly done: string;
  readonly later: readonly { readonly tests: string; readonly waitsFor: string }[];
  /** Tests without an acceptable way; empty where every one has one. */
  readonly without: string;
  /** What becomes of the visit in the calendars that have it. */
  readonly calendar: string;
}

/** How the exchange of a visit would end now, from the very plan and replies that its letter would be made from; fails with why it cannot. */
export const endingOf = async (
  at: { readonly store: Store; readonly stored: StoredVisit },
  planned: Planned,
  rulebook: Rulebook,
): Promise<Result<Ending>> => {
  const closing = await closingOf(at, planned, "not settled");
  if (!closing.ok) return failure(...closing.faults);
  const input = { ...planned, rulebook, units: "metric" } as const;
  const { done, later, without, agreed } = outcomeOf(input, closing.value);
  const days = windowWords(planned.plan.visit.window);
  const agreedTo = done.filter(({ ref }) => agreed.has(ref)).length;
  return success({
    done:
      done.length === 0
        ? ""
        : `${refsOf(done)}: ${done.length === 1 ? "one test" : `${done.length} tests`}, ${agreedTo} of them agreed by the vessel`,
    later: waitingAlike(later, input).map(({ tests, waitsFor }) => ({ tests: refsOf(tests), waitsFor })),
    without: refsOf(without),
    calendar:
      done.length === 0
        ? `No test is left, so the attached calendar file calls the visit of ${days} off for everybody who has it, with the days to reply and to confirm by.`
        : `The visit of ${days} stays, with the tests that are done; the days to reply and to confirm by are called off.`,
  });
};
