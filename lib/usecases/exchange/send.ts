import { markOf, newCode } from "../../access/invitation.ts";
import { digestOf } from "../../kernel/digest.ts";
import type { World } from "../../kernel/ports.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import type { Letter } from "../../letter/blocks.ts";
import { letterOf } from "../../letter/letter.ts";
import { fileStem } from "../../letter/words.ts";
import { messageOf } from "../../model/fault.ts";
import { isEmail } from "../../model/text.ts";
import { calendarOf } from "../../outside/calendar.ts";
import { letterMail } from "../../outside/letterMail.ts";
import type { Mail } from "../../outside/mail.ts";
import type { PostOffice } from "../../outside/postOffice.ts";
import { askedInLetter, askedOf, confirmedIn } from "../../plan/asked.ts";
import type { Planner } from "../../plan/plan.ts";
import type { Plan } from "../../plan/schema.ts";
import type { Delivery, ReplyLink, SentLetter } from "../../store/exchanges.ts";
import type { Act, Store, StoredVisit } from "../../store/store.ts";
import type { UnitSystem } from "../../units/units.ts";
import { type Planned, planDocument } from "../planFile.ts";
import { fileOfVisit } from "../visits/planVisit.ts";
import { openVisit, storedFrame } from "../visits/visitDraft.ts";
import { askedStored } from "./askedStored.ts";

/** What sending a letter needs of the world. */
export interface SendingWorld {
  readonly store: Store;
  readonly world: World;
  readonly planner: Planner;
  readonly render: (letter: Letter) => Promise<Result<Uint8Array>>;
  readonly post: PostOffice;
  /** Where people reach the office. */
  readonly url: string;
}

export interface Recipient {
  readonly name: string;
  readonly address: string;
}

export interface ToSend {
  readonly to: readonly Recipient[];
  readonly units: UnitSystem;
  /** Whom the mail comes from: an address of the office. */
  readonly from: string;
}

/** A letter that went out, with what became of each mail and the link of each recipient, which is kept nowhere and told this once. */
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

/** The plan of the letter before this one, so that this one tells what changed. */
const formerPlan = async (store: Store, before: readonly SentLetter[]): Promise<Plan | undefined> => {
  const last = before.at(-1);
  const made = last === undefined ? null : await store.made(last.made);
  return made === null ? undefined : (JSON.parse(made.plan) as Plan);
};

interface Ready {
  /** The visit file that it is made from, as text. */
  readonly file: string;
  readonly planned: Planned;
  readonly letter: Letter;
  readonly pdf: Uint8Array;
  readonly calendar: string;
  readonly sent: SentLetter;
}

/** The letter as it would go out now, whole, with nothing kept yet. */
const prepared = async (
  { store, world, planner, render }: SendingWorld,
  stored: StoredVisit,
  { to, units }: ToSend,
  by: Act,
): Promise<Result<Ready>> => {
  const file = fileOfVisit(stored, planner);
  const planned = planDocument(planner, file);
  if (!planned.ok) return failure(...planned.faults.map(messageOf));
  const { plan, read } = planned.value;
  const before = await store.sentOf(stored.id);
  const number = read.visit.letters.length + 1;
  const mark = `${stored.id.slice(0, 8)}-${number}-${digestOf(plan).slice(0, 8)}`;
  const former = await formerPlan(store, before);
  const letter = letterOf({ plan, read, rulebook: planner.rulebook, units, form: { mark }, ...(former === undefined ? {} : { former }) });
  const calendar = calendarOf({
    plan,
    earlier: former === undefined ? [] : [former],
    done: confirmedIn(read.visit),
    settled: false,
    uidStem: stored.id,
    sequence: number - 1,
    stamp: by.when,
  });
  if (!calendar.ok) return failure(...calendar.faults.map(messageOf));
  const pdf = await render(letter);
  if (!pdf.ok) return pdf;
  const sent: SentLetter = {
    id: world.newId(),
    visit: stored.id,
    kind: "letter",
    number,
    made: world.newId(),
    mark,
    replyBy: plan.visit.replyBy,
    to,
    asked: askedStored(askedInLetter(askedOf(plan, planner.rulebook, confirmedIn(read.visit))), stored.sets),
    ...by,
  };
  return success({ file: JSON.stringify(file), planned: planned.value, letter, pdf: pdf.value, calendar: calendar.value, sent });
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

/**
 * Sends the letter of a visit as it stands: what goes out is kept first, whole and for good, then each recipient's mail is handed over. Fails with the
 * reason, and keeps nothing, where it cannot be planned or rendered, where that letter was sent already or the visit was
 * changed meanwhile. A mail that could not be handed over is told by its delivery; the letter has gone out all the same, and the
 * link can be renewed.
 */
export const sendLetter = async (office: SendingWorld, stored: StoredVisit, toSend: ToSend, by: Act): Promise<Result<Sent>> => {
  if (toSend.to.length === 0) return failure("recipients: given none; wanted at least one, with an address");
  const ready = await prepared(office, stored, toSend, by);
  if (!ready.ok) return ready;
  const { file, planned, letter, pdf, calendar, sent } = ready.value;
  const { plan, read } = planned;
  const codes = toSend.to.map((to) => ({ to, code: newCode() }));
  const expiresAt = linkExpires(plan.visit);
  const links = codes.map(
    ({ to, code }): ReplyLink => ({ mark: markOf(code), sent: sent.id, recipient: to.name, madeAt: by.when, expiresAt }),
  );
  const { draft } = openVisit(stored);
  const kept = await office.store.keepSent({
    sent,
    made: {
      id: sent.made,
      visit: stored.id,
      version: stored.version,
      rulebook: `${office.planner.rulebook.version} ${office.planner.digest}`,
      file,
      plan: JSON.stringify(plan),
      pdf,
      ...by,
    },
    links,
    frame: storedFrame(frameAfter(draft.frame, plan, sent.number), stored.sets),
    seen: stored.frameVersion,
  });
  if (!kept.ok) return kept;
  const { contact, name } = read.visit.policy.office;
  const told = codes.map(({ to, code }, place) => {
    const link = `${office.url}/reply/${code}`;
    const mail = letterMail({
      office: name,
      from: toSend.from,
      ...(contact !== undefined && isEmail(contact) ? { replyTo: contact } : {}),
      to,
      subject: letter.subject,
      reference: letter.reference,
      link,
      replyBy: plan.visit.replyBy,
      pdf,
      calendar,
      stem: `${fileStem(plan.visit.vessel)}-letter-${sent.number}`,
      messageId: `<${sent.mark}.${place + 1}@forehail.invalid>`,
      date: by.when,
    });
    return { to, link, text: mail.text, mail };
  });
  const deliveries: Delivery[] = [];
  for (const { to, mail } of told) deliveries.push(await deliver(office, sent.id, to.address, mail));
  return success({ letter: sent, links: told.map(({ to, link, text }) => ({ to, link, text })), deliveries });
};
