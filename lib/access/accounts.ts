import { betterAuth } from "better-auth";
import { getMigrations } from "better-auth/db/migration";
import { admin } from "better-auth/plugins";
import { createAccessControl } from "better-auth/plugins/access";
import { adminAc, defaultStatements, userAc } from "better-auth/plugins/admin/access";
import type { Kysely } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import type { OpenDatabase } from "../store/database.ts";
import type { Tables } from "../store/schema.ts";
import { isEncrypted } from "./encrypted.ts";
import { CONSOLE, type Invitation, newCode, refusal } from "./invitation.ts";
import { type Invitations, invitationOf, invitationsIn, withdrawInvitations } from "./invitations.ts";
import { COUNTED, MOST, shutUntil } from "./lockOut.ts";
import { LONGEST_PASSWORD, SHORTEST_PASSWORD, unfitBecause } from "./password.ts";
import { type People, peopleIn, shutBecause } from "./people.ts";
import { isRole, type Role } from "./roles.ts";

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly role: Role;
}

/** What the person's browser is to be told, beside who he is. */
export interface SignedIn {
  readonly person: Person;
  /** `Set-Cookie` headers. */
  readonly cookies: readonly string[];
}

export interface Accounts extends People, Invitations {
  /** Whether nobody has an account yet. */
  readonly isEmpty: () => Promise<boolean>;
  /** Why a code cannot be used; null where it can. */
  readonly refused: (code: string, now: number) => Promise<string | null>;
  readonly takeUp: (
    code: string,
    who: { readonly name: string; readonly email: string; readonly password: string },
    now: number,
  ) => Promise<Result<Person>>;
  /** Whose password a link sets; null where it does not, or cannot be used. */
  readonly whosePassword: (code: string, now: number) => Promise<Person | null>;
  /** Sets the password of whom a link is for, and ends every sign-in of his. */
  readonly setPassword: (code: string, password: string, now: number) => Promise<Result<Person>>;
  /** `address` is where the try comes from. A door that is shut answers so whatever the password. */
  readonly signIn: (email: string, password: string, address: string, now: number) => Promise<Result<SignedIn>>;
  /** Who is signed in by these headers; null where nobody is, or his account has ended. */
  readonly whoIs: (headers: Headers) => Promise<Person | null>;
  /**
   * Gives who is signed in by these headers another password and ends every sign-in of his; he then signs in anew. Guessing at the present password shuts
   * the door of the account as at the sign-in. An open link for his password opens nothing any more.
   */
  readonly changePassword: (headers: Headers, present: string, next: string, now: number) => Promise<Result<true>>;
  /** Ends this sign-in, or with `everywhere` every one of the person and open links for his password; the `Set-Cookie` headers that make the browser forget it. */
  readonly signOut: (headers: Headers, everywhere: boolean) => Promise<readonly string[]>;
}

/** The same words whether the address or the password is wrong, so that nobody learns who has an account. */
const WRONG = "e-mail address and password do not belong together";

const DAY = 24 * 60 * 60_000;
/** Milliseconds after which a sign-in that is not used has run out. */
const IDLE_LASTS = 7 * DAY;
/** Milliseconds after which one signs in anew, however often the sign-in was used: NIST SP 800-63B (4.1.3) has thirty days for a password alone. */
const LONGEST_SIGN_IN = 30 * DAY;

const access = createAccessControl(defaultStatements);

const authOn = ({ db, kind }: OpenDatabase, { secret, url }: { readonly secret: string; readonly url: string }) =>
  betterAuth({
    appName: "Forehail",
    secret,
    baseURL: url,
    telemetry: { enabled: false },
    logger: { disabled: true },
    database: { db, type: kind },
    emailAndPassword: { enabled: true, disableSignUp: true, minPasswordLength: SHORTEST_PASSWORD, maxPasswordLength: LONGEST_PASSWORD },
    session: { expiresIn: IDLE_LASTS / 1000, updateAge: DAY / 1000 },
    // The library's own prefix would be "__Secure-", which other hosts of the domain can set too.
    advanced: {
      cookiePrefix: isEncrypted(url) ? "__Host-forehail" : "forehail",
      useSecureCookies: false,
      defaultCookieAttributes: { secure: isEncrypted(url) },
    },
    plugins: [
      admin({
        defaultRole: "inspector",
        adminRoles: ["supervisor"],
        ac: access,
        roles: { inspector: access.newRole(userAc.statements), supervisor: access.newRole(adminAc.statements) },
      }),
    ],
  });

const personOf = (user: { readonly id: string; readonly name: string; readonly email: string; readonly role?: unknown }): Person => ({
  id: user.id,
  name: user.name,
  email: user.email,
  role: isRole(user.role) ? user.role : "inspector",
});

