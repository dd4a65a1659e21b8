import { SAY } from "../../letter/catalogue.ts";
import { fileStem, windowWords } from "../../letter/words.ts";
import { messageOf, valueAt } from "../../model/fault.ts";
import { isEmail } from "../../model/text.ts";
import { calendarOf } from "../../outside/calendar.ts";
import { letterMail } from "../../outside/letterMail.ts";
import type { Mail } from "../../outside/mail.ts";
import type { Plan } from "../../plan/schema.ts";
import type { Delivery, SentLetter } from "../../store/exchanges.ts";
import type { Store } from "../../store/store.ts";
import type { Recipient, SendingWorld } from "./send.ts";

/** What a later mail about a letter is, as its delivery tells it before where it went; the first mail of a letter tells nothing. */
export const LATER = { reminder: "reminder", again: "letter again, with another link" } as const;
export type Later = (typeof LATER)[keyof typeof LATER];

const BETWEEN = ": ";

/** What a delivery was of, and where it went or why it did not. */
export const toldBy = ({ detail }: Delivery): { readonly what: "letter" | Later; readonly where: string } => {
  const what = Object.values(LATER).find((one) => detail.startsWith(`${one}${BETWEEN}`));
  return what === undefined ? { what: "letter", where: detail } : { what, where: detail.slice(what.length + BETWEEN.length) };
};

/** Hands a later mail about a letter over and keeps what became of it, and that it was a later one. */
export const deliverLater = async (
  { store, world, post }: Pick<SendingWorld, "store" | "world" | "post">,
  { sent, address, what }: { readonly sent: string; readonly address: string; readonly what: Later },
  mail: Mail,
): Promise<Delivery> => {
  const posted = await post.send(mail);
  const where = posted.ok ? posted.value.where : posted.faults.map(messageOf).join("; ");
  const delivery: Delivery = {
    sent,
    address,
    when: world.now(),
    how: posted.ok ? posted.value.how : "failed",
    detail: `${what}${BETWEEN}${where}`,
  };
  await store.keepDelivery(delivery);
  return delivery;
};

/** What every mail about a letter says alike: from which office, about what. */
export interface About {
  readonly office: string;
  readonly replyTo?: string;
  readonly subject: string;
  readonly reference: string;
}

const OFFICE = "Test planning office";

/** What a letter that went out was about, from what it was made from. */
export const aboutSent = (file: unknown, { visit }: Plan, number: number): About => {
  const [name, contact] = [valueAt(file, "/policy/office/name"), valueAt(file, "/policy/office/contact")];
  return {
    office: typeof name === "string" ? name : OFFICE,
    ...(typeof contact === "string" && isEmail(contact) ? { replyTo: contact } : {}),
    subject: SAY.with.subject(visit.vessel, visit.place, windowWords(visit.window)),
    reference: [visit.reference, `letter ${number}`].filter((part) => part !== undefined).join(", "),
  };
};

/** A letter as it went out, with what it was about. */
export interface WentOut {
  readonly sent: SentLetter;
  readonly plan: Plan;
  readonly pdf: Uint8Array;
  readonly about: About;
}

/** A letter as it went out, read back; null where it is none. */
export const wentOut = async (store: Store, sent: SentLetter): Promise<WentOut | null> => {
  const made = await store.made(sent.made);
  if (made === null) return null;
  const plan = JSON.parse(made.plan) as Plan;
  return { sent, plan, pdf: made.pdf, about: aboutSent(JSON.parse(made.file), plan, sent.number) };
};

/** The calendar file of a letter. It is not kept: the same plans give the same one again. */
const calendarAgain = async (store: Store, { sent, plan }: WentOut): Promise<string> => {
  const before = (await store.sentOf(sent.visit)).filter(({ number }) => number < sent.number).at(-1);
  const former = before === undefined ? null : await store.made(before.made);
  const calendar = calendarOf({
    plan,
    earlier: former === null ? [] : [JSON.parse(former.plan) as Plan],
    done: new Set(),
    settled: sent.kind === "settled",
    uidStem: sent.visit,
    sequence: sent.number - 1,
    stamp: sent.when,
  });
  return calendar.ok ? calendar.value : "";
};

/** The mail of a letter to one recipient once more, with another link. */
export const mailAgain = async (
  store: Store,
  letter: WentOut,
  { to, link, from, stamp }: { readonly to: Recipient; readonly link: string; readonly from: string; readonly stamp: string },
): Promise<Mail> => {
  const { sent, plan, pdf, about } = letter;
  const input = {
    ...about,
    kind: sent.kind,
    from,
    to,
    link,
    replyBy: sent.replyBy,
    pdf,
    calendar: await calendarAgain(store, letter),
    stem: `${fileStem(plan.visit.vessel)}-letter-${sent.number}`,
    messageId: `<${sent.mark}.again-${stamp.replace(/\D/g, "")}@forehail.invalid>`,
    date: stamp,
  };
  return letterMail(input);
};
