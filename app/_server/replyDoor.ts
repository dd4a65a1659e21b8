import { opens } from "../../lib/access/replyLink.ts";
import type { Asked } from "../../lib/plan/asked.ts";
import type { ReplyLink, SentLetter } from "../../lib/store/exchanges.ts";
import type { StoredVisit } from "../../lib/store/store.ts";
import { askedThen } from "../../lib/usecases/exchange/askedStored.ts";
import type { Office } from "../../lib/usecases/office.ts";

/** Whoever came through a private link, and the letter that he answers. */
export interface AtReply {
  readonly office: Office;
  readonly link: ReplyLink;
  readonly sent: SentLetter;
  readonly stored: StoredVisit;
  readonly asked: Asked;
  /** The letter that has taken this one's place meanwhile; undefined where there is none. */
  readonly later?: SentLetter;
}

/** The reply that a link opens now; null where it opens none. */
export const replyAt = async (office: Office, link: ReplyLink | null): Promise<AtReply | null> => {
  if (link === null || !opens(link, office.world.now())) return null;
  const sent = await office.store.sent(link.sent);
  const stored = sent === null ? null : await office.store.visit(sent.visit);
  if (sent === null || stored === null) return null;
  const later = (await office.store.sentOf(sent.visit)).filter(({ number }) => number > sent.number).at(-1);
  return { office, link, sent, stored, asked: askedThen(sent.asked), ...(later === undefined ? {} : { later }) };
};

/** Milliseconds that a try which opened nothing takes, whatever was wrong with it. */
const PAUSE = 400;
/** So many such tries wait for their answers; more are sent away. */
const MOST_WAITING = 25;

/** Bundled several times over, the handlers share one queue on the process. */
const shared = globalThis as typeof globalThis & { forehailWrongTries?: { until: number } };

/**
 * Holds the answer to a try that opened nothing: such tries are answered one after the other, so that guessing is slow however many guess at
 * once, and each after the same time. False where too many wait already.
 */
export const heldBack = async (now: () => number): Promise<boolean> => {
  shared.forehailWrongTries ??= { until: 0 };
  const queue = shared.forehailWrongTries;
  const start = Math.max(now(), queue.until);
  if (start - now() > MOST_WAITING * PAUSE) return false;
  queue.until = start + PAUSE;
  await new Promise((done) => setTimeout(done, queue.until - now()));
  return true;
};
