import type { Closing } from "../../letter/closed.ts";
import { subjectOf } from "../../letter/letter.ts";
import { fileStem } from "../../letter/words.ts";
import { messageOf, valueAt } from "../../model/fault.ts";
import { isEmail } from "../../model/text.ts";
import { calendarOf } from "../../outside/calendar.ts";
import type { Ended } from "../../outside/entries.ts";
import { letterMail } from "../../outside/letterMail.ts";
import type { Mail, Mailbox } from "../../outside/mail.ts";
import type { Sender } from "../../outside/sender.ts";
import type { Plan } from "../../plan/schema.ts";
import type { Delivery, SentLetter } from "../../store/exchanges.ts";
import type { Store } from "../../store/store.ts";
import type { Recipient, SendingWorld } from "./prepare.ts";

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

/** What every mail about a letter says alike: from which office and inspector, about what. */
export interface About extends Pick<Sender, "office" | "replyTo" | "inspector" | "stem"> {
  readonly subject: string;
  readonly reference: string;
}

const OFFICE = "Test planning office";

/** The inspector of a visit as its file names him: the first of the office's people, who signs the letter. */
const inspectorIn = (file: unknown): { readonly name: string; readonly role: string; readonly contact: string } | undefined => {
  const people = valueAt(file, "/visit/people");
  const own = Array.isArray(people) ? people.find((one) => valueAt(one, "/side") === "office") : undefined;
  const [name, role, contact] = ["/name", "/role", "/contact"].map((at) => valueAt(own, at));
  return typeof name !== "string" || typeof role !== "string"
    ? undefined
    : { name, role, contact: typeof contact === "string" ? contact.trim() : "" };
};

/** Where an answer goes: to the office, else to the inspector himself, whoever sends the mail. */
const replyToIn = (file: unknown): Pick<About, "replyTo"> => {
  const contact = valueAt(file, "/policy/office/contact");
  const [to] = [typeof contact === "string" ? contact : "", inspectorIn(file)?.contact ?? ""].filter(isEmail);
  return to === undefined ? {} : { replyTo: to };
};

/** What a letter is about that goes out or went out, from what it is made from. */
export const aboutSent = (file: unknown, plan: Plan, number: number): About => {
  const { visit } = plan;
  const name = valueAt(file, "/policy/office/name");
  const inspector = inspectorIn(file);
  return {
    office: typeof name === "string" ? name : OFFICE,
    ...replyToIn(file),
    ...(inspector === undefined ? {} : { inspector: { name: inspector.name, role: inspector.role } }),
    stem: `${fileStem(visit.vessel)}-letter-${number}`,
    subject: subjectOf(plan),
    reference: [visit.reference, `letter ${number}`].filter((part) => part !== undefined).join(", "),
  };
};

/** A letter as it went out, with what it was about. */
export interface WentOut {
  readonly sent: SentLetter;
  /** The visit file that it was made from. */
  readonly file: unknown;
  readonly plan: Plan;
  readonly pdf: Uint8Array;
  readonly about: About;
  /** References of the requests that were confirmed already when it was written. */
  readonly confirmed: ReadonlySet<string>;
}

/** What the visit file of a letter had as confirmed. */
const confirmedThen = (file: unknown): ReadonlySet<string> => {
  const confirmed = valueAt(file, "/confirmed");
  const refs = Array.isArray(confirmed) ? confirmed.map((one) => valueAt(one, "/request")) : [];
  return new Set(refs.filter((ref) => typeof ref === "string"));
};

/** The first day of the visit as a letter that went out told it; null where the letter is kept no more. */
export const beginsIn = async (store: Store, sent: SentLetter): Promise<string | null> => {
  const made = await store.made(sent.made);
  return made === null ? null : (JSON.parse(made.plan) as Plan).visit.window.from;
};

/** A letter as it went out, read back; null where it is none. */
export const wentOut = async (store: Store, sent: SentLetter): Promise<WentOut | null> => {
  const made = await store.made(sent.made);
  if (made === null) return null;
  const plan = JSON.parse(made.plan) as Plan;
  const file: unknown = JSON.parse(made.file);
  return { sent, file, plan, pdf: made.pdf, about: aboutSent(file, plan, sent.number), confirmed: confirmedThen(file) };
};

/** The calendar file of a letter. It is not kept: the same plans and confirmations give the same one again. `ended` is how the exchange ends with it; null where it asks. */
const calendarAgain = async (store: Store, { sent, plan, confirmed }: WentOut, ended: Ended | null): Promise<string> => {
  const before = (await store.sentOf(sent.visit)).filter(({ number }) => number < sent.number).at(-1);
  const former = before === undefined ? null : await store.made(before.made);
  const calendar = calendarOf({
    plan,
    earlier: former === null ? [] : [JSON.parse(former.plan) as Plan],
    done: confirmed,
    ended,
    uidStem: sent.visit,
    sequence: sent.number - 1,
    stamp: sent.when,
  });
  return calendar.ok ? calendar.value : "";
};

/** The mail of a letter that ended the exchange to one recipient once more; as the first one, it has no link. */
export const endingMailAgain = async (
  store: Store,
  letter: WentOut,
  { ends, ended }: { readonly ends: Closing["kind"]; readonly ended: Ended },
  head: { readonly to: Recipient; readonly from: Mailbox; readonly messageId: string },
): Promise<Mail> =>
  letterMail({
    ...letter.about,
    ...head,
    subject: subjectOf(letter.plan, ends),
    ends,
    calledOff: ended.done.length === 0,
    pdf: letter.pdf,
    calendar: await calendarAgain(store, letter, ended),
    date: letter.sent.when,
  });

/** The mail of a letter to one recipient once more, with another link. */
export const mailAgain = async (
  store: Store,
  letter: WentOut,
  { to, link, from, stamp }: { readonly to: Recipient; readonly link: string; readonly from: Mailbox; readonly stamp: string },
): Promise<Mail> => {
  const { sent, pdf, about } = letter;
  const input = {
    ...about,
    from,
    to,
    link,
    replyBy: sent.replyBy,
    pdf,
    calendar: await calendarAgain(store, letter, null),
    messageId: `<${sent.mark}.again-${stamp.replace(/\D/g, "")}@forehail.invalid>`,
    date: stamp,
  };
  return letterMail(input);
};
