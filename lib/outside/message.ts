import { createHash } from "node:crypto";
import { buffer } from "node:stream/consumers";
import { createTransport } from "nodemailer";
import { addressOf, type Mail, type Mailbox } from "./mail.ts";

/** What a server is told besides the mail: who sends and who receives. */
export interface Envelope {
  readonly from: string;
  readonly to: readonly string[];
}

const named = (mailbox: Mailbox): { readonly name: string; readonly address: string } =>
  typeof mailbox === "string" ? { name: "", address: mailbox } : mailbox;

/** The same address given twice receives once. */
export const envelopeOf = ({ from, to }: Mail): Envelope => ({ from: addressOf(from), to: [...new Set(to.map(addressOf))] });

/** Hexadecimal digits that stand for a message id where the id itself cannot: in file names and between the parts of a mail. */
export const markOf = (messageId: string): string => createHash("sha256").update(messageId).digest("hex").slice(0, 24);

/**
 * The mail as the bytes of RFC 5322 and MIME, lines ended by CRLF. The same checked mail gives the same bytes, so what is kept, what lies in
 * the outbox and what a server receives are one.
 */
export const messageOfMail = async (mail: Mail): Promise<Buffer> => {
  const composer = createTransport({ streamTransport: true, buffer: true, newline: "windows" });
  const composed = await composer.sendMail({
    from: named(mail.from),
    ...(mail.replyTo === undefined ? {} : { replyTo: named(mail.replyTo) }),
    to: mail.to.map(named),
    subject: mail.subject,
    text: mail.text,
    attachments: mail.attachments.map(({ name, type, content }) => ({
      filename: name,
      contentType: type,
      content: typeof content === "string" ? Buffer.from(content, "utf8") : Buffer.from(content),
      contentDisposition: "attachment",
      contentTransferEncoding: "base64",
    })),
    messageId: mail.messageId,
    date: new Date(mail.date),
    baseBoundary: markOf(mail.messageId),
    // Nothing that a mail says may make the composer fetch a file or an address.
    disableFileAccess: true,
    disableUrlAccess: true,
  });
  const { message } = composed;
  return Buffer.isBuffer(message) ? message : buffer(message);
};
