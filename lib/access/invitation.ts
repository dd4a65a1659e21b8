import { createHash, randomBytes } from "node:crypto";
import type { Role } from "./roles.ts";

/** Milliseconds for which a one-time link can be used. */
export const LASTS = 7 * 24 * 60 * 60_000;

/** Who invites where nobody has an account yet: whoever starts the program. */
export const CONSOLE = "console";

/** An invitation to become somebody of the office, as it is kept: never the code itself, only what tells it. */
export interface Invitation {
  readonly mark: string;
  readonly role: Role;
  readonly invitedBy: string;
  readonly madeAt: number;
  readonly usedAt: number | null;
}

/** A code that nobody can guess: 32 random bytes. */
export const newCode = (): string => randomBytes(32).toString("base64url");

/** What is kept of a code: enough to know it again, nothing to get in with. */
export const markOf = (code: string): string => createHash("sha256").update(code).digest("hex");

/** By which a link is known once it was told; it opens nothing. */
export const linkIdOf = (code: string): string => markOf(markOf(code));

/** What people call a link by, in lists and in the log. */
export const linkName = (id: string): string => `link ${id.slice(0, 6)}`;

/** Why an invitation cannot be taken up now; null where it can. */
export const refusal = (invitation: Invitation | null, now: number): string | null => {
  if (invitation === null) return "this link is not one of ours, or was withdrawn; ask your supervisor for another";
  if (invitation.usedAt !== null) return "this link was used already; sign in, or ask your supervisor for another";
  return now > invitation.madeAt + LASTS ? "this link has run out; ask your supervisor for another" : null;
};
