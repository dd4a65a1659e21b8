import { failure, type Result, success } from "../../kernel/result.ts";
import type { Act, Frame, Json, Store, StoredVisit, Write } from "../../store/store.ts";
import { vesselOf } from "./visitDraft.ts";

const MOST_SETS = 60;

/** A set as the frame of a visit holds it: its name and what else is no answer. */
type SetFrame = Readonly<Record<string, Json>>;

const framesOf = ({ frame }: StoredVisit): readonly SetFrame[] => {
  const sets = (frame as { readonly sets?: readonly SetFrame[] }).sets;
  return sets ?? [];
};

const withSets = ({ frame }: StoredVisit, frames: readonly SetFrame[], sets: readonly number[]): Frame => ({
  vessel: vesselOf(frame as object),
  frame: { ...(frame as SetFrame), sets: frames },
  sets,
});

/** An id that no set of the visit bears or ever bore: every change counts a version, and the first sets have ids up to the most there may be. */
const freshId = ({ version }: StoredVisit): number => MOST_SETS + version;

/** The letters that groups of sister sets bear. */
export const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/** A letter of its own for the set at a place; beyond the alphabet the last one is shared. */
export const sistersAt = (place: number): string => LETTERS[Math.min(place, LETTERS.length - 1)] ?? "Z";

/** A letter that no set of the visit bears yet: a set that is added is nobody's sister before that is said. */
const freeLetter = (stored: StoredVisit): string => {
  const borne = new Set(framesOf(stored).map(({ sisters }) => sisters ?? LETTERS[0]));
  return [...LETTERS].find((letter) => !borne.has(letter)) ?? sistersAt(LETTERS.length);
};

/** What happened to the sets, so that it can be undone. */
export interface SetsChanged {
  readonly version: number;
  readonly id: number;
}

interface Change {
  readonly frame: Frame;
  readonly id: number;
  readonly answers?: readonly Omit<Write, "seen">[];
}

const changed = async (store: Store, stored: StoredVisit, { frame, id, answers }: Change, by: Act): Promise<Result<SetsChanged>> => {
  const kept = await store.saveFrame(stored.id, frame, stored.frameVersion, by, answers);
  return kept.ok ? success({ version: kept.value.version, id }) : kept;
};

const placeOf = ({ sets }: StoredVisit, id: number): number => sets.indexOf(id);

const NO_SET = "there is no such set";

/** Adds a set of a name behind the others. */
export const addSet = (store: Store, stored: StoredVisit, name: string, by: Act): Promise<Result<SetsChanged>> => {
  if (stored.sets.length >= MOST_SETS) return Promise.resolve(failure(`at most ${MOST_SETS} sets`));
  const id = freshId(stored);
  return changed(
    store,
    stored,
    { frame: withSets(stored, [...framesOf(stored), { name, sisters: freeLetter(stored) }], [...stored.sets, id]), id },
    by,
  );
};

/** Adds a set of a name with all the answers and letters of another. */
export const copySet = (store: Store, stored: StoredVisit, from: number, name: string, by: Act): Promise<Result<SetsChanged>> => {
  const original = framesOf(stored)[placeOf(stored, from)];
  if (original === undefined) return Promise.resolve(failure(NO_SET));
  if (stored.sets.length >= MOST_SETS) return Promise.resolve(failure(`at most ${MOST_SETS} sets`));
  const id = freshId(stored);
  const answers = [...stored.answers].flatMap(([at, { value }]): readonly Omit<Write, "seen">[] =>
    at.startsWith(`/sets/${from}/`) && value !== undefined ? [{ at: at.replace(`/sets/${from}/`, `/sets/${id}/`), value }] : [],
  );
  return changed(
    store,
    stored,
    { frame: withSets(stored, [...framesOf(stored), { ...original, name }], [...stored.sets, id]), id, answers },
    by,
  );
};

/** Gives a set another name, which decides nothing, and the letter that its sister sets bear. */
export const renameSet = (
  store: Store,
  stored: StoredVisit,
  id: number,
  given: { readonly name: string; readonly sisters?: string },
  by: Act,
): Promise<Result<SetsChanged>> => {
  const place = placeOf(stored, id);
  if (place < 0) return Promise.resolve(failure(NO_SET));
  const frames = framesOf(stored).map((frame, other) => (other === place ? { ...frame, ...given } : frame));
  return changed(store, stored, { frame: withSets(stored, frames, stored.sets), id }, by);
};

/** A set that was taken out, as it must be known to be put back. */
export interface TakenOut {
  readonly id: number;
  readonly place: number;
  readonly frame: SetFrame;
}

/** Takes a set out of the visit; its answers stay with its id, so that it can be put back as it was. The last set stays. */
export const removeSet = async (
  store: Store,
  stored: StoredVisit,
  id: number,
  by: Act,
): Promise<Result<SetsChanged & { readonly out: TakenOut }>> => {
  const place = placeOf(stored, id);
  const frame = framesOf(stored)[place];
  if (place < 0 || frame === undefined) return failure(NO_SET);
  if (stored.sets.length === 1) return failure("a visit has at least one set");
  const without = withSets(
    stored,
    framesOf(stored).filter((_, other) => other !== place),
    stored.sets.filter((other) => other !== id),
  );
  const done = await changed(store, stored, { frame: without, id }, by);
  return done.ok ? success({ ...done.value, out: { id, place, frame } }) : done;
};

/** Puts a set back where it was, with all its answers. */
export const restoreSet = (store: Store, stored: StoredVisit, { id, place, frame }: TakenOut, by: Act): Promise<Result<SetsChanged>> => {
  if (stored.sets.includes(id)) return Promise.resolve(success({ version: stored.version, id }));
  const at = Math.min(place, stored.sets.length);
  const frames = framesOf(stored).toSpliced(at, 0, frame);
  return changed(store, stored, { frame: withSets(stored, frames, stored.sets.toSpliced(at, 0, id)), id }, by);
};
