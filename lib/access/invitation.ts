import { createHash, randomBytes } from "node:crypto";
import type { Role } from "./roles.ts";

const DAY = 24 * 60 * 60_000;
/** Milliseconds for which a link that makes an account can be used. */
export const LASTS = 7 * DAY;
/** And one that sets the password of an account that is there. */
export const PASSWORD_LASTS = DAY;

/** Who invites where nobody has an account yet: whoever starts the program. */
export const CONSOLE = "console";

/** A one-time link as it is kept: never the code itself, only what tells it. */
export interface Invitation {
  readonly mark: string;
  readonly role: Role;
  readonly invitedBy: string;
  readonly madeAt: number;
  readonly usedAt: number | null;
  /** Whose password it sets; null where it makes an account of its role. */
  readonly forPerson: string | null;
}

/** Until when a link can be used, in milliseconds since 1970. */
export const lastOf = ({ madeAt, forPerson }: Pick<Invitation, "madeAt" | "forPerson">): number =>
  madeAt + (forPerson === null ? LASTS : PASSWORD_LASTS);

/** A code that nobody can guess: 32 random bytes. */
export const newCode = (): string => randomBytes(32).toString("base64url");

/** What is kept of a code: enough to know it again, nothing to get in with. */
export const markOf = (code: string): string => createHash("sha256").update(code).digest("hex");

/** By which a link is known once it was told; it opens nothing. */
export const linkIdOf = (code: string): string => markOf(markOf(code));

/** What people call a link by, in lists and in the log. */
export const linkName = (id: string): string => `link ${id.slice(0, 6)}`;

/** Why a link cannot be used now; null where it can. */
export const refusal = (invitation: Invitation | null, now: number): string | null => {
  if (invitation === null) return "this link is not one of ours, or was withdrawn; ask your supervisor for another";
  if (invitation.usedAt !== null) return "this link was used already; sign in, or ask your supervisor for another";
  return now > lastOf(invitation) ? "this link has run out; ask your supervisor for another" : null;
};
