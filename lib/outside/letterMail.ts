import { longDate } from "../letter/words.ts";
import type { Mail } from "./mail.ts";
import { closingLines, headersOf, type Sender } from "./sender.ts";

interface AnyMail extends Sender {
  readonly subject: string;
  readonly reference: string;
  readonly pdf: Uint8Array;
  readonly calendar: string;
  readonly messageId: string;
  /** The UTC instant that the mail bears. */
  readonly date: string;
}

/** With a letter that asks. */
interface Asking extends AnyMail {
  /** The private link to the reply of this recipient. */
  readonly link: string;
  /** A plain date. */
  readonly replyBy: string;
}

/** With a letter that ends the exchange: nothing need be answered. */
interface Ending extends AnyMail {
  readonly ends: "settled" | "not settled";
  /** Whether no test is left for the days of the visit. */
  readonly calledOff: boolean;
}

/** What the mail that carries a letter is made from. */
export type LetterMail = Asking | Ending;

const asking = ({ link, replyBy }: Asking): string =>
  `The letter is attached. It says how each protection is to be proven, what we still have to know and what has to be arranged.
Please answer by ${longDate(replyBy)}, in whichever of these ways suits you:

- on a page, without an account: ${link}
  This link is private: whoever has it can answer for the vessel. It may be passed on within your office and the ship.
- in the form on the last pages of the letter: filled in with any PDF program and mailed back, or printed and filled in by pen;
- by an answer to this mail, in lines such as "Q3: dry" or "R2: yes".

Nothing has to be adjusted, calibrated or replaced beforehand. The days to keep are in the attached calendar file.`;

const HOW_IT_ENDS = {
  settled: "All is settled. It says how each protection is proven and which cannot be, what is arranged, and who agreed to it.",
  "not settled":
    "It ends the exchange without all being settled. It says which tests are done on this visit, what remains open, and which tests wait for another time and for what.",
} as const;

const CALLED_OFF =
  "No test is left for its days: the visit is called off, in the attached calendar file too. What was reserved for it can be cancelled.";

const ending = ({ ends, calledOff }: Ending): string =>
  `The letter is attached. ${HOW_IT_ENDS[ends]}
Nothing need be answered. If something in it no longer holds, please tell us at once by an answer to this mail.

${calledOff ? CALLED_OFF : "Nothing has to be adjusted, calibrated or replaced beforehand. The days of the visit are in the attached calendar file."}`;

/** The text of the mail, for copying too. */
export const letterMailText = (mail: LetterMail): string =>
  `${mail.to.name},

${mail.subject} (${mail.reference}).

${"ends" in mail ? ending(mail) : asking(mail)}

${closingLines(mail)}

Forehail plans; the ship's people and qualified technicians perform, the inspector witnesses. Local rules, class and maker come first.
`;

/** The mail with the letter, its reply link where it asks, and its days. Pure. */
export const letterMail = (input: LetterMail): Mail => ({
  ...headersOf(input),
  subject: `${input.subject} (${input.reference})`.slice(0, 200),
  text: letterMailText(input),
  attachments: [
    { name: `${input.stem}.pdf`, type: "application/pdf", content: input.pdf },
    { name: `${input.stem}.ics`, type: "text/calendar; charset=utf-8", content: input.calendar },
  ],
  messageId: input.messageId,
  date: input.date,
});
