import type { Member } from "../../access/people.ts";
import { isEmail } from "../../model/text.ts";
import type { Mailbox } from "../../outside/mail.ts";
import type { Delivery, SentLetter } from "../../store/exchanges.ts";
import type { Act } from "../../store/store.ts";
import { unlessUnderWay } from "../alone.ts";
import { repeatedly } from "../repeatedly.ts";
import { makeLink } from "./links.ts";
import { mailAgain, wentOut } from "./mailed.ts";
import type { Recipient, SendingWorld } from "./prepare.ts";
import { deliver, linkExpires, mailIdOf, type Sent } from "./send.ts";

/** Those whom a letter went to and of whose mail nothing was kept: the program was stopped before it was handed over, or right after. */
export const unmailed = ({ to }: Pick<SentLetter, "to">, deliveries: readonly Pick<Delivery, "address">[]): readonly Recipient[] =>
  to.filter(({ address }) => isEmail(address) && !deliveries.some((one) => one.address === address));

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

/** By what the sending of a letter is held while somebody is at it, whichever copy of the program that is. */
export const sendingAct = ({ visit, number, who }: Pick<SentLetter, "visit" | "number" | "who">): string =>
  `send ${visit} ${number} ${who}`;

/** What handing over the mails that are left needs of the office. */
export interface Finishing extends Pick<SendingWorld, "store" | "world" | "post" | "url"> {
  readonly clock: () => number;
  readonly accounts: { readonly people: () => Promise<readonly Pick<Member, "id" | "name" | "email">[]> };
}

const DAY = 24 * 60 * 60_000;
/** Letters are looked after for so long, in milliseconds; later their sender presses again, if he still wants. */
const LOOKED_AFTER = 7 * DAY;
/** A letter that went out so lately is left to whoever is at it. */
const AT_IT = 20_000;

const finishOne = async (office: Finishing, sent: SentLetter): Promise<void> => {
  const sender = (await office.accounts.people()).find(({ id }) => id === sent.who);
  if (sender === undefined) return;
  const by = { who: sent.who, when: office.world.now() };
  const done = await finishSending(office, sent, { name: sender.name, address: sender.email }, by);
  if (done === null) return;
  const names = done.links.map(({ to }) => to.name).join(", ");
  const detail = `letter ${sent.number}, mails that were left when the program was stopped, to ${names}`;
  await office.store.audit({ ...by, act: "letter sent", subject: sent.visit, detail });
};

/** Hands over the mails of letters that the program was stopped at, whoever sent them, and tells so in the log. Any copy of the program may do it. */
export const finishLeft = async (office: Finishing): Promise<void> => {
  const now = office.clock();
  const [since, until] = [now - LOOKED_AFTER, now - AT_IT].map((at) => new Date(at).toISOString()) as [string, string];
  for (const mails of await office.store.mailsBetween(since, until)) {
    const sent = unmailed(mails, mails.tried).length === 0 ? null : await office.store.sent(mails.sent);
    if (sent !== null) await unlessUnderWay(office, sendingAct(sent), () => finishOne(office, sent));
  }
};

/** So often mails that are left are looked for, in milliseconds: they are few, and somebody waits for them. */
const LOOKS = 10_000;

/** Looks for mails that are left now and every ten seconds for as long as the program runs. Returns what ends it. */
export const keepFinishing = (office: Finishing): (() => void) => repeatedly(() => finishLeft(office), LOOKS);
