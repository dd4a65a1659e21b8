import { type Draft, draftOf, type Given } from "../../flow/draft.ts";
import type { FactSpec } from "../../model/fact.ts";
import type { Frame, Json, StoredVisit } from "../../store/store.ts";
import { isRemoved, placedPointer, storedPointer } from "./places.ts";

type Pointed = Readonly<Record<string, unknown>>;

/** A list of the frame whose entries point into the visit, with every pointer turned by `turn`. */
const turned = (list: unknown, key: string, turn: (at: string) => string): unknown =>
  Array.isArray(list)
    ? list.map((entry: unknown) => {
        if (typeof entry !== "object" || entry === null) return entry;
        const at = (entry as Pointed)[key];
        return typeof at === "string" && at.startsWith("/") ? { ...entry, [key]: turn(at) } : entry;
      })
    : list;

/** A frame with the pointers of its references, deviations and earlier results turned; nothing else of it is touched. */
const withPointers = (frame: object, turn: (at: string) => string): object => {
  const { references, deviations, lastTime } = frame as Pointed;
  return {
    ...frame,
    ...(references === undefined ? {} : { references: turned(references, "for", turn) }),
    ...(deviations === undefined ? {} : { deviations: turned(deviations, "protection", turn) }),
    ...(lastTime === undefined ? {} : { lastTime: turned(lastTime, "at", turn) }),
  };
};

/** A stored visit as it is filled in, with the versions of its answers, which a write must name. */
export interface OpenVisit {
  readonly draft: Draft;
  readonly seen: ReadonlyMap<string, number>;
}

/** A stored visit with sets by their numbers, as the visit file has them. */
export const openVisit = ({ frame, sets, answers }: StoredVisit): OpenVisit => {
  const known = new Map<string, Given>();
  const seen = new Map<string, number>();
  for (const [at, { value, version }] of answers) {
    const place = placedPointer(at, sets);
    if (isRemoved(place)) continue;
    seen.set(place, version);
    if (value !== undefined && value !== null) known.set(place, value as Given);
  }
  return { draft: { frame: withPointers(frame as object, (at) => placedPointer(at, sets)), answers: known }, seen };
};

/** The vessel's name in a frame; empty where it is not told yet. */
export const vesselOf = (frame: object): string => {
  const name = (frame as { visit?: { vessel?: { name?: unknown } } }).visit?.vessel?.name;
  return typeof name === "string" ? name : "";
};

/** The frame of a draft as it is stored, for sets of these ids. */
export const storedFrame = (frame: object, sets: readonly number[]): Frame => ({
  vessel: vesselOf(frame),
  frame: withPointers(frame, (at) => storedPointer(at, sets)) as Json,
  sets,
});

/** A frame from a file without earlier results of sets that its visit had taken out: their ids would be those of other sets here. */
const withoutRemoved = (frame: object): object => {
  const { lastTime, ...rest } = frame as { readonly lastTime?: readonly { readonly at: string }[] };
  const own = lastTime?.filter(({ at }) => !isRemoved(at)) ?? [];
  return own.length === 0 ? rest : { ...rest, lastTime: own };
};

/** A visit file taken apart for the store. Its sets are given the ids 1, 2, 3 … */
export const storedParts = (
  document: object,
  facts: readonly FactSpec[],
): { readonly frame: Frame; readonly answers: readonly { readonly at: string; readonly value: Json }[] } => {
  const draft = draftOf(document, facts);
  const own = (draft.frame as { sets?: unknown }).sets;
  const sets = Array.isArray(own) ? own.map((_, place) => place + 1) : [];
  return {
    frame: storedFrame(withoutRemoved(draft.frame), sets),
    answers: [...draft.answers].map(([at, value]) => ({ at: storedPointer(at, sets), value })),
  };
};
