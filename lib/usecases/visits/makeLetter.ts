import type { World } from "../../kernel/ports.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { messageOf } from "../../model/fault.ts";
import type { Planner } from "../../plan/plan.ts";
import type { Plan } from "../../plan/schema.ts";
import type { Act, Store, StoredVisit } from "../../store/store.ts";
import type { Letters } from "../letterFor.ts";
import { planDocument } from "../planFile.ts";
import { keptPlan, rulebookName } from "../review/keepPlan.ts";
import { reviewNow, unreviewed } from "../review/reviewNow.ts";
import { fileOfVisit } from "./planVisit.ts";
import { openVisit, storedFrame } from "./visitDraft.ts";

/** What making a letter needs of the world. */
export interface LetterWorld {
  readonly store: Store;
  readonly world: World;
  readonly planner: Planner;
  readonly letters: Pick<Letters, "render">;
}

/** Keeps the references that a plan handed out, so that T3 stays T3 in every later letter; the version of the visit then. */
const withReferences = async (store: Store, stored: StoredVisit, { references }: Plan, by: Act): Promise<Result<number>> => {
  const { frame } = openVisit(stored).draft;
  const known = (frame as { readonly references?: readonly unknown[] }).references ?? [];
  if (known.length === references.length) return success(stored.version);
  const kept = await store.saveFrame(stored.id, storedFrame({ ...frame, references }, stored.sets), stored.frameVersion, by);
  return kept.ok ? success(kept.value.version) : kept;
};

/**
 * Makes the letter of a visit as it stands and keeps it with the file, plan and rulebook it was made from; its name in the store. A letter
 * that cannot be planned or rendered, or waits for a review, is not kept and says why; plan and answers stay as they are.
 */
export const makeLetter = async (
  { store, world, planner, letters }: LetterWorld,
  visit: string,
  who: string,
): Promise<Result<{ readonly id: string; readonly pdf: Uint8Array }>> => {
  const stored = await store.visit(visit);
  if (stored === null) return failure("there is no such visit");
  const file = fileOfVisit(stored, planner);
  const planned = planDocument(planner, file);
  if (!planned.ok) return failure(...planned.faults.map(messageOf));
  const by: Act = { who, when: world.now() };
  const waits = unreviewed(await reviewNow(store, stored, planned.value.plan, by.when.slice(0, 10)));
  if (waits !== null) return failure(waits);
  const pdf = await letters.render(planned.value, planner.rulebook);
  if (!pdf.ok) return pdf;
  const version = await withReferences(store, stored, planned.value.plan, by);
  if (!version.ok) return version;
  const id = world.newId();
  const made = { visit, version: version.value, rulebook: rulebookName(planner), file: JSON.stringify(file) };
  await store.keepMade({ id, ...made, plan: JSON.stringify(planned.value.plan), pdf: pdf.value, ...by });
  await store.keepPlan(keptPlan(planner, planned.value, { ...made, why: "letter", sets: stored.sets }, by));
  return success({ id, pdf: pdf.value });
};
