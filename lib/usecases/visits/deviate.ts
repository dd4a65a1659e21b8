import { previewOf } from "../../flow/live.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { text } from "../../model/text.ts";
import type { Planner } from "../../plan/plan.ts";
import { capital } from "../../plan/say.ts";
import type { Act, Store, StoredVisit } from "../../store/store.ts";
import { openVisit, storedFrame } from "./visitDraft.ts";

/** A choice of the inspector against the engine's, as the visit file holds it. */
interface Deviation {
  readonly protection: string;
  readonly method: string;
  readonly reason: string;
}

const LONGEST_REASON = 600;

const deviationsIn = (frame: object): readonly Deviation[] => (frame as { readonly deviations?: readonly Deviation[] }).deviations ?? [];

const without = (frame: object, refs: readonly string[]): readonly Deviation[] =>
  deviationsIn(frame).filter(({ protection }) => !refs.includes(protection));

export interface Choosing {
  /** Pointer of the protection's channel in the visit file. */
  readonly at: string;
  /** The method insisted on; null goes back to the order of preference. */
  readonly method: string | null;
  readonly reason: string;
  /** The version of the visit that the page showed. */
  readonly seen: number;
}

/** What is wrong with a choice, and with which field of it. */
export interface ChoiceFault {
  readonly field: "method" | "reason";
  readonly says: string;
}

const fault = (field: ChoiceFault["field"], says: string): Result<never, ChoiceFault> => failure({ field, says });

/**
 * Keeps or takes back the inspector's own choice for one protection. What is vetoed, barred or still depends is refused with the
 * engine's reason and changes nothing, as is a choice without a reason.
 */
export const chooseMethod = async (
  { store, planner }: { readonly store: Store; readonly planner: Planner },
  stored: StoredVisit,
  { at, method, reason, seen }: Choosing,
  by: Act,
): Promise<Result<null, ChoiceFault>> => {
  const { draft } = openVisit(stored);
  const now = previewOf(draft, planner);
  const plan = "plan" in now ? now.plan : null;
  const protection = plan?.sets.flatMap(({ protections }) => protections).find((one) => one.at === at);
  if (protection === undefined) return fault("method", "There is no such test as things stand");
  const rest = without(draft.frame, [at, protection.ref]);
  const keep = async (deviations: readonly Deviation[]): Promise<Result<null, ChoiceFault>> => {
    const { deviations: _, ...frame } = draft.frame as Readonly<Record<string, unknown>>;
    const next = deviations.length === 0 ? frame : { ...frame, deviations };
    const kept = await store.saveFrame(stored.id, storedFrame(next, stored.sets), seen, by);
    return kept.ok
      ? success(null)
      : fault("method", "Somebody else changed the visit after you opened this page. Look at it again, then choose");
  };
  if (method === null) return keep(rest);
  const written = reason.trim();
  if (written === "") return fault("reason", "Reason: given nothing; wanted why this way is taken against the order of preference");
  if (written.length > LONGEST_REASON)
    return fault("reason", `Reason: given ${written.length} characters; wanted at most ${LONGEST_REASON}`);
  const unfit = text(LONGEST_REASON).safeParse(written);
  if (!unfit.success) return fault("reason", `Reason: ${unfit.error.issues[0]?.message ?? "wanted another"}`);
  const verdict = protection.verdicts.find((one) => one.method === method);
  if (verdict === undefined) return fault("method", "Choose one of the methods of this test");
  const wanted = [...rest, { protection: at, method, reason: written }];
  const after = previewOf({ ...draft, frame: { ...draft.frame, deviations: wanted } }, planner);
  const outcome =
    "plan" in after ? after.plan.sets.flatMap(({ protections }) => protections).find((one) => one.at === at)?.deviation : undefined;
  if (outcome === undefined || outcome.refused || verdict.verdict !== "fit")
    return fault("method", `This method cannot be chosen: it is ${verdict.verdict}. ${capital(verdict.reason)}`);
  return keep(wanted);
};
