import { createHmac, timingSafeEqual } from "node:crypto";

/** What a text bears so that nobody else can have made it. `use` keeps apart what is sealed for one thing and for another. */
export const sealOf = (use: string, text: string, secret: string): string =>
  createHmac("sha256", secret).update(`${use} ${text}`).digest("base64url");

/** Whether a seal is that of the text; how long it takes to tell says nothing of how near it was. */
export const isSealOf = (given: string, use: string, text: string, secret: string): boolean => {
  const [wanted, shown] = [Buffer.from(sealOf(use, text, secret)), Buffer.from(given)];
  return wanted.length === shown.length && timingSafeEqual(wanted, shown);
};

/** A token that names somebody or something until an instant, in milliseconds since 1970, and bears our seal for one use. */
export const tokenOf = (use: string, subject: string, until: number, secret: string): string => {
  const text = `${subject}.${until}`;
  return `${text}.${sealOf(use, text, secret)}`;
};

/** Whom or what a token names; null where it is not ours, is for another use, or has run out. */
export const subjectOf = (use: string, token: string, secret: string, now: number): string | null => {
  const [subject, until, seal, ...more] = token.split(".");
  if (subject === undefined || until === undefined || seal === undefined || more.length > 0) return null;
  return isSealOf(seal, use, `${subject}.${until}`, secret) && Number(until) >= now ? subject : null;
};
