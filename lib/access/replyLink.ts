import { subjectOf, tokenOf } from "./seal.ts";

/** Milliseconds for which a private link, once opened, need not be opened again on the same machine; each answer begins them anew. */
export const OPEN_LASTS = 24 * 60 * 60_000;

/** Milliseconds for which a page of a reply can be sent: longer than the link stays open, so that what was typed on it is not lost. */
const PAGE_LASTS = 14 * 24 * 60 * 60_000;

const USE = "reply";
const PAGE = "reply page";

/** What is known of a private link, as it is kept. */
export interface Standing {
  readonly expiresAt: string;
  readonly withdrawnAt?: string;
}

/**
 * Whether a private link opens a reply now. One that was never given, that has run out and that was withdrawn are the same to whoever
 * tries it: no. `now` is an instant in ISO 8601.
 */
export const opens = (link: Standing | null, now: string): boolean =>
  link !== null && link.withdrawnAt === undefined && now <= link.expiresAt;

/** What the browser keeps once a link was opened: the link by its mark, never its code, until when, and our seal. */
export const replySession = (mark: string, secret: string, now: number): string => tokenOf(USE, mark, now + OPEN_LASTS, secret);

/** The mark of the link that a browser opened; null where what it shows is not ours or has run out. */
export const markOfSession = (session: string, secret: string, now: number): string | null => subjectOf(USE, session, secret, now);

/** What a page of a reply bears, so that it can be sent though the browser kept nothing: its link by its mark, and our seal. */
export const replyPageToken = (mark: string, secret: string, now: number): string => tokenOf(PAGE, mark, now + PAGE_LASTS, secret);

/** The mark of the link that a page was opened with; null where the page is not ours or too old. */
export const markOfPage = (token: string, secret: string, now: number): string | null => subjectOf(PAGE, token, secret, now);
