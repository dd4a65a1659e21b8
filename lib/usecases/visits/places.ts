const SET = /^\/sets\/(\d+)(?=\/|$)/;
const REMOVED = /^\/removed\/(\d+)(?=\/|$)/;

/** A pointer of the visit file with the id of its set in place of its number; as it is where it names no set of the visit. */
export const storedPointer = (at: string, sets: readonly number[]): string => {
  const removed = REMOVED.exec(at)?.[1];
  if (removed !== undefined) return at.replace(REMOVED, `/sets/${removed}`);
  const id = sets[Number(SET.exec(at)?.[1] ?? -1)];
  return id === undefined ? at : at.replace(SET, `/sets/${id}`);
};

/** The pointer of the visit file for a stored one; under "/removed" where its set was taken out, so that it comes to stand on no other. */
export const placedPointer = (at: string, sets: readonly number[]): string => {
  const id = SET.exec(at)?.[1];
  if (id === undefined) return at;
  const place = sets.indexOf(Number(id));
  return place < 0 ? at.replace(SET, `/removed/${id}`) : at.replace(SET, `/sets/${place}`);
};

export const isRemoved = (at: string): boolean => REMOVED.test(at);

const PAGE_OF_SET = /^sets\/(\d+)(?=\/|$)/;

/** The path of a page with the id of its set in place of its number: what is kept for a page stays with its set. */
export const storedPath = (path: string, sets: readonly number[]): string => {
  const id = sets[Number(PAGE_OF_SET.exec(path)?.[1] ?? 0) - 1];
  return id === undefined ? path : path.replace(PAGE_OF_SET, `sets/id ${id}`);
};

const STORED_PAGE = /^sets\/id (\d+)(?=\/|$)/;

/** The path of a page for a stored one; null where its set was taken out. */
export const placedPath = (path: string, sets: readonly number[]): string | null => {
  const id = STORED_PAGE.exec(path)?.[1];
  if (id === undefined) return path;
  const place = sets.indexOf(Number(id));
  return place < 0 ? null : path.replace(STORED_PAGE, `sets/${place + 1}`);
};

/**
 * Where the page of a set stands now that was opened when the sets stood in another order; null where its set was taken out, undefined
 * where the page had no such set. `shown` are the ids of the sets as they stood on the page.
 */
export const pathNow = (path: string, shown: readonly number[], sets: readonly number[]): string | null | undefined => {
  const number = PAGE_OF_SET.exec(path)?.[1];
  if (number === undefined) return path;
  const id = shown[Number(number) - 1];
  if (id === undefined) return undefined;
  const place = sets.indexOf(id);
  return place < 0 ? null : path.replace(PAGE_OF_SET, `sets/${place + 1}`);
};

/** The same for a pointer. */
export const pointerNow = (at: string, shown: readonly number[], sets: readonly number[]): string =>
  placedPointer(storedPointer(at, shown), sets);
