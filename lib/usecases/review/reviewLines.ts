import { provesIn } from "../../plan/decisions.ts";
import { PARTS } from "../../rulebook/types.ts";
import type { ReviewEvent } from "../../store/reviews.ts";
import type { Store } from "../../store/store.ts";
import type { Compare, OfficeDecision } from "./comparer.ts";

/** The review of one visit in a list. */
export interface ReviewLine {
  readonly event: ReviewEvent;
  readonly vessel: string;
  readonly owner: string;
  /** A plain date; null where it is not told. */
  readonly begins: string | null;
  /** Tests against the engine, with an unproven part, and without an acceptable way: as the plan stood when it was last kept. */
  readonly against: number;
  readonly unproven: number;
  readonly stuck: number;
  /** The visit was changed after this was done. */
  readonly changed: boolean;
}

const isOpen = ({ chosen, proves }: OfficeDecision): boolean => chosen !== "" && PARTS.some((part) => provesIn(proves)[part] === "open");

/** Every visit of which something was done about its review, by what was done last; the longest ago first. */
export const reviewLines = async (store: Store, compare: Compare): Promise<readonly ReviewLine[]> => {
  const events = await store.reviewsNow();
  const heads = await store.visitHeads(events.map(({ visit }) => visit));
  const byVisit = new Map<string, OfficeDecision[]>(events.map(({ visit }) => [visit, []]));
  for (const decision of compare.decisions) byVisit.get(compare.plans[decision.plan]?.visit ?? "")?.push(decision);
  return events.flatMap((event): readonly ReviewLine[] => {
    const head = heads.get(event.visit);
    const own = byVisit.get(event.visit) ?? [];
    return head === undefined
      ? []
      : [
          {
            event,
            vessel: head.vessel,
            owner: head.owner,
            begins: head.begins,
            against: own.filter(({ engine, chosen }) => engine !== chosen).length,
            unproven: own.filter(isOpen).length,
            changed: head.version > event.version,
            stuck: own.filter(({ chosen }) => chosen === "").length,
          },
        ];
  });
};
