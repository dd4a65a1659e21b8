import type { Kysely, Selectable } from "kysely";
import type { Tables } from "../store/schema.ts";
import { type Invitation, lastOf, markOf, newCode, refusal } from "./invitation.ts";
import { isRole, type Role } from "./roles.ts";

/** A link that can still be taken up, as a supervisor sees it; its id opens nothing. */
export interface OpenInvitation extends Pick<Invitation, "role" | "invitedBy" | "forPerson"> {
  readonly id: string;
  /** UTC, ISO 8601. */
  readonly made: string;
  readonly until: string;
}

/** Who has an account, by what a link needs to know of him. */
interface Somebody {
  readonly id: string;
  readonly role: Role;
}

export interface Invitations {
  /** A code that makes one account of a role, once. It is told here and kept nowhere. */
  readonly invite: (role: Role, invitedBy: string, now: number) => Promise<string>;
  /** A code by which somebody sets another password, once; an earlier one of his opens nothing any more. It is told here and kept nowhere. */
  readonly passwordLink: (person: Somebody, madeBy: string, now: number) => Promise<string>;
  /** The links that can be taken up now, the first to run out first. */
  readonly openInvitations: (now: number) => Promise<readonly OpenInvitation[]>;
  /** Takes back a link that nobody took up; what it was for, null where it was used, taken back or never there. */
  readonly withdrawInvitation: (id: string) => Promise<Pick<Invitation, "role" | "forPerson"> | null>;
}

const invitationFrom = ({ mark, role, invited_by, made_at, used_at, for_person }: Selectable<Tables["invitation"]>): Invitation => ({
  mark,
  role: isRole(role) ? role : "inspector",
  invitedBy: invited_by,
  madeAt: Number(made_at),
  usedAt: used_at === null ? null : Number(used_at),
  forPerson: for_person,
});

/** The invitation that a code belongs to; null where it is none of ours. */
export const invitationOf = async (db: Kysely<Tables>, code: string): Promise<Invitation | null> => {
  const row = await db.selectFrom("invitation").selectAll().where("mark", "=", markOf(code)).executeTakeFirst();
  return row === undefined ? null : invitationFrom(row);
};

/** Takes back the links by which somebody would set another password. */
export const withdrawPasswordLinks = async (db: Kysely<Tables>, person: string): Promise<void> => {
  await db.deleteFrom("invitation").where("for_person", "=", person).where("used_at", "is", null).execute();
};

/** Takes back the links that somebody made and nobody took up: with his right to make them, or he could come back by one. */
export const withdrawInvitations = async (db: Kysely<Tables>, by: string): Promise<void> => {
  await db.deleteFrom("invitation").where("invited_by", "=", by).where("used_at", "is", null).execute();
};

const unused = async (db: Kysely<Tables>): Promise<readonly Invitation[]> =>
  (await db.selectFrom("invitation").selectAll().where("used_at", "is", null).execute()).map(invitationFrom);

const isoOf = (milliseconds: number): string => new Date(milliseconds).toISOString();

const makeLink = async (db: Kysely<Tables>, role: Role, by: string, now: number, forPerson: string | null): Promise<string> => {
  const code = newCode();
  await db
    .insertInto("invitation")
    .values({ mark: markOf(code), role, invited_by: by, made_at: String(now), used_at: null, for_person: forPerson })
    .execute();
  return code;
};

/** `passwordLink` of an office whose people are not signed in: for whoever runs the program. */
export const passwordLinkIn = (db: Kysely<Tables>, { id, role }: Somebody, by: string, now: number): Promise<string> =>
  db.transaction().execute(async (inner) => {
    await withdrawPasswordLinks(inner, id);
    return makeLink(inner, role, by, now, id);
  });

/** One-time links, on an open database. */
export const invitationsIn = (db: Kysely<Tables>): Invitations => ({
  invite: (role, invitedBy, now) => makeLink(db, role, invitedBy, now, null),

  passwordLink: (person, by, now) => passwordLinkIn(db, person, by, now),

  openInvitations: async (now) =>
    (await unused(db))
      .filter((one) => refusal(one, now) === null)
      .sort((a, b) => a.madeAt - b.madeAt || (a.mark < b.mark ? -1 : 1))
      .map(({ mark, role, invitedBy, madeAt, forPerson }) => ({
        id: markOf(mark),
        role,
        invitedBy,
        forPerson,
        made: isoOf(madeAt),
        until: isoOf(lastOf({ madeAt, forPerson })),
      })),

  withdrawInvitation: async (id) => {
    const found = (await unused(db)).find(({ mark }) => markOf(mark) === id);
    if (found === undefined) return null;
    // Whoever takes it up at the same moment was first, or comes too late.
    const gone = await db.deleteFrom("invitation").where("mark", "=", found.mark).where("used_at", "is", null).executeTakeFirst();
    return gone.numDeletedRows === 0n ? null : found;
  },
});