interface Door {
  readonly door: string;
  readonly most: number;
}

const doorsOf = (email: string, address: string): readonly Door[] => [
  { door: `account ${email}`, most: MOST.account },
  { door: `address ${address}`, most: MOST.address },
];

/** When a door opens again for a try that is not its own; null where it is open. */
const shutFor = async (db: Kysely<Tables>, { door, most }: Door, tries: readonly string[], now: number): Promise<number | null> => {
  const rows = await db
    .selectFrom("failed_try")
    .select("tried_at")
    .where("door", "=", door)
    .where("id", "not in", tries)
    .where("tried_at", ">", String(now - COUNTED))
    .execute();
  return shutUntil(
    rows.map(({ tried_at }) => Number(tried_at)),
    most,
    now,
  );
};

/** Counts a try at both doors before the password is looked at, so that many at once are counted too. */
const countTry = async (db: Kysely<Tables>, doors: readonly Door[], now: number): Promise<readonly string[]> => {
  const rows = doors.map(({ door }) => ({ id: newCode(), door, tried_at: String(now) }));
  await db.insertInto("failed_try").values(rows).execute();
  return rows.map(({ id }) => id);
};

const forget = async (db: Kysely<Tables>, tries: readonly string[]): Promise<void> => {
  await db.deleteFrom("failed_try").where("id", "in", tries).execute();
};

/** A try at these doors, counted; to be forgotten where it succeeds. Fails where one of them is shut. */
const knock = async (db: Kysely<Tables>, doors: readonly Door[], now: number): Promise<Result<readonly string[]>> => {
  const tries = await countTry(db, doors, now);
  for (const door of doors) {
    const until = await shutFor(db, door, tries, now);
    if (until === null) continue;
    await forget(db, tries);
    return failure(`too many failed tries; try again in ${Math.ceil((until - now) / 60_000)} min`);
  }
  return success(tries);
};

const EXISTS = "somebody has an account with this e-mail address already; sign in with it, or give another address";

/** Why the library made no account, in our words where we have some. */
const messageOf = (error: unknown): string => {
  const message = error instanceof Error ? error.message : "";
  if (/already exists/i.test(message)) return EXISTS;
  return message === "" ? "it was refused" : message;
};

/** Whether the database answers: the library tells a database that is away as it tells a wrong password. Fails with the database's own error. */
const answering = async (db: Kysely<Tables>): Promise<void> => {
  await db.selectFrom("person").select("id").limit(1).execute();
};

/** Uses a link up. Fails where it was used meanwhile: of two who use one at once only one gets in. */
const takeLink = async (db: Kysely<Tables>, { mark }: Invitation, now: number): Promise<Result<true>> => {
  const taken = await db
    .updateTable("invitation")
    .set({ used_at: String(now) })
    .where("mark", "=", mark)
    .where("used_at", "is", null)
    .executeTakeFirst();
  return taken.numUpdatedRows === 0n ? failure("this link was used already; sign in, or ask your supervisor for another") : success(true);
};

const giveLinkBack = async (db: Kysely<Tables>, { mark }: Invitation): Promise<void> => {
  await db.updateTable("invitation").set({ used_at: null }).where("mark", "=", mark).execute();
};

/** The link of a code that can be used now. Fails with why it cannot; one of who has no account any more, made while that was ended, is none. */
const linkOf = async (db: Kysely<Tables>, code: string, now: number): Promise<Result<Invitation>> => {
  const invitation = await invitationOf(db, code);
  const whose = invitation?.forPerson ?? null;
  const shut = whose !== null && (await shutBecause(db, whose)) !== null;
  const why = refusal(shut ? null : invitation, now);
  return invitation !== null && why === null ? success(invitation) : failure(why ?? "");
};

/** A link that sets a password now, and whose. */
const passwordOf = async (
  db: Kysely<Tables>,
  code: string,
  now: number,
): Promise<Result<{ readonly person: Person; readonly invitation: Invitation }>> => {
  const link = await linkOf(db, code, now);
  if (!link.ok) return link;
  const row = await db
    .selectFrom("user")
    .select(["id", "name", "email", "role"])
    .where("id", "=", link.value.forPerson ?? "")
    .executeTakeFirst();
  return row === undefined ? failure(refusal(null, now) ?? "") : success({ person: personOf(row), invitation: link.value });
};

