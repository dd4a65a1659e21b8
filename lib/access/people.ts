import type { Kysely, Transaction } from "kysely";
import { failure, type Result, success } from "../kernel/result.ts";
import { rolledBack, TakenBack } from "../store/changes.ts";
import { absencesIn, ENDED, handOverOpen, hasOpen, holdPeople, isEnded } from "../store/people.ts";
import type { Tables } from "../store/schema.ts";
import type { Act } from "../store/store.ts";
import { type AbsenceAsked, againstAbsence } from "./absence.ts";
import { withdrawInvitations, withdrawPasswordLinks } from "./invitations.ts";
import { isRole, type Role } from "./roles.ts";

/** Somebody who has an account, or had one. He is never deleted: who did what stays readable. */
export interface Member {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly role: Role;
  /** Since when he has an account. */
  readonly since: string;
  /** Counts what was changed about him; a form tells which it showed. */
  readonly version: number;
  /** When and by whom his account was ended. */
  readonly ended?: Act;
}

/** What is wrong, with the field of its form; an empty one where it is of none. */
export interface PersonFault {
  readonly field: string;
  readonly says: string;
}

/** What became of ending an account. */
export interface EndedAccount {
  /** Visits that went to who takes over. */
  readonly visits: readonly string[];
  /** Those for whom he was to stand in: they need another. */
  readonly stoodInFor: readonly string[];
}

/** The form that a change comes from: about whom, and which version of him it showed. */
export interface About {
  readonly person: string;
  readonly seen: number;
}

/** What supervisors settle about people. Every change is whole or not at all; of two at once the second is judged by what the first left. */
export interface People {
  /** Everybody who has an account or had one, by name. */
  readonly people: () => Promise<readonly Member[]>;
  /** Fails where it would leave the office without a supervisor. */
  readonly changeRole: (about: About, role: Role, by: Act) => Promise<Result<true, PersonFault>>;
  /** `to` takes over the open visits; it fails where there are some and nobody is named. */
  readonly endAccount: (about: About, to: string | null, by: Act) => Promise<Result<EndedAccount, PersonFault>>;
  readonly openAgain: (about: About, by: Act) => Promise<Result<true, PersonFault>>;
  /** Ends every sign-in of a person, and open links for his password; how many sign-ins there were. */
  readonly endSignIns: (person: string) => Promise<number>;
  readonly tellAbsence: (about: About, id: string, asked: Omit<AbsenceAsked, "person">, by: Act) => Promise<Result<true, PersonFault>>;
  /** Ends an absence from now on, or takes back one that has not begun. Fails where that was done already. */
  readonly endAbsence: (about: About, id: string, by: Act) => Promise<Result<true, PersonFault>>;
}

const fault = (says: string, field = ""): Result<never, PersonFault> => failure({ field, says });

const MEANWHILE = "Somebody else changed this person meanwhile. What is shown now is as it stands; nothing of yours was changed";
const NO_PERSON = "There is no such person";
const LAST = "is the last supervisor; make somebody else a supervisor first, or nobody could let people in";

const membersIn = async (db: Kysely<Tables>): Promise<readonly Member[]> => {
  const rows = await db
    .selectFrom("user")
    .leftJoin("person", "person.id", "user.id")
    .select(["user.id", "user.name", "user.email", "user.role", "user.createdAt", "version", "ended_at", "ended_by"])
    .execute();
  return rows
    .map(
      ({ role, createdAt, version, ended_at, ended_by, ...row }): Member => ({
        ...row,
        role: isRole(role) ? role : "inspector",
        since: new Date(createdAt).toISOString(),
        version: version ?? 0,
        ...(ended_at === null ? {} : { ended: { who: ended_by ?? "", when: ended_at } }),
      }),
    )
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : a.id < b.id ? -1 : 1));
};

/** Counts a change of a person, and keeps whether his account has ended. */
const keep = async (db: Transaction<Tables>, { id, version }: Member, ended: Act | null): Promise<void> => {
  const values = { version: version + 1, ended_at: ended?.when ?? null, ended_by: ended?.who ?? null };
  await db
    .insertInto("person")
    .values({ id, ...values })
    .onConflict((conflict) => conflict.column("id").doUpdateSet(values))
    .execute();
};

/** Ends the sign-ins of a person, and the links by which he would set another password: whoever holds one of either is out. */
const shutOut = async (db: Kysely<Tables>, person: string): Promise<number> => {
  await withdrawPasswordLinks(db, person);
  return Number((await db.deleteFrom("session").where("userId", "=", person).executeTakeFirst()).numDeletedRows);
};

interface Held {
  readonly members: readonly Member[];
  readonly member: Member;
}

/** One change of a person: judged and made with all people held. A fault takes everything back. */
const change = <Value>(
  db: Kysely<Tables>,
  { person, seen }: About,
  make: (inner: Transaction<Tables>, held: Held) => Promise<Result<Value, PersonFault>>,
): Promise<Result<Value, PersonFault>> =>
  rolledBack(
    db.transaction().execute(async (inner): Promise<Result<Value, PersonFault>> => {
      await holdPeople(inner);
      const members = await membersIn(inner);
      const member = members.find(({ id }) => id === person);
      if (member === undefined) return fault(NO_PERSON);
      if (member.version !== seen) return fault(MEANWHILE);
      const made = await make(inner, { members, member });
      if (!made.ok) throw new TakenBack(made);
      return made;
    }),
  );

