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
