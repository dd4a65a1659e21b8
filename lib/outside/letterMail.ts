import { longDate } from "../letter/words.ts";
import type { Mail } from "./mail.ts";

/** What the mail that carries a letter is made from. */
export interface LetterMail {
  readonly office: string;
  /** From whom, and where an answer by mail goes. */
  readonly from: string;
  readonly replyTo?: string;
  readonly to: { readonly name: string; readonly address: string };
  readonly subject: string;
  readonly reference: string;
  /** The private link to the reply of this recipient. */
  readonly link: string;
  /** A plain date. */
  readonly replyBy: string;
  readonly pdf: Uint8Array;
  readonly calendar: string;
  /** How the attached files are called, without their endings. */
  readonly stem: string;
  readonly messageId: string;
  /** The UTC instant that the mail bears. */
  readonly date: string;
}

/** The text of the mail, for copying too. */
export const letterMailText = ({ to, reference, subject, link, replyBy, office }: LetterMail): string =>
  `${to.name},

${subject} (${reference}).

The letter is attached. It says how each protection is to be proven, what we still have to know and what has to be arranged.
Please answer by ${longDate(replyBy)}, in whichever of these ways suits you:

- on a page, without an account: ${link}
  This link is private: whoever has it can answer for the vessel. It may be passed on within your office and the ship.
- in the form on the last pages of the letter: filled in with any PDF program and mailed back, or printed and filled in by pen;
- by an answer to this mail, in lines such as "Q3: dry" or "R2: yes".

Nothing has to be adjusted, calibrated or replaced beforehand. The days to keep are in the attached calendar file.

${office}

Forehail plans; the ship's people and qualified technicians perform, the inspector witnesses. Local rules, class and maker come first.
`;

/** The mail with the letter, its reply link and its days. Pure. */
export const letterMail = (input: LetterMail): Mail => ({
  from: { name: input.office, address: input.from },
  ...(input.replyTo === undefined ? {} : { replyTo: input.replyTo }),
  to: [input.to],
  subject: `${input.subject} (${input.reference})`.slice(0, 200),
  text: letterMailText(input),
  attachments: [
    { name: `${input.stem}.pdf`, type: "application/pdf", content: input.pdf },
    { name: `${input.stem}.ics`, type: "text/calendar; charset=utf-8", content: input.calendar },
  ],
  messageId: input.messageId,
  date: input.date,
});
