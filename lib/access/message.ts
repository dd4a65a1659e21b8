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

const USE = "message";

/** A message as it goes into an address. */
export const sealed = (message: Message, secret: string): string => {
  const text = Buffer.from(JSON.stringify(message)).toString("base64url");
  return `${text}.${sealOf(USE, text, secret)}`;
};

/** The message of an address; an empty one where there is none of ours. */
export const unsealed = (given: string | undefined, secret: string): Message => {
  const [text, mark] = (given ?? "").split(".");
  if (text === undefined || mark === undefined || !isSealOf(mark, USE, text, secret)) return {};
  const read = shape.safeParse(JSON.parse(Buffer.from(text, "base64url").toString("utf8")));
  return read.success ? read.data : {};
};
