import { addressOf, calledBy, type Mail, type Mailbox } from "./mail.ts";

/** Who stands behind a mail of the office: what every mail about a letter says alike. */
export interface Sender {
  readonly office: string;
  /** From whom: an address of the office, with the name of whoever sends it where that is known. */
  readonly from: Mailbox;
  /** Where an answer by mail goes, where not there. */
  readonly replyTo?: string;
  /** The inspector of the visit, who signs the letter. */
  readonly inspector?: { readonly name: string; readonly role: string };
  readonly to: { readonly name: string; readonly address: string };
  /** What the files of its letter are called, without their endings. */
  readonly stem: string;
}

const same = (one: string, other: string): boolean => one.trim().toLowerCase() === other.trim().toLowerCase();

/** Who sends for whom, in words; empty where the inspector sends it himself or it is not known who does. */
export const sentFor = ({ from, inspector }: Pick<Sender, "from" | "inspector">): string =>
  typeof from === "string" || inspector === undefined || same(from.name, inspector.name)
    ? ""
    : `Sent by ${from.name} for ${inspector.name}, ${inspector.role}.`;

/** How a mail ends: who sent it for whom, and the office. */
export const closingLines = (sender: Pick<Sender, "from" | "inspector" | "office">): string =>
  [sentFor(sender), sender.office].filter((line) => line !== "").join("\n");

/** The headers of a mail that tell who sends it to whom, and what its file in an outbox is called. */
export const headersOf = ({ office, from, replyTo, to, stem }: Sender, ...what: readonly string[]) =>
  ({
    from: { name: office, address: addressOf(from) },
    ...(replyTo === undefined ? {} : { replyTo }),
    to: [to],
    called: calledBy(stem, ...what, "to", to.address.replace(/@.*$/, "")),
  }) satisfies Partial<Mail>;
