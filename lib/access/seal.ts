import { createHmac, timingSafeEqual } from "node:crypto";

/** What a text bears so that nobody else can have made it. `use` keeps apart what is sealed for one thing and for another. */
export const sealOf = (use: string, text: string, secret: string): string =>
  createHmac("sha256", secret).update(`${use} ${text}`).digest("base64url");

/** Whether a seal is that of the text; how long it takes to tell says nothing of how near it was. */
export const isSealOf = (given: string, use: string, text: string, secret: string): boolean => {
  const [wanted, shown] = [Buffer.from(sealOf(use, text, secret)), Buffer.from(given)];
  return wanted.length === shown.length && timingSafeEqual(wanted, shown);
};
