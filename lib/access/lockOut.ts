/** Milliseconds within which failed tries count, and for which a door then stays shut. */
export const COUNTED = 15 * 60_000;

/** So many failed tries shut the door of one account, and of one network address, whatever the accounts. */
export const MOST = { account: 5, address: 20 } as const;

/**
 * Until when, in milliseconds since 1970, a door is shut after failed tries at these instants; null where it is open. A door is shut
 * for as long as so many failures lie within the counted time; trying on does not open it sooner nor shut it longer, since tries at
 * a shut door are not counted.
 */
export const shutUntil = (failures: readonly number[], most: number, now: number): number | null => {
  const recent = failures.filter((at) => at > now - COUNTED && at <= now).sort((a, b) => b - a);
  const deciding = recent[most - 1];
  return deciding === undefined ? null : deciding + COUNTED;
};
