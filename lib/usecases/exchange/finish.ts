import type { Member } from "../../access/people.ts";
import { isEmail } from "../../model/text.ts";
import type { Mail, Mailbox } from "../../outside/mail.ts";
import type { Delivery, SentLetter } from "../../store/exchanges.ts";
import type { Act } from "../../store/store.ts";
import { unlessUnderWay } from "../alone.ts";
import { planDocument } from "../planFile.ts";
import { repeatedly } from "../repeatedly.ts";
import { endedNow } from "./ending.ts";
import { makeLink } from "./links.ts";
import { endingMailAgain, mailAgain, type WentOut, wentOut } from "./mailed.ts";
import type { Recipient, SendingWorld } from "./prepare.ts";
import { deliver, linkExpires, mailIdOf, type Sent } from "./send.ts";

/** Those whom a letter went to and of whose mail nothing was kept: the program was stopped before it was handed over, or right after. */
export const unmailed = ({ to }: Pick<SentLetter, "to">, deliveries: readonly Pick<Delivery, "address">[]): readonly Recipient[] =>
  to.filter(({ address }) => isEmail(address) && !deliveries.some((one) => one.address === address));

/** What finishing needs of the office. */
type Finisher = Pick<SendingWorld, "store" | "world" | "post" | "url" | "planner">;

/** Writes the mail to one recipient, and makes his link where the letter asks; null where the letter cannot be told again. */
type Writer = (to: Recipient, messageId: string) => Promise<{ readonly mail: Mail; readonly link: string | null }>;

/** Of a letter that asks: with a link beside the one that is told nowhere any more. */
const asking =
  (office: Finisher, letter: WentOut, from: Mailbox, by: Act): Writer =>
  async (to, messageId) => {
    const { sent } = letter;
    const { link } = await makeLink(office, { sent: sent.id, recipient: to.name, expiresAt: linkExpires(letter.plan.visit) }, by);
    const again = await mailAgain(office.store, letter, { to, link, from, stamp: sent.when });
    return { mail: { ...again, messageId }, link };
  };

/** Of a letter that ended the exchange, as long as it is the last one: how it ended is worked out again from what it was made from. */
const ending = async ({ store, planner }: Finisher, letter: WentOut, from: Mailbox): Promise<Writer | null> => {
  const { sent, file } = letter;
  const ends = sent.kind;
  if (ends === "letter") return null;
  // Asked first: what is not the last letter is met again at every look, and planning takes much longer.
  if ((await store.sentOf(sent.visit)).at(-1)?.id !== sent.id) return null;
  const stored = await store.visit(sent.visit);
  const planned = planDocument(planner, file);
  if (stored === null || !planned.ok) return null;
  const ended = await endedNow({ store, stored }, planned.value, planner.rulebook);
  return ended === null
    ? null
    : async (to, messageId) => ({ mail: await endingMailAgain(store, letter, { ends, ended }, { to, from, messageId }), link: null });
};

/**
 * Hands over the mails of a letter that the program was stopped at, each with a link of its own where the letter asks. A mail that lies in the outbox
 * already stays as it is, and its link opens. Null where nothing was left to do, or where a letter that ended the exchange is not its last any more.
 */
export const finishSending = async (
  office: Finisher,
  sent: SentLetter,
  from: Mailbox,
  by: Act,
): Promise<Pick<Sent, "links" | "deliveries"> | null> => {
  const left = unmailed(sent, await office.store.deliveriesOf(sent.id));
  const letter = left.length === 0 ? null : await wentOut(office.store, sent);
  if (letter === null) return null;
  const write = sent.kind === "letter" ? asking(office, letter, from, by) : await ending(office, letter, from);
  if (write === null) return null;
  const links: Sent["links"][number][] = [];
  const deliveries: Delivery[] = [];
  for (const to of left) {
    const place = sent.to.findIndex(({ address }) => address === to.address);
    const { mail, link } = await write(to, mailIdOf(sent, place));
    deliveries.push(await deliver(office, sent.id, to.address, mail));
    if (link !== null) links.push({ to, link, text: mail.text });
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
export interface Finishing extends Finisher {
  readonly clock: () => number;
  readonly accounts: { readonly people: () => Promise<readonly Pick<Member, "id" | "name" | "email">[]> };
}

const DAY = 24 * 60 * 60_000;
/** Letters are looked after for so long, in milliseconds; later their sender presses again, if he still wants. */
const LOOKED_AFTER = 7 * DAY;
/** A letter that went out so lately is left to whoever is at it. */
const AT_IT = 20_000;

/** Those whose mails were handed over, by name. */
export const namesOf = ({ to }: SentLetter, { deliveries }: Pick<Sent, "deliveries">): string =>
  deliveries.map(({ address }) => to.find((one) => one.address === address)?.name ?? address).join(", ");

const finishOne = async (office: Finishing, sent: SentLetter): Promise<void> => {
  const sender = (await office.accounts.people()).find(({ id }) => id === sent.who);
  if (sender === undefined) return;
  const by = { who: sent.who, when: office.world.now() };
  const done = await finishSending(office, sent, { name: sender.name, address: sender.email }, by);
  if (done === null) return;
  const detail = `letter ${sent.number}, mails that were left when the program was stopped, to ${namesOf(sent, done)}`;
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
export const keepFinishing = (office: Finishing): (() => Promise<void>) => repeatedly(() => finishLeft(office), LOOKS);
