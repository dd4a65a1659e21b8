import { setTimeout as pause } from "node:timers/promises";
import { opens } from "../../lib/access/replyLink.ts";
import type { Asked } from "../../lib/plan/asked.ts";
import type { ReplyLink, SentLetter } from "../../lib/store/exchanges.ts";
import type { Pace } from "../../lib/store/running.ts";
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

/** Tries that open nothing are answered one after the other, each after so many milliseconds; so many wait, more are sent away. */
const WRONG_TRIES: Pace = { every: 400, burst: 26 };

/**
 * Holds the answer to a try that opened nothing: such tries are answered one after the other, whichever copy of the program they come to, so that
 * guessing is slow however many guess at once, and each after the same time. False where too many wait already.
 */
export const heldBack = async ({ store, clock }: Pick<Office, "store" | "clock">): Promise<boolean> => {
  const { due, wait } = await store.passDoor("wrong links", clock(), WRONG_TRIES);
  if (wait > 0) return false;
  await pause(Math.max(0, due - clock()));
  return true;
};
