import { type DayFieldFault, type DayTexts, dayTexts, dayTyped } from "../../flow/dayForm.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import type { Fault } from "../../model/fault.ts";
import type { DayInput } from "../../plan/day/input.ts";
import { type DrawnUp, drawnUp } from "../../plan/day/setup.ts";
import type { Planner } from "../../plan/plan.ts";
import type { Act, Store, StoredVisit } from "../../store/store.ts";
import { planVisit } from "./planVisit.ts";
import { openVisit, storedFrame } from "./visitDraft.ts";

/** What the order of a visit's day is worked out from, with the form's fields as they are kept. */
export interface DayOfVisit {
  readonly input: DayInput;
  readonly setup: DrawnUp;
  readonly texts: DayTexts;
}

/** The day of a stored visit before any search; where the visit cannot be planned yet, everything that is missing. */
export const dayOfVisit = (stored: StoredVisit, planner: Planner): Result<DayOfVisit, Fault> => {
  const planned = planVisit(stored, planner);
  if (!planned.ok) return planned;
  const input = { ...planned.value, rulebook: planner.rulebook };
  return success({ input, setup: drawnUp(input), texts: dayTexts(input.read.visit.day) });
};

/** What was typed, and what the page showed of the record. */
export interface TypedDay {
  readonly texts: DayTexts;
  readonly was: DayTexts;
}

const same = (one: DayTexts, other: DayTexts): boolean =>
  [...new Set([...Object.keys(one), ...Object.keys(other)])].every((key) => (one[key] ?? "").trim() === (other[key] ?? "").trim());

/**
 * Keeps how a day is arranged: all of it, or nothing where a field is at fault or somebody else arranged it otherwise since the page was opened. `texts` null puts it
 * back to the usual.
 */
export const saveDay = async (
  store: Store,
  stored: StoredVisit,
  { texts, was, now }: { readonly texts: DayTexts | null; readonly was: DayTexts; readonly now: DayTexts },
  by: Act,
): Promise<Result<"saved", DayFieldFault>> => {
  const meanwhile: DayFieldFault = {
    field: "",
    says: "Somebody else arranged the day meanwhile; what you typed stands below. Keep it again to make it so",
  };
  if (!same(was, now)) return failure(meanwhile);
  const typed = texts === null ? null : dayTyped(texts);
  if (typed?.ok === false) return typed;
  const { day: _, ...rest } = openVisit(stored).draft.frame as { readonly day?: unknown };
  const frame = typed === null ? rest : { ...rest, day: typed.value };
  const kept = await store.saveFrame(stored.id, storedFrame(frame, stored.sets), stored.frameVersion, by);
  return kept.ok ? success("saved") : failure(meanwhile);
};
