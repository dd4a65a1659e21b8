import * as z from "zod";
import { failure, type Result, success } from "../kernel/result.ts";
import { type Fault, pointer, quoted, valueAt } from "../model/fault.ts";

/** Line breaks and other control characters could begin a header of their own; characters that turn the direction of writing mislead. */
const NOT_IN_A_LINE = /[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/u;

/** Half a sign of two code units cannot be written as UTF-8. */
const HALF_A_SIGN = /\p{Cs}/u;

const line = (longest: number, what: string) => {
  const error = `${what} of 1 to ${longest} characters on one line, without control characters`;
  return z
    .string({ error })
    .max(longest, { error })
    .refine((text) => text.trim() !== "" && !NOT_IN_A_LINE.test(text) && !HALF_A_SIGN.test(text), { error });
};

const address = z.email({ error: "an address like name@example.org" }).max(254, { error: "an address of at most 254 characters" });

const mailbox = z.union([address, z.strictObject({ name: line(120, "a name"), address })], {
  // A union tells only that nothing fits; the fault of its likeliest member says more.
  error: (issue) => (typeof issue.input === "string" ? "an address like name@example.org" : "a name on one line and an address"),
});

/** RFC 2046: type and subtype, then parameters; all of them tokens or quoted text without a line break. */
const MEDIA_TYPE = /^[\w.+-]+\/[\w.+-]+(?:; ?[\w.+-]+=(?:[\w.+-]+|"[\w .+-]+"))*$/;

const attachment = z
  .strictObject({
    name: line(120, "a file name").refine((name) => !/[/\\]/.test(name) && !name.startsWith("."), {
      error: "a file name without a folder, that does not begin with a dot",
    }),
    type: z.string().regex(MEDIA_TYPE, { error: "a media type like application/pdf" }),
    /** Bytes as they are, or text that is written as UTF-8. */
    content: z.union([z.string(), z.custom<Uint8Array>((value) => value instanceof Uint8Array)]),
  })
  .readonly();

/** RFC 5322 allows more; what the program gives needs no more than this. */
const MESSAGE_ID = /^<[\w.+-]{1,100}@[\w.-]{1,100}>$/;

/** Text of many lines: no control characters but line breaks and tabs. */
const NOT_IN_TEXT = /(?![\r\n\t])\p{Cc}/u;

export const mailSchema = z
  .strictObject({
    from: mailbox,
    /** Where an answer goes, where that is not the sender. */
    replyTo: mailbox.optional(),
    to: z.array(mailbox).min(1, { error: "at least one recipient" }).readonly(),
    subject: line(200, "a subject"),
    text: z.string().refine((text) => !NOT_IN_TEXT.test(text) && !HALF_A_SIGN.test(text), {
      error: "text without control characters other than line breaks and tabs",
    }),
    attachments: z.array(attachment).readonly(),
    /** In angle brackets, the same each time the same mail is sent, so that sending it twice is recognised. */
    messageId: z.string().regex(MESSAGE_ID, { error: "an id like <visit-7.letter-1@example.org>" }),
    /** What its file in an outbox begins with, for whoever looks for it there. */
    called: z
      .string()
      .regex(/^[a-z0-9-]{1,80}$/, { error: "up to 80 small letters, digits and hyphens" })
      .optional(),
    /** The UTC instant in ISO 8601 that the mail bears. */
    date: z.iso.datetime({ error: "a UTC instant like 2026-03-02T09:30:00.000Z" }),
  })
  .readonly();

/** A mail as plain data. Addresses stand alone or with the name of their owner. */
export type Mail = z.infer<typeof mailSchema>;
export type Mailbox = z.infer<typeof mailbox>;
export type Attachment = z.infer<typeof attachment>;

export const addressOf = (one: Mailbox): string => (typeof one === "string" ? one : one.address);

/** A name for a file of small letters, digits and hyphens. */
export const calledBy = (...parts: readonly string[]): string =>
  parts
    .join("-")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .slice(0, 60)
    .replaceAll(/^-|-$/g, "");

/** A value that can be quoted: the content of a file is told by its size. */
const plain = (value: unknown): unknown => (value instanceof Uint8Array ? `${value.length} bytes` : value);

/** The most telling issue of one place: of a union, that of the member which fits the form that was given. */
const toldBy = (issue: z.core.$ZodIssue): readonly z.core.$ZodIssue[] => {
  if (issue.code !== "invalid_union") return [issue];
  const inner = issue.errors.flat().filter(({ path }) => path.length > 0);
  return inner.length === 0 ? [issue] : inner.map((one) => ({ ...one, path: [...issue.path, ...one.path] }));
};

/**
 * A mail that can be sent as it is: addresses are addresses, and nothing in it can begin a header of its own. All faults are returned at
 * once, each with its field, what was given and what is wanted. Pure.
 */
export const checkedMail = (mail: Mail): Result<Mail, Fault> => {
  const read = mailSchema.safeParse(mail);
  if (read.success) return success(read.data);
  const faults = read.error.issues.flatMap(toldBy).map((issue): Fault => {
    const at = pointer(issue.path);
    return { at, given: quoted(plain(valueAt(mail, at))), wanted: issue.message };
  });
  return failure(...faults);
};
