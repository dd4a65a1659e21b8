import { longDate } from "../letter/words.ts";
import type { Mail } from "./mail.ts";
import { closingLines, headersOf, type Sender } from "./sender.ts";

/** What the mail that reminds of a letter is made from. Days are plain dates. */
export interface ReminderMail extends Sender {
  readonly subject: string;
  readonly reference: string;
  /** A private link of this recipient, made for this mail. */
  readonly link: string;
  readonly sentOn: string;
  readonly replyBy: string;
  readonly today: string;
  /** How many of the things asked are filled in by now. */
  readonly filled: number;
  readonly asked: number;
  readonly messageId: string;
  /** The UTC instant that the mail bears. */
  readonly date: string;
}

const state = (filled: number, asked: number): string =>
  filled === 0
    ? "Nothing of it is filled in on its page yet."
    : `${filled} of ${asked} points are filled in on its page; what is missing can be added, and then the reply is confirmed there.`;

/** The text of the mail, for showing and copying too. */
export const reminderText = ({ to, subject, reference, link, sentOn, replyBy, today, filled, asked, ...sender }: ReminderMail): string =>
  `${to.name},

${subject} (${reference}).

Our letter went out on ${longDate(sentOn)}; your answer ${today > replyBy ? "was" : "is"} asked by ${longDate(replyBy)}. ${state(filled, asked)}

- On a page, without an account: ${link}
  This link is private and new; one that you have already opens the same page.
- Or in the form on the last pages of the letter, or by an answer to this mail in lines such as "Q3: dry" or "R2: yes".

"Not known yet" is an answer too. What stays unanswered is planned as not known, and what nobody confirms cannot be counted on.

${closingLines(sender)}

Forehail plans; the ship's people and qualified technicians perform, the inspector witnesses. Local rules, class and maker come first.
`;

/** The mail that reminds one recipient of a letter. Pure. */
export const reminderMail = (input: ReminderMail): Mail => ({
  ...headersOf(input, "reminder"),
  subject: `Reminder: ${input.subject} (${input.reference})`.slice(0, 200),
  text: reminderText(input),
  attachments: [],
  messageId: input.messageId,
  date: input.date,
});