/** People's accounts in the office's database. Passwords and sessions are the library's; who may try how often is ours. */
export const openAccounts = async (open: OpenDatabase, settings: { readonly secret: string; readonly url: string }): Promise<Accounts> => {
  const { db } = open;
  const auth = authOn(open, settings);
  await open.alone(async () => (await getMigrations(auth.options)).runMigrations());
  const people = peopleIn(db);
  return {
    isEmpty: async () => (await (await auth.$context).internalAdapter.countTotalUsers()) === 0,

    ...invitationsIn(db),

    refused: async (code, now) => {
      const link = await linkOf(db, code, now);
      return link.ok ? null : (link.faults[0] ?? "");
    },

    takeUp: async (code, { name, email, password }, now) => {
      const invitation = await invitationOf(db, code);
      const why = refusal(invitation?.forPerson === null ? invitation : null, now);
      if (why !== null || invitation === null) return failure(why ?? "");
      const unfit = unfitBecause(password, [name, email]);
      if (unfit !== null) return failure(`the password ${unfit}`);
      // Taken before the account is made.
      const taken = await takeLink(db, invitation, now);
      if (!taken.ok) return taken;
      try {
        const { user } = await auth.api.createUser({ body: { name, email, password, role: invitation.role } });
        // Every start of a copy on an empty office printed a code; now that it has its supervisor, the others are good for nothing.
        if (invitation.invitedBy === CONSOLE && invitation.role === "supervisor") await withdrawInvitations(db, CONSOLE);
        return success(personOf(user));
      } catch (error) {
        await giveLinkBack(db, invitation);
        return failure(messageOf(error));
      }
    },

    whosePassword: async (code, now) => {
      const found = await passwordOf(db, code, now);
      return found.ok ? found.value.person : null;
    },

    setPassword: async (code, password, now) => {
      const found = await passwordOf(db, code, now);
      if (!found.ok) return found;
      const { person, invitation } = found.value;
      const unfit = unfitBecause(password, [person.name, person.email]);
      if (unfit !== null) return failure(`the password ${unfit}`);
      const taken = await takeLink(db, invitation, now);
      if (!taken.ok) return taken;
      const { internalAdapter, password: hashing } = await auth.$context;
      try {
        await internalAdapter.updatePassword(person.id, await hashing.hash(password));
      } catch (error) {
        await giveLinkBack(db, invitation);
        throw error;
      }
      await people.endSignIns(person.id);
      // Who could not guess his own password stood before a shut door.
      await db.deleteFrom("failed_try").where("door", "=", `account ${person.email}`).execute();
      return success(person);
    },

    signIn: async (given, password, address, now) => {
      const email = given.trim().toLowerCase();
      const knocked = await knock(db, doorsOf(email, address), now);
      if (!knocked.ok) return knocked;
      const tries = knocked.value;
      try {
        const { headers, response } = await auth.api.signInEmail({ body: { email, password }, returnHeaders: true });
        await forget(db, tries);
        await db.deleteFrom("failed_try").where("door", "=", `account ${email}`).execute();
        // Told only to who knows the password: nobody else learns whose account has ended.
        const shut = await shutBecause(db, response.user.id);
        if (shut !== null) {
          await people.endSignIns(response.user.id);
          return failure(shut);
        }
        return success({ person: personOf(response.user), cookies: headers.getSetCookie() });
      } catch {
        await answering(db);
        return failure(WRONG);
      }
    },

    ...people,

    whoIs: async (headers) => {
      const session = await auth.api.getSession({ headers }).catch(async (error: unknown) => {
        await answering(db);
        throw error;
      });
      if (session === null || (await shutBecause(db, session.user.id)) !== null) return null;
      if (Date.now() - session.session.createdAt.getTime() < LONGEST_SIGN_IN) return personOf(session.user);
      await (await auth.$context).internalAdapter.deleteSession(session.session.token);
      return null;
    },

    changePassword: async (headers, present, next, now) => {
      const session = await auth.api.getSession({ headers });
      if (session === null) return failure("nobody is signed in");
      const unfit = unfitBecause(next, [session.user.name, session.user.email]);
      if (unfit !== null) return failure(`the new password ${unfit}`);
      const door: Door = { door: `account ${session.user.email}`, most: MOST.account };
      const tries = await knock(db, [door], now);
      if (!tries.ok) return tries;
      try {
        await auth.api.changePassword({ headers, body: { currentPassword: present, newPassword: next, revokeOtherSessions: true } });
      } catch {
        await answering(db);
        return failure("the present password is not right");
      }
      await forget(db, tries.value);
      await people.endSignIns(session.user.id);
      return success(true);
    },

    signOut: async (headers, everywhere) => {
      if (everywhere) {
        const session = await auth.api.getSession({ headers });
        if (session !== null) await people.endSignIns(session.user.id);
      }
      const { headers: answered } = await auth.api.signOut({ headers, returnHeaders: true });
      return answered.getSetCookie();
    },
  };
};
