import type { Mailbox } from "../../outside/mail.ts";
import type { Delivery, SentLetter } from "../../store/exchanges.ts";
import type { Act } from "../../store/store.ts";
import { makeLink } from "./links.ts";
import { mailAgain, wentOut } from "./mailed.ts";
import type { Recipient, SendingWorld } from "./prepare.ts";
import { deliver, linkExpires, mailIdOf, type Sent } from "./send.ts";

/** Those whom a letter went to and of whose mail nothing was kept: the program was stopped before it was handed over, or right after. */
export const unmailed = ({ to }: Pick<SentLetter, "to">, deliveries: readonly Delivery[]): readonly Recipient[] =>
  to.filter(({ address }) => !deliveries.some((one) => one.address === address));

/**
 * Hands over the mails of a letter that the program was stopped at, each with a link of its own beside the one that is told nowhere any more. A mail that
 * lies in the outbox already stays as it is, and its link opens. Only of a letter that asks; null where nothing was left to do.
 */
export const finishSending = async (
  office: Pick<SendingWorld, "store" | "world" | "post" | "url">,
  sent: SentLetter,
  from: Mailbox,
  by: Act,
): Promise<Pick<Sent, "links" | "deliveries"> | null> => {
  const left = unmailed(sent, await office.store.deliveriesOf(sent.id));
  const letter = left.length === 0 || sent.kind !== "letter" ? null : await wentOut(office.store, sent);
  if (letter === null) return null;
  const links: Sent["links"][number][] = [];
  const deliveries: Delivery[] = [];
  for (const to of left) {
    const { link } = await makeLink(office, { sent: sent.id, recipient: to.name, expiresAt: linkExpires(letter.plan.visit) }, by);
    const again = await mailAgain(office.store, letter, { to, link, from, stamp: sent.when });
    const mail = {
      ...again,
      messageId: mailIdOf(
        sent,
        sent.to.findIndex(({ address }) => address === to.address),
      ),
    };
    deliveries.push(await deliver(office, sent.id, to.address, mail));
    links.push({ to, link, text: mail.text });
  }
  return { links, deliveries };
};

/** So long a letter may be under way, in milliseconds: until then nothing is said of mails of which nothing is kept yet. */
const UNDER_WAY = 120_000;

/** What is told of the mails of a letter that were never handed over, once it is sure that nobody is at it. */
export const neverHandedOver = (sent: SentLetter, deliveries: readonly Delivery[], now: string): readonly Delivery[] =>
  Date.parse(now) - Date.parse(sent.when) < UNDER_WAY
    ? []
    : unmailed(sent, deliveries).map(({ address }) => ({
        sent: sent.id,
        address,
        when: sent.when,
        how: "failed",
        detail: "the program was stopped before the mail was handed over",
      }));
