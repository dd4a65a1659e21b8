import type { Attachment, Delivery, Entry, ReplyLink, ReplyState, SentLetter } from "../../store/exchanges.ts";
import type { Act, Store } from "../../store/store.ts";
import { askedThen } from "./askedStored.ts";

/** How far a reply is filled in. */
export interface Progress {
  readonly filled: number;
  readonly asked: number;
  /** Who filled something in last. */
  readonly last?: Act;
}

/** How many of the things that a letter asked are filled in. What belongs to the whole reply is none of them. Pure. */
export const progressOf = (sent: SentLetter, entries: readonly Entry[]): Progress => {
  const { questions, requests, tests } = askedThen(sent.asked);
  const refs = new Set([...questions, ...requests, ...tests].map(({ ref }) => ref));
  const filled = entries.filter(({ ref, value }) => refs.has(ref) && value !== undefined).length;
  const last = entries.reduce<Entry | undefined>(
    (latest, entry) => (latest === undefined || entry.when > latest.when ? entry : latest),
    undefined,
  );
  return { filled, asked: refs.size, ...(last === undefined ? {} : { last: { who: last.who, when: last.when } }) };
};

/** A letter that went out with everything that became of it. */
export interface LetterState {
  readonly sent: SentLetter;
  readonly deliveries: readonly Delivery[];
  readonly links: readonly ReplyLink[];
  readonly reply: ReplyState;
  readonly progress: Progress;
  readonly files: readonly Attachment[];
}

/** The letters of a visit that went out, the first first. */
export const exchangeOf = async (store: Store, visit: string): Promise<readonly LetterState[]> =>
  Promise.all(
    (await store.sentOf(visit)).map(async (sent) => {
      const [deliveries, links, reply, entries, files] = await Promise.all([
        store.deliveriesOf(sent.id),
        store.linksOf(sent.id),
        store.replyOf(sent.id),
        store.entriesOf(sent.id),
        store.attachmentsOf(sent.id),
      ]);
      return { sent, deliveries, links, reply, progress: progressOf(sent, entries), files };
    }),
  );
