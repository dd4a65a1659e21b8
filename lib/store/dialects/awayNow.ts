import type { Away } from "./away.ts";

/** Pages and the server before them are bundled apart; what they tell each other hangs on the process. */
const shared = globalThis as typeof globalThis & { forehailAway?: { readonly why: Away; readonly at: number } };

/** An answer that failed comes right after its error; what is older belongs to another. */
const LATELY = 5_000;

export const noteAway = (why: Away): void => {
  shared.forehailAway = { why, at: Date.now() };
};

/** Why the database was away just now; null where it was not. */
export const awayLately = (): Away | null =>
  shared.forehailAway === undefined || Date.now() - shared.forehailAway.at > LATELY ? null : shared.forehailAway.why;
