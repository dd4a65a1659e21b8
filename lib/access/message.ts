import { createHmac, timingSafeEqual } from "node:crypto";
import * as z from "zod";

const shape = z.object({ problem: z.string().optional(), done: z.string().optional(), field: z.string().optional() });

/** What a page says of what was just done or refused. It goes through the address, sealed, so that nobody else can make a page say something. */
export type Message = z.infer<typeof shape>;

const seal = (text: string, secret: string): string => createHmac("sha256", secret).update(`message ${text}`).digest("base64url");

/** A message as it goes into an address. */
export const sealed = (message: Message, secret: string): string => {
  const text = Buffer.from(JSON.stringify(message)).toString("base64url");
  return `${text}.${seal(text, secret)}`;
};

/** The message of an address; an empty one where there is none of ours. */
export const unsealed = (given: string | undefined, secret: string): Message => {
  const [text, mark] = (given ?? "").split(".");
  if (text === undefined || mark === undefined) return {};
  const [wanted, shown] = [Buffer.from(seal(text, secret)), Buffer.from(mark)];
  if (wanted.length !== shown.length || !timingSafeEqual(wanted, shown)) return {};
  const read = shape.safeParse(JSON.parse(Buffer.from(text, "base64url").toString("utf8")));
  return read.success ? read.data : {};
};
