import { markOf, newCode } from "../../access/invitation.ts";
import { readDay } from "../../figures/readDay.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { quotedWords } from "../../model/fault.ts";
import { isEmail } from "../../model/text.ts";
import type { Mailbox } from "../../outside/mail.ts";
import { faultWords, NOTHING_WRITTEN } from "../../reply/faultWords.ts";
import type { Delivery, ReplyLink, SentLetter } from "../../store/exchanges.ts";
import type { Act, Store } from "../../store/store.ts";
import { deliverLater, LATER, mailAgain, wentOut } from "./mailed.ts";
import { linkExpires, type Recipient, type SendingWorld } from "./send.ts";

/** A link as it is told to whoever made it, once: it is kept nowhere. */
export interface ToldLink {
  readonly to: Recipient;
  readonly link: string;
  /** The mail that carries it, for copying. */
  readonly text: string;
}

const DAY = 24 * 60 * 60_000;
/** Longer ahead than this nobody plans a visit. */
const MOST_DAYS = 400;

/** The instant until which a link opens whose last day this is, all of the day. */
const endOf = (day: string): string => new Date(Date.parse(`${day}T00:00:00.000Z`) + DAY).toISOString();

/** The last day on which a link opens. */
export const lastDayOf = ({ expiresAt }: Pick<ReplyLink, "expiresAt">): string =>
  new Date(Date.parse(expiresAt) - DAY).toISOString().slice(0, 10);

/** The last day that a link of a visit with these days has by itself. */
export const usualLastDay = (visit: Parameters<typeof linkExpires>[0]): string => lastDayOf({ expiresAt: linkExpires(visit) });

/** The instant from which a link opens no more whose last day was written so. Fails where it is no day, is past, or lies very far ahead. */
export const expiryFrom = (written: string, today: string): Result<string> => {
  const day = readDay(written);
  const wrong = (wanted: string, more = ""): Result<never> => {
    const text = written.trim();
    return failure(`Opens until: ${faultWords({ given: text === "" ? NOTHING_WRITTEN : `${quotedWords(text)}${more}`, wanted })}`);
  };
  if (!day.ok) return wrong(day.faults.join("; "));
  if (day.value < today) return wrong("today or a later day", ", which is past,");
  if (Date.parse(day.value) - Date.parse(today) > MOST_DAYS * DAY) return wrong(`a day within ${MOST_DAYS} days`);
  return success(endOf(day.value));
};

/** The address of a recipient of a letter by his name; empty where none is known. */
export const addressIn = ({ to }: SentLetter, name: string): string => to.find((one) => one.name === name)?.address ?? "";

/** Makes a link that opens the reply to a letter until an instant; the link itself is kept nowhere. */
export const makeLink = async (
  { store, url }: Pick<SendingWorld, "store" | "url">,
  { sent, recipient, expiresAt }: Pick<ReplyLink, "sent" | "recipient" | "expiresAt">,
  { when }: Act,
): Promise<{ readonly link: string; readonly mark: string }> => {
  const code = newCode();
  const mark = markOf(code);
  await store.keepLink({ mark, sent, recipient, madeAt: when, expiresAt });
  return { link: `${url}/reply/${code}`, mark };
};

const linkIn = async (store: Store, sent: SentLetter, mark: string): Promise<ReplyLink | null> =>
  (await store.linksOf(sent.id)).find((link) => link.mark === mark) ?? null;

const NO_LINK = "there is no such link of this letter";

export interface Renewing {
  /** Tells the old link. */
  readonly mark: string;
  /** The last day on which the new one opens, as it was written. */
  readonly until: string;
  /** Whether the letter goes to the recipient once more with it. */
  readonly mail: boolean;
  /** Whom the mail comes from: an address of the office, with the name of whoever sends it. */
  readonly from: Mailbox;
}

/**
 * Makes a new link in place of an old one, which opens nothing from then on, and with `mail` sends the letter once more with it. Fails where there
 * is no such link, the day is none or past, or no address is known to send to; nothing is changed then.
 */
export const renewLink = async (
  office: Omit<SendingWorld, "planner" | "render">,
  sent: SentLetter,
  { mark, until, mail: mailed, from }: Renewing,
  by: Act,
): Promise<Result<{ readonly told: ToldLink; readonly delivery: Delivery | null }>> => {
  const { store } = office;
  const old = await linkIn(store, sent, mark);
  const letter = await wentOut(store, sent);
  if (old === null || letter === null) return failure(NO_LINK);
  const expiresAt = expiryFrom(until, by.when.slice(0, 10));
  if (!expiresAt.ok) return expiresAt;
  const to = { name: old.recipient, address: addressIn(sent, old.recipient) };
  if (mailed && !isEmail(to.address)) return failure(`no e-mail address of ${to.name} is known`);
  const { link } = await makeLink(office, { sent: sent.id, recipient: to.name, expiresAt: expiresAt.value }, by);
  await store.withdrawLink(mark, by.when);
  const mail = await mailAgain(store, letter, { to, link, from, stamp: by.when });
  const delivery = mailed ? await deliverLater(office, { sent: sent.id, address: to.address, what: LATER.again }, mail) : null;
  return success({ told: { to, link, text: mail.text }, delivery });
};

/**
 * Withdraws a link, with any other of the same recipient that a reminder had made beside it: none of his opens anything from then on. A new one can be
 * made in their place. Fails where there is none that stands.
 */
export const withdrawLink = async (store: Store, sent: SentLetter, mark: string, by: Act): Promise<Result<ReplyLink>> => {
  const link = await linkIn(store, sent, mark);
  if (link === null) return failure(NO_LINK);
  if (link.withdrawnAt !== undefined) return failure("this link is withdrawn already");
  const own = (await store.linksOf(sent.id)).filter(({ recipient }) => recipient === link.recipient);
  for (const one of own) await store.withdrawLink(one.mark, by.when);
  return success(link);
};
