import * as z from "zod";
import { digestOf } from "../../kernel/digest.ts";
import type { TakenIn, Weighed } from "../../reply/weigh.ts";
import type { Act, Store, StoredVisit } from "../../store/store.ts";
import type { Decided } from "./takeIn.ts";

const choiceSchema = z.object({
  /** References of plain things that are taken. */
  plain: z.array(z.string()).readonly(),
  /** What was chosen of the others, by reference. */
  others: z.record(z.string(), z.enum(["take", "leave"])).readonly(),
  /** Why a way is taken or something is left, by reference. */
  reasons: z.record(z.string(), z.string()).readonly(),
});

/** What an inspector has chosen so far of a reply. */
export type Choice = Readonly<z.infer<typeof choiceSchema>>;

/** What stands chosen before anything was: all that is plain, nothing of the others. */
export const firstChoice = (weighed: readonly Weighed[]): Choice => ({
  plain: weighed.filter(({ plain }) => plain).map(({ ref }) => ref),
  others: {},
  reasons: {},
});

/** References of what is neither taken nor left yet. */
export const undecidedIn = (weighed: readonly Weighed[], { others }: Choice): readonly string[] =>
  weighed.filter(({ ref, plain }) => !plain && others[ref] === undefined).map(({ ref }) => ref);

/** A choice as taking in wants it. What became plain, or no longer is, since it was chosen counts as not chosen. */
export const decidedBy = (weighed: readonly Weighed[], { plain, others, reasons }: Choice): Decided => ({
  taken: new Set(weighed.filter((one) => (one.plain ? plain.includes(one.ref) : others[one.ref] === "take")).map(({ ref }) => ref)),
  reasons: new Map(Object.entries(reasons)),
});

/** Tells a choice on a visit of one version from any other: what is taken in is what was shown. Reasons change nothing of what is shown. */
export const shownMark = ({ plain, others }: Choice, { version }: Pick<StoredVisit, "version">): string =>
  digestOf([[...plain].sort(), Object.entries(others).sort(), version]);

/** The choice by which a reply was taken in, for deciding again after that was taken back. */
export const choiceOf = (weighed: readonly Weighed[], { taken, left, deviations, leftBecause = {} }: TakenIn): Choice => ({
  plain: weighed.filter(({ ref, plain }) => plain && taken.includes(ref)).map(({ ref }) => ref),
  others: Object.fromEntries(
    weighed.flatMap(({ ref, plain }): readonly (readonly [string, "take" | "leave"])[] => {
      if (plain) return [];
      if (taken.includes(ref)) return [[ref, "take"]];
      return left.includes(ref) ? [[ref, "leave"]] : [];
    }),
  ),
  reasons: { ...leftBecause, ...Object.fromEntries(deviations.map(({ protection, reason = "" }) => [protection, reason] as const)) },
});

const pageOf = (visit: string, sent: string): string => `${visit} take-in ${sent}`;

/** What a person has chosen of a reply so far; null where nothing is kept. */
export const keptChoice = async (store: Store, { visit, sent }: Replying, who: string): Promise<Choice | null> => {
  const kept = await store.typed(pageOf(visit, sent), who);
  const read = choiceSchema.safeParse(JSON.parse(kept?.text ?? "null"));
  return read.success ? read.data : null;
};

/** Keeps a choice, in place of the one before; null forgets it. */
export const keepChoice = (store: Store, { visit, sent }: Replying, choice: Choice | null, by: Act): Promise<void> =>
  store.keepTyped(pageOf(visit, sent), choice === null ? null : JSON.stringify(choice), by);

/** The letter of a visit that is replied to, by the ids of both. */
export interface Replying {
  readonly visit: string;
  readonly sent: string;
}
