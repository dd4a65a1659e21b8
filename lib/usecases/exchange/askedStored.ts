import type { Asked } from "../../plan/asked.ts";
import type { Json } from "../../store/store.ts";
import { isRemoved, pointerNow } from "../visits/places.ts";

interface Kept {
  /** Ids of the sets in the order that they had when the letter went out. */
  readonly sets: readonly number[];
  readonly asked: Omit<Asked, "known"> & Partial<Pick<Asked, "known">>;
}

/** What a letter asked as it is kept, with the order of the sets that its pointers go by. */
export const askedStored = (asked: Asked, sets: readonly number[]): Json => JSON.parse(JSON.stringify({ sets, asked })) as Json;

/** What a letter asked, word for word: what its form and its reader were asked. */
export const askedThen = (kept: Json): Asked => {
  const { asked } = kept as unknown as Kept;
  // Letters that went out before such facts bore references were kept without them.
  return { ...asked, known: asked.known ?? [] };
};

/** What a letter asked, with the pointers that its sets have now; of sets that were taken out nothing is asked any more. */
export const askedNow = (kept: Json, sets: readonly number[]): Asked => {
  const { sets: then } = kept as unknown as Kept;
  const asked = askedThen(kept);
  const moved = <Item extends { readonly at?: string }>(items: readonly Item[]): readonly Item[] =>
    items
      .map((item) => (item.at === undefined ? item : { ...item, at: pointerNow(item.at, then, sets) }))
      .filter(({ at }) => at === undefined || !isRemoved(at));
  return { questions: moved(asked.questions), requests: moved(asked.requests), tests: moved(asked.tests), known: moved(asked.known) };
};
