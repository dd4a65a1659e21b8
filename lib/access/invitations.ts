import type { Kysely, Selectable } from "kysely";
import type { Tables } from "../store/schema.ts";
import { type Invitation, LASTS, markOf, newCode, refusal } from "./invitation.ts";
import { isRole, type Role } from "./roles.ts";

/** A link that can still be taken up, as a supervisor sees it; its id opens nothing. */
export interface OpenInvitation extends Pick<Invitation, "role" | "invitedBy"> {
  readonly id: string;
  /** UTC, ISO 8601. */
  readonly made: string;
  readonly until: string;
}

export interface Invitations {
  /** A code that makes one account of a role, once. It is told here and kept nowhere. */
  readonly invite: (role: Role, invitedBy: string, now: number) => Promise<string>;
  /** The links that can be taken up now, the first to run out first. */
  readonly openInvitations: (now: number) => Promise<readonly OpenInvitation[]>;
  /** Takes back a link that nobody took up; for which role it was, null where it was used, taken back or never there. */
  readonly withdrawInvitation: (id: string) => Promise<Role | null>;
}

const invitationFrom = ({ mark, role, invited_by, made_at, used_at }: Selectable<Tables["invitation"]>): Invitation => ({
  mark,
  role: isRole(role) ? role : "inspector",
  invitedBy: invited_by,
  madeAt: Number(made_at),
  usedAt: used_at === null ? null : Number(used_at),
});

/** The invitation that a code belongs to; null where it is none of ours. */
export const invitationOf = async (db: Kysely<Tables>, code: string): Promise<Invitation | null> => {
  const row = await db.selectFrom("invitation").selectAll().where("mark", "=", markOf(code)).executeTakeFirst();
  return row === undefined ? null : invitationFrom(row);
};

/** Takes back the links that somebody made and nobody took up: with his right to make them, or he could come back by one. */
export const withdrawInvitations = async (db: Kysely<Tables>, by: string): Promise<void> => {
  await db.deleteFrom("invitation").where("invited_by", "=", by).where("used_at", "is", null).execute();
};

const unused = async (db: Kysely<Tables>): Promise<readonly Invitation[]> =>
  (await db.selectFrom("invitation").selectAll().where("used_at", "is", null).execute()).map(invitationFrom);

const isoOf = (milliseconds: number): string => new Date(milliseconds).toISOString();

/** Links that make accounts, on an open database. */
export const invitationsIn = (db: Kysely<Tables>): Invitations => ({
  invite: async (role, invitedBy, now) => {
    const code = newCode();
    await db
      .insertInto("invitation")
      .values({ mark: markOf(code), role, invited_by: invitedBy, made_at: String(now), used_at: null })
      .execute();
    return code;
  },

  openInvitations: async (now) =>
    (await unused(db))
      .filter((one) => refusal(one, now) === null)
      .sort((a, b) => a.madeAt - b.madeAt || (a.mark < b.mark ? -1 : 1))
      .map(({ mark, role, invitedBy, madeAt }) => ({
        id: markOf(mark),
        role,
        invitedBy,
        made: isoOf(madeAt),
        until: isoOf(madeAt + LASTS),
      })),

  withdrawInvitation: async (id) => {
    const found = (await unused(db)).find(({ mark }) => markOf(mark) === id);
    if (found === undefined) return null;
    // Whoever takes it up at the same moment was first, or comes too late.
    const gone = await db.deleteFrom("invitation").where("mark", "=", found.mark).where("used_at", "is", null).executeTakeFirst();
    return gone.numDeletedRows === 0n ? null : found.role;
  },
});
