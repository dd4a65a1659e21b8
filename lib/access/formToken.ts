import { subjectOf, tokenOf } from "./seal.ts";

/** Milliseconds for which a form can be sent; as long as a sign-in lasts, so that what was typed outlives it. */
export const FORM_LASTS = 7 * 24 * 60 * 60_000;

const USE = "form";

/** A token for the forms of one person; whoever is not signed in has the id "". */
export const formToken = (person: string, secret: string, now: number): string => tokenOf(USE, person, now + FORM_LASTS, secret);

/** Whose form it is; null where the token is not ours or has run out. */
export const personOfForm = (token: string, secret: string, now: number): string | null => subjectOf(USE, token, secret, now);

const originOf = (text: string): string | null => (URL.canParse(text) ? new URL(text).origin : null);
const hostOf = (text: string): string | null => (URL.canParse(text) ? new URL(text).host : null);

/**
 * Whether a write comes from a page of ours: the browser tells where from. `url` is the office's address; where it was told none, the
 * host that was asked must be the one the page came from.
 */
export const sameOrigin = (headers: Headers, url: string | null): boolean => {
  const origin = headers.get("origin");
  if (origin === null) return headers.get("sec-fetch-site") === "same-origin";
  return url === null ? hostOf(origin) === headers.get("host") && hostOf(origin) !== null : originOf(origin) === originOf(url);
};
