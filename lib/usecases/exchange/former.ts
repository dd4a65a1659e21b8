import type { Plan } from "../../plan/schema.ts";
import type { Store } from "../../store/store.ts";

/** The plan of the last letter of a visit that went out, so that the next one tells what changed; undefined before the first. */
export const lastSentPlan = async (store: Store, visit: string): Promise<Plan | undefined> => {
  const last = (await store.sentOf(visit)).at(-1);
  const made = last === undefined ? null : await store.made(last.made);
  return made === null ? undefined : (JSON.parse(made.plan) as Plan);
};