const supervises = ({ role, ended }: Member): boolean => role === "supervisor" && ended === undefined;

/** Why a supervisor's change cannot be made by who wants it, or would leave none; null where it can. */
const againstLeaving = ({ members, member }: Held, { who }: Act): PersonFault | null => {
  if (supervises(member) && !members.some((one) => one.id !== member.id && supervises(one)))
    return { field: "", says: `${member.name} ${LAST}` };
  // Somebody else may have taken the role from him while he wrote.
  return members.some((one) => one.id === who && supervises(one)) ? null : { field: "", says: "You are no supervisor any more" };
};

/** What supervisors settle about people, on an open database with accounts. */
export const peopleIn = (db: Kysely<Tables>): People => ({
  people: () => membersIn(db),

  changeRole: (about, role, by) =>
    change(db, about, async (inner, held) => {
      const against = role === "supervisor" ? null : againstLeaving(held, by);
      if (against !== null) return failure({ ...against, field: "role" });
      if (held.member.ended !== undefined) return fault(`${held.member.name}: ${ENDED}; open it again first`, "role");
      if (held.member.role === role) return fault(`${held.member.name} is ${role} already`, "role");
      await inner.updateTable("user").set({ role }).where("id", "=", held.member.id).execute();
      if (role !== "supervisor") await withdrawInvitations(inner, held.member.id);
      await keep(inner, held.member, null);
      return success(true);
    }),

  endAccount: (about, to, by) =>
    change(db, about, async (inner, held) => {
      const { member, members } = held;
      if (member.id === by.who) return fault("Nobody ends his own account; another supervisor does it", "end");
      if (member.ended !== undefined) return fault(`${member.name}: ${ENDED} already`, "end");
      const against = againstLeaving(held, by);
      if (against !== null) return failure({ ...against, field: "end" });
      const day = by.when.slice(0, 10);
      const heir = members.find(({ id }) => id === to);
      if ((await hasOpen(inner, member.id, day)) && to === null)
        return fault(`Who takes over: given nobody; ${member.name} has open visits, so wanted who takes them over`, "takes-over");
      if (to !== null && (heir === undefined || heir.ended !== undefined || heir.id === member.id))
        return fault("Who takes over: given nobody who can; wanted one of the list", "takes-over");
      const visits = heir === undefined ? [] : await handOverOpen(inner, member.id, heir.id, day);
      const absences = (await absencesIn(inner, day)).filter(({ person, standsIn }) => person === member.id || standsIn === member.id);
      for (const { id } of absences)
        await inner.updateTable("absence").set({ over_at: by.when, over_by: by.who }).where("id", "=", id).execute();
      await keep(inner, member, by);
      await withdrawInvitations(inner, member.id);
      await shutOut(inner, member.id);
      return success({ visits, stoodInFor: absences.flatMap(({ person }) => (person === member.id ? [] : [person])) });
    }),

  openAgain: (about) =>
    change(db, about, async (inner, { member }) => {
      if (member.ended === undefined) return fault(`The account of ${member.name} is open already`);
      await keep(inner, member, null);
      return success(true);
    }),

  endSignIns: (person) => shutOut(db, person),

  tellAbsence: (about, id, asked, by) =>
    change(db, about, async (inner, { members, member }) => {
      if (member.ended !== undefined) return fault(`${member.name}: ${ENDED}`);
      const today = by.when.slice(0, 10);
      const nameOf = (who: string): string | null => members.find((one) => one.id === who && one.ended === undefined)?.name ?? null;
      const wanted = { ...asked, person: member.id };
      const against = againstAbsence(wanted, { today, others: await absencesIn(inner, today), nameOf });
      if (against !== null) return failure(against);
      await inner
        .insertInto("absence")
        .values({
          id,
          person: member.id,
          from_day: asked.from,
          to_day: asked.to,
          stands_in: asked.standsIn,
          told_by: by.who,
          told_at: by.when,
          over_at: null,
          over_by: null,
        })
        .execute();
      await keep(inner, member, null);
      return success(true);
    }),

  endAbsence: (about, id, by) =>
    change(db, about, async (inner, { member }) => {
      const done = await inner
        .updateTable("absence")
        .set({ over_at: by.when, over_by: by.who })
        .where("id", "=", id)
        .where("person", "=", member.id)
        .where("over_at", "is", null)
        .where("to_day", ">=", by.when.slice(0, 10))
        .executeTakeFirst();
      if (done.numUpdatedRows === 0n) return fault("This absence is over already, or is none of this person’s");
      await keep(inner, member, member.ended ?? null);
      return success(true);
    }),
});

/** Why a person whose password is right may not come in; null where he may. */
export const shutBecause = async (db: Kysely<Tables>, person: string): Promise<string | null> =>
  (await isEnded(db, person)) ? `${ENDED}; a supervisor of your office can open it again` : null;
