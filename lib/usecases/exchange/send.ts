import { markOf, newCode } from "../../access/invitation.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { messageOf } from "../../model/fault.ts";
import { letterMail } from "../../outside/letterMail.ts";
import type { Mail, Mailbox } from "../../outside/mail.ts";
import type { Plan } from "../../plan/schema.ts";
import type { Delivery, ReplyLink, Sending, SentLetter } from "../../store/exchanges.ts";
import type { Act, Store, StoredVisit } from "../../store/store.ts";
import { keptPlan, rulebookName } from "../review/keepPlan.ts";
import { openVisit, storedFrame } from "../visits/visitDraft.ts";
import { aboutSent } from "./mailed.ts";
import { prepared, type Ready, type Recipient, type SendingWorld, type ToSend } from "./prepare.ts";
import { lettersWithReplies, standingOf } from "./standing.ts";

export type { Recipient, SendingWorld, ToSend } from "./prepare.ts";

/**
 * A letter that went out, with what became of each mail and the link of each recipient, which is kept nowhere and told this once. A letter that ends
 * the exchange has no links.
 */
export interface Sent {
  readonly letter: SentLetter;
  readonly links: readonly { readonly to: Recipient; readonly link: string; readonly text: string }[];
  readonly deliveries: readonly Delivery[];
}

const DAY = 24 * 60 * 60_000;
/** So many days after the visit a link still opens, that what was agreed can be read again. */
const AFTER_VISIT = 7;

/** The instant from which a link to a visit of these days opens no more. */
export const linkExpires = ({ window }: Plan["visit"]): string =>
  new Date(Date.parse(`${window.to}T00:00:00.000Z`) + (AFTER_VISIT + 1) * DAY).toISOString();

/** The frame with the letter among those that went out, and with the references it handed out. */
const frameAfter = (frame: object, { references, visit }: Plan, number: number): object => {
  const { letters = [] } = frame as { readonly letters?: readonly object[] };
  return { ...frame, references, letters: [...letters, { number, sentOn: visit.preparedOn }] };
};

/** Hands a mail over and keeps what became of it. */
export const deliver = async (
  { store, world, post }: Pick<SendingWorld, "store" | "world" | "post">,
  sent: string,
  address: string,
  mail: Mail,
): Promise<Delivery> => {
  const posted = await post.send(mail);
  const delivery: Delivery = {
    sent,
    address,
    when: world.now(),
    how: posted.ok ? posted.value.how : "failed",
    detail: posted.ok ? posted.value.where : posted.faults.map(messageOf).join("; "),
  };
  await store.keepDelivery(delivery);
  return delivery;
};

/** A letter that is ready, with a code for each recipient; it opens something only where the letter asks. */
interface Outgoing extends Ready {
  readonly people: readonly { readonly to: Recipient; readonly code: string }[];
}

/** How far the exchange is once a letter has gone. */
const standingAfter = async (store: Store, sent: SentLetter): Promise<Pick<Sending, "standing">> => {
  const letters = await lettersWithReplies(store, sent.visit);
  const standing = standingOf([...letters, { sent, reply: {} }], undefined);
  return standing === null ? {} : { standing };
};

/** Keeps a letter as sent, with what it was made from, its plan, the marks of its links and how far the exchange is then: together or not at all. */
const kept = async ({ store, planner }: SendingWorld, stored: StoredVisit, outgoing: Outgoing) => {
  const { file, planned, pdf, sent, people } = outgoing;
  const { who, when } = sent;
  const expiresAt = linkExpires(planned.plan.visit);
  return store.keepSent({
    sent,
    made: {
      id: sent.made,
      visit: stored.id,
      version: stored.version,
      rulebook: rulebookName(planner),
      file,
      plan: JSON.stringify(planned.plan),
      pdf,
      who,
      when,
    },
    links: (sent.kind === "letter" ? people : []).map(
      ({ to, code }): ReplyLink => ({ mark: markOf(code), sent: sent.id, recipient: to.name, madeAt: when, expiresAt }),
    ),
    frame: storedFrame(frameAfter(openVisit(stored).draft.frame, planned.plan, sent.number), stored.sets),
    seen: stored.frameVersion,
    plan: keptPlan(planner, planned, { visit: stored.id, version: stored.version, why: "letter", file, sets: stored.sets }, { who, when }),
    ...(await standingAfter(store, sent)),
  });
};

/** By what the first mail of a letter to a recipient is known, whoever hands it over. */
export const mailIdOf = ({ mark }: SentLetter, place: number): string => `<${mark}.${place + 1}@forehail.invalid>`;

/** The mail to each recipient, with his link where the letter asks. */
const mailsOf = ({ url }: SendingWorld, { file, planned, letter, pdf, calendar, ended, sent, people }: Outgoing, from: Mailbox) => {
  const { plan } = planned;
  const about = aboutSent(JSON.parse(file), plan, sent.number);
  return people.map(({ to, code }, place) => {
    const link = `${url}/reply/${code}`;
    const mail = letterMail({
      ...about,
      from,
      to,
      subject: letter.subject,
      ...(sent.kind === "letter"
        ? { link, replyBy: plan.visit.replyBy }
        : { ends: sent.kind, calledOff: ended !== null && ended.done.length === 0 }),
      pdf,
      calendar,
      messageId: mailIdOf(sent, place),
      date: sent.when,
    });
    return { to, link, mail };
  });
};

/**
 * Sends the letter of a visit as it stands: what goes out is kept first, whole and for good, then each recipient's mail is handed over. Fails with the
 * reason, and keeps nothing, where it cannot be planned or rendered, where it waits for a review, where that letter was sent already or the visit was
 * changed meanwhile, and where a letter that ends the exchange would be untrue. A mail that could not be handed over is told by its delivery; the letter
 * has gone out all the same, and the link can be renewed.
 */
export const sendLetter = async (office: SendingWorld, stored: StoredVisit, toSend: ToSend, by: Act): Promise<Result<Sent>> => {
  if (toSend.to.length === 0) return failure("Recipients: nobody is chosen; wanted: at least one, with an e-mail address");
  const ready = await prepared(office, { stored, toSend, by });
  if (!ready.ok) return ready;
  const { sent } = ready.value;
  const outgoing = { ...ready.value, people: toSend.to.map((to) => ({ to, code: newCode() })) };
  const done = await kept(office, stored, outgoing);
  if (!done.ok) return done;
  const mails = mailsOf(office, outgoing, toSend.from);
  const deliveries: Delivery[] = [];
  for (const { to, mail } of mails) deliveries.push(await deliver(office, sent.id, to.address, mail));
  const links = sent.kind === "letter" ? mails.map(({ to, link, mail }) => ({ to, link, text: mail.text })) : [];
  return success({ letter: sent, links, deliveries });
};
