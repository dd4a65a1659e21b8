import { opens } from "../../access/replyLink.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { isEmail } from "../../model/text.ts";
import type { Mailbox } from "../../outside/mail.ts";
import { type ReminderMail, reminderMail, reminderText } from "../../outside/reminderMail.ts";
import type { Delivery, ReplyLink, SentLetter } from "../../store/exchanges.ts";
import type { Act, Store } from "../../store/store.ts";
import { makeLink, type ToldLink } from "./links.ts";
import { deliverLater, LATER, toldBy, type WentOut, wentOut } from "./mailed.ts";
import { progressOf } from "./overview.ts";
import type { Recipient, SendingWorld } from "./send.ts";

/** Somebody who can be reminded, with the expiry of the link that he has. */
interface Reachable {
  readonly to: Recipient;
  /** His place among the recipients of the letter. */
  readonly place: number;
  readonly expiresAt: string;
}

/** Recipients with an address who have a link that opens; whose link was withdrawn is not asked any more. */
const reachableOf = ({ to }: SentLetter, links: readonly ReplyLink[], now: string): readonly Reachable[] =>
  to.flatMap((one, place) => {
    const link = links.findLast((own) => own.recipient === one.name && opens(own, now));
    return link === undefined || !isEmail(one.address) ? [] : [{ to: one, place, expiresAt: link.expiresAt }];
  });

/** Whether somebody was reminded of a letter on a day already. */
export const remindedOn = (deliveries: readonly Delivery[], address: string, today: string): boolean =>
  deliveries.some(
    (one) => one.address === address && one.how !== "failed" && one.when.slice(0, 10) === today && toldBy(one).what === LATER.reminder,
  );

interface Prepared {
  readonly letter: WentOut;
  readonly reachable: readonly Reachable[];
  readonly filled: number;
  readonly asked: number;
}

/** What a reminder of a letter today needs; fails with why there is none to send. */
const prepared = async (store: Store, sent: SentLetter, now: string): Promise<Result<Prepared>> => {
  if (sent.kind !== "letter") return failure(`letter ${sent.number} waits for no reply`);
  if ((await store.replyOf(sent.id)).confirmed !== undefined) return failure(`the reply to letter ${sent.number} came already`);
  const letter = await wentOut(store, sent);
  const all = reachableOf(sent, await store.linksOf(sent.id), now);
  if (letter === null || all.length === 0) return failure("nobody has both an e-mail address and a link that still opens");
  const deliveries = await store.deliveriesOf(sent.id);
  const reachable = all.filter(({ to }) => !remindedOn(deliveries, to.address, now.slice(0, 10)));
  if (reachable.length === 0) return failure("everybody was reminded today already; the next reminder can go tomorrow");
  const { filled, asked } = progressOf(sent, await store.entriesOf(sent.id));
  return success({ letter, reachable, filled, asked });
};

const inputOf = (
  { letter: { sent, about }, filled, asked }: Prepared,
  { to, place }: Reachable,
  { link, from, now }: { readonly link: string; readonly from: Mailbox; readonly now: string },
): ReminderMail => ({
  ...about,
  from,
  to,
  link,
  sentOn: sent.when.slice(0, 10),
  replyBy: sent.replyBy,
  today: now.slice(0, 10),
  filled,
  asked,
  messageId: `<${sent.mark}.reminder-${now.slice(0, 10)}.${place + 1}@forehail.invalid>`,
  date: now,
});

/** The reminder as it would go out now, for showing beforehand, with whom it would go to; fails with why there is none to send. */
export const reminderAhead = async (
  store: Store,
  sent: SentLetter,
  now: string,
): Promise<Result<{ readonly to: readonly Recipient[]; readonly text: string }>> => {
  const ready = await prepared(store, sent, now);
  if (!ready.ok) return ready;
  const [first, ...others] = ready.value.reachable;
  if (first === undefined) return failure("nobody can be reminded");
  const text = reminderText(inputOf(ready.value, first, { link: "(a new private link of each recipient)", from: "", now }));
  return success({ to: [first, ...others].map(({ to }) => to), text });
};

type Office = Omit<SendingWorld, "planner" | "render">;

/** Reminds one recipient; null in place of what is told of his link where the mail could not be handed over, which leaves no link behind. */
const remindOne = async (
  office: Office,
  ready: Prepared,
  { one, from, by }: { readonly one: Reachable; readonly from: Mailbox; readonly by: Act },
): Promise<{ readonly told: ToldLink | null; readonly delivery: Delivery }> => {
  const { to, expiresAt } = one;
  const sent = ready.letter.sent.id;
  const { link, mark } = await makeLink(office, { sent, recipient: to.name, expiresAt }, by);
  const mail = reminderMail(inputOf(ready, one, { link, from, now: by.when }));
  const delivery = await deliverLater(office, { sent, address: to.address, what: LATER.reminder }, mail);
  if (delivery.how !== "failed") return { told: { to, link, text: mail.text }, delivery };
  await office.store.withdrawLink(mark, by.when);
  return { told: null, delivery };
};

/**
 * Reminds every recipient of a letter who can be reached, each with a new link beside the one that he has; nobody twice on one day. A link whose mail
 * could not be handed over is withdrawn again. Fails where there is nobody to remind.
 */
export const remind = async (
  office: Office,
  sent: SentLetter,
  from: Mailbox,
  by: Act,
): Promise<Result<{ readonly told: readonly ToldLink[]; readonly deliveries: readonly Delivery[] }>> => {
  const ready = await prepared(office.store, sent, by.when);
  if (!ready.ok) return ready;
  const all: Awaited<ReturnType<typeof remindOne>>[] = [];
  for (const one of ready.value.reachable) all.push(await remindOne(office, ready.value, { one, from, by }));
  return success({ told: all.flatMap(({ told }) => told ?? []), deliveries: all.map(({ delivery }) => delivery) });
};
