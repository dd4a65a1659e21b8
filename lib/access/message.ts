import * as z from "zod";
import { isSealOf, sealOf } from "./seal.ts";

const shape = z.object({
  problem: z.string().optional(),
  done: z.string().optional(),
  field: z.string().optional(),
  typed: z.string().optional(),
});

/** What a page says of what was just done or refused. It goes through the address, sealed, so that nobody else can make a page say something. */
export type Message = z.infer<typeof shape>;

/** With the instant from which it is not true any more for certain, in milliseconds since 1970. */
const kept = shape.extend({ until: z.number() });

const USE = "message";
/** A page that was left open at noon still says in the evening what is wrong with its form; kept longer, an address would tell what has long been changed. */
export const MESSAGE_LASTS = 12 * 60 * 60_000;

/** A message as it goes into an address. */
export const sealed = (message: Message, secret: string, now: number): string => {
  const text = Buffer.from(JSON.stringify({ ...message, until: now + MESSAGE_LASTS })).toString("base64url");
  return `${text}.${sealOf(USE, text, secret)}`;
};

/** The message of an address; an empty one where there is none of ours, or none any more. */
export const unsealed = (given: string | undefined, secret: string, now: number): Message => {
  const [text, mark] = (given ?? "").split(".");
  if (text === undefined || mark === undefined || !isSealOf(mark, USE, text, secret)) return {};
  const read = kept.safeParse(JSON.parse(Buffer.from(text, "base64url").toString("utf8")));
  if (!read.success || read.data.until < now) return {};
  const { until: _, ...message } = read.data;
  return message;
};
