import { INVENTORY } from "./inventory.ts";
import { addressesIn, everybodyIn, type Named } from "./people.ts";
import { type Loose, type Row, rowsWith, textOf } from "./rows.ts";
import type { Sought } from "./sought.ts";
import { type Visits, visitOf } from "./visitOf.ts";

/** Somebody of the same name who is another: his address, and the visits in which he stands. */
export interface Namesake {
  readonly name: string;
  readonly email: string;
  readonly visits: readonly string[];
}

/** Who is meant by an address, a name or the id of an account. */
export interface Meant {
  readonly sought: Sought;
  readonly namesakes: readonly Namesake[];
}

/** What somebody is looked for by: nobody is found, one, or several of the name with an address each. */
export type Found = { readonly one: Meant } | { readonly several: readonly string[] } | null;

interface Account {
  readonly id: string;
  readonly name: string;
  readonly email: string;
}

const accountsIn = async (db: Loose): Promise<readonly Account[]> =>
  (await db.selectFrom("user").select(["id", "name", "email"]).execute()).map((row) => ({
    id: textOf(row, "id"),
    name: textOf(row, "name").trim(),
    email: textOf(row, "email").toLowerCase(),
  }));

interface Seen extends Named {
  readonly visit: string | null;
}

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
};

/** Everybody whom JSON of the database names in rows that hold one of these. */
const seenWith = async (db: Loose, kind: "sqlite" | "postgres", visits: Visits, sought: Sought): Promise<readonly Seen[]> => {
  const seen: Seen[] = [];
  for (const kept of INVENTORY) {
    const columns = Object.entries(kept.columns).flatMap(([column, holds]) => (holds === "json" ? [column] : []));
    if (columns.length === 0) continue;
    for (const row of await rowsWith(db, kind, kept, sought))
      for (const column of columns)
        seen.push(...everybodyIn(parsed(textOf(row, column))).map((one) => ({ ...one, visit: visitOf(kept, row as Row, visits) })));
  }
  return seen;
};

const unique = (all: readonly string[]): readonly string[] => [...new Set(all)].filter((one) => one !== "");

/** Others of these names: with an account, or with an address beside the name. */
const namesakesOf = ({ accounts, emails, names }: Sought, all: readonly Account[], seen: readonly Seen[]): readonly Namesake[] => {
  const found = new Map<string, Namesake>();
  const add = (name: string, email: string, visit: string | null): void => {
    const key = `${email} ${name}`;
    const before = found.get(key)?.visits ?? [];
    found.set(key, { name, email, visits: unique([...before, visit ?? ""]) });
  };
  for (const { id, name, email } of all)
    if (names.includes(name) && !accounts.includes(id) && !emails.includes(email)) add(name, email, null);
  for (const { name, contact, visit } of seen)
    if (names.includes(name)) for (const email of addressesIn(contact)) if (!emails.includes(email)) add(name, email, visit);
  return [...found.values()];
};

/**
 * Who is meant: by the id of an account, an e-mail address, or the exact name. One address is one person, under whatever names he stands; of a name that
 * several addresses bear, these are told.
 */
export const whoIsMeant = async (db: Loose, kind: "sqlite" | "postgres", visits: Visits, given: string): Promise<Found> => {
  const asked = given.trim();
  if (asked === "") return null;
  const all = await accountsIn(db);
  const byId = all.find(({ id }) => id === asked);
  const email = byId?.email ?? (asked.includes("@") ? asked.toLowerCase() : null);
  if (email === null) {
    const seen = await seenWith(db, kind, visits, { accounts: [], emails: [], names: [asked] });
    const emails = unique([
      ...all.filter(({ name }) => name === asked).map((one) => one.email),
      ...seen.filter(({ name }) => name === asked).flatMap(({ contact }) => addressesIn(contact)),
    ]);
    if (emails.length > 1) return { several: emails };
    if (emails[0] !== undefined) return whoIsMeant(db, kind, visits, emails[0]);
    return { one: { sought: { accounts: [], emails: [], names: [asked] }, namesakes: [] } };
  }
  const own = all.filter((one) => one.email === email);
  const [accounts, emails] = [own.map(({ id }) => id), [email]];
  const beside = await seenWith(db, kind, visits, { accounts: [], emails, names: [] });
  const names = unique([
    ...own.map(({ name }) => name),
    ...beside.filter(({ contact }) => addressesIn(contact).includes(email)).map(({ name }) => name),
  ]);
  const sought = { accounts, emails, names };
  const seen = names.length === 0 ? [] : await seenWith(db, kind, visits, { accounts: [], emails: [], names });
  return { one: { sought, namesakes: namesakesOf(sought, all, seen) } };
};
