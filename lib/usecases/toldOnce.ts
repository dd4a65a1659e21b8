import { hidden, shown } from "../access/hidden.ts";
import { markOf, newCode } from "../access/invitation.ts";
import type { Json, Store } from "../store/store.ts";

/** What is told once waits so long for who it is for, in milliseconds. */
const LASTS = 10 * 60_000;

/** What hiding things for a while needs of the office. */
export interface Hiding {
  readonly store: Store;
  readonly secret: string;
  /** Milliseconds since 1970. */
  readonly clock: () => number;
}

/**
 * Holds a value for one person for ten minutes; by what it is asked for. The database keeps it hidden by that very word, of which it knows only a digest,
 * so that whoever reads the database learns nothing.
 */
export const putOnce = async ({ store, secret, clock }: Hiding, person: string, value: unknown): Promise<string> => {
  const [id, now] = [newCode(), clock()];
  await store.putOnce(markOf(id), person, hidden(JSON.stringify(value), secret, id), now + LASTS, now);
  return id;
};

/** What a query says of one name: a list where it stands there several times. */
type Queried = string | readonly string[] | undefined;

/** The value that is held for a person, who takes it away with that; null where there is none, or none of his. */
export const takeOnce = async ({ store, secret, clock }: Hiding, id: Queried, person: string): Promise<Json | null> => {
  if (typeof id !== "string") return null;
  const kept = await store.takeOnce(markOf(id), person, clock());
  const text = kept === null ? null : shown(kept, secret, id);
  return text === null ? null : (JSON.parse(text) as Json);
};
