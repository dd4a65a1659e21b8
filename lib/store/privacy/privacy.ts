import { failure, type Result, success } from "../../kernel/result.ts";
import type { OpenDatabase } from "../database.ts";
import { sealsOf } from "../dialects/seals.ts";
import { holdPeople } from "../people.ts";
import type { Act } from "../store.ts";
import { type Erased, type Erasing, eraseIn, filesBeside, lettersNaming } from "./erase.ts";
import { type ExportedPlace, placesOf } from "./export.ts";
import { type Hit, hitsOf } from "./hits.ts";
import { ofPeople } from "./inventory.ts";
import { type Loose, loose, type Row, textOf } from "./rows.ts";
import type { Sought } from "./sought.ts";
import { type Tidied, tidyUpOn } from "./tidy.ts";
import { type Visits, visitsIn } from "./visitOf.ts";
import { type PastVisit, pastVisits, removeVisitsIn } from "./visits.ts";
import { type Namesake, whoIsMeant } from "./who.ts";

/** A file that came with a reply in which the person took part. */
export interface FileBeside {
  readonly id: string;
  readonly visit: string;
  readonly what: string;
  readonly name: string;
  readonly who: string;
}

/** Where a person stands. */
export interface FoundPerson {
  readonly sought: Sought;
  readonly namesakes: readonly Namesake[];
  readonly hits: readonly Hit[];
  /** Ids of letters whose PDF may name him. */
  readonly letters: readonly string[];
  readonly files: readonly FileBeside[];
}

export type Search = { readonly one: FoundPerson } | { readonly several: readonly string[] };

/** What the office keeps of people, as a whole: found, given out, removed. */
export interface PrivacyStore {
  /** By an e-mail address, the exact name or the id of an account; null where nobody stands by it anywhere. */
  readonly find: (given: string) => Promise<Search | null>;
  /** Everything that is kept about who was found. */
  readonly places: (person: FoundPerson) => readonly ExportedPlace[];
  /**
   * Takes a person out of the whole database, all or nothing. Fails where nobody stands by that any more, where several bear the name, and while he has
   * an account that has not ended.
   */
  readonly erase: (given: string, erasing: Erasing, by: Act) => Promise<Result<Erased>>;
  readonly tidyUp: (now: number) => Promise<Tidied>;
  readonly pastVisits: (before: string) => Promise<readonly PastVisit[]>;
  /** Removes visits with all that is of them, all or none. Fails where one is no more, or where its last day is not before that day. */
  readonly removeVisits: (visits: readonly string[], before: string, by: Act) => Promise<Result<number>>;
}

const NOBODY = "nobody stands by this anywhere; perhaps somebody else erased the person meanwhile";
const SEVERAL = "several people bear this name; wanted the e-mail address of one";
const OPEN = "the account has not ended; end it first";
const BUSY = "somebody else is writing; nothing was changed, try again";
const NOT_PAST = "one of these visits is no more, or is not past long enough; nothing was removed";

const isBusy = (error: unknown): boolean =>
  typeof error === "object" && error !== null && "code" in error && /^(SQLITE_BUSY|40001|40P01)/.test(String(error.code));

const orBusy = async <Value>(work: Promise<Result<Value>>): Promise<Result<Value>> => {
  try {
    return await work;
  } catch (error) {
    if (isBusy(error)) return failure(BUSY);
    throw error;
  }
};

const fileOf = (row: Row, { bySent }: Visits): FileBeside => ({
  id: textOf(row, "id"),
  visit: bySent.get(textOf(row, "sent"))?.visit ?? "",
  what: textOf(row, "what"),
  name: textOf(row, "name"),
  who: textOf(row, "who"),
});

const findIn = async (db: Loose, kind: OpenDatabase["kind"], visits: Visits, given: string): Promise<Search | null> => {
  const found = await whoIsMeant(db, kind, visits, given);
  if (found === null || "several" in found) return found;
  const hits = await hitsOf(db, kind, visits, found.one);
  if (hits.length === 0) return null;
  const files = (await filesBeside(db, hits)).map((row) => fileOf(row, visits));
  return { one: { ...found.one, hits, letters: await lettersNaming(db, hits, visits), files } };
};

const hasOpenAccount = async (db: Loose, { accounts }: Sought): Promise<boolean> => {
  if (accounts.length === 0) return false;
  const ended = await db.selectFrom("person").select("id").where("id", "in", accounts).where("ended_at", "is not", null).execute();
  return ended.length < accounts.length;
};

/** People as the database keeps them, on an open one with accounts. */
export const privacyOn = ({ db, kind }: OpenDatabase): PrivacyStore => {
  const seals = sealsOf(kind);
  const all = loose(db);
  /** One transaction in which nobody else writes into a table that holds something of people. */
  const alone = <Value>(work: (inner: Loose) => Promise<Result<Value>>): Promise<Result<Value>> =>
    orBusy(
      db.transaction().execute(async (transaction) => {
        await holdPeople(transaction);
        const inner = loose(transaction);
        await seals.hold(inner as never, [...ofPeople.map(({ table }) => table), "signature"]);
        return work(inner);
      }),
    );
  return {
    find: async (given) => findIn(all, kind, await visitsIn(all), given),
    places: ({ hits, sought }) => placesOf(hits, sought),
    erase: (given, erasing, by) =>
      alone(async (inner) => {
        const visits = await visitsIn(inner);
        const found = await findIn(inner, kind, visits, given);
        if (found === null) return failure(NOBODY);
        if ("several" in found) return failure(SEVERAL);
        const { sought, hits } = found.one;
        if (await hasOpenAccount(inner, sought)) return failure(OPEN);
        const erased = await eraseIn(inner, seals, { hits, sought, visits }, erasing, by);
        const subject = sought.accounts[0] ?? erasing.instead.name;
        await inner
          .insertInto("audit")
          .values({
            done_at: by.when,
            who: by.who,
            act: "person erased",
            subject,
            detail: `${erased.rows} rows, ${erased.letters} letters`,
          })
          .execute();
        return success(erased);
      }),
    tidyUp: (now) => tidyUpOn(all, now),
    pastVisits: (before) => pastVisits(all, before),
    removeVisits: (visits, before, by) =>
      alone(async (inner) => {
        const past = new Set((await pastVisits(inner, before)).map(({ id }) => id));
        const wanted = [...new Set(visits)];
        if (!wanted.every((id) => past.has(id))) return failure(NOT_PAST);
        await removeVisitsIn(inner, seals, wanted, by);
        return success(wanted.length);
      }),
  };
};
