import SQLite from "better-sqlite3";
import { failure, type Result, success } from "../../kernel/result.ts";
import { type Counted, countAll, differing } from "./digest.ts";
import { isBackup, isWhole } from "./seal.ts";
import { ABOUT, COUNTS, MAILS, type SqliteEnd, sqliteEnd } from "./sqliteEnd.ts";

const FORMAT = "forehail backup 1";

export interface About {
  /** The UTC instant whose office it holds. */
  readonly madeAt: string;
  readonly from: "sqlite" | "postgres";
}

/** A mail of the outbox, under its file's name. */
export interface KeptMail {
  readonly name: string;
  readonly content: Uint8Array;
}

/** A new database file is closed as one file, beside which SQLite keeps no other. */
export const asOneFile = (db: SQLite.Database): void => {
  db.pragma("journal_mode = DELETE");
  db.pragma("synchronous = FULL");
};

/** Writes into a copied office what it is a backup of, what is in it, and the mails of its outbox; gives their number. */
export const describe = async (path: string, about: About, counts: readonly Counted[], mails: AsyncIterable<KeptMail>): Promise<number> => {
  const db = new SQLite(path, { fileMustExist: true });
  try {
    asOneFile(db);
    db.exec(`begin immediate;
      create table ${ABOUT} (format text not null, made_at text not null, "from" text not null);
      create table ${COUNTS} (name text primary key, rows integer not null, digest text not null);
      create table ${MAILS} (name text primary key, content blob not null)`);
    db.prepare(`insert into ${ABOUT} values (?, ?, ?)`).run(FORMAT, about.madeAt, about.from);
    const count = db.prepare(`insert into ${COUNTS} values (?, ?, ?)`);
    for (const { table, rows, digest } of counts) count.run(table, rows, digest);
    const keep = db.prepare(`insert into ${MAILS} values (?, ?)`);
    let kept = 0;
    for await (const { name, content } of mails) kept += keep.run(name, content).changes;
    db.exec("commit");
    return kept;
  } finally {
    db.close();
  }
};

/** Takes out of a copied backup what makes it one, so that an office is left. */
export const undescribe = (path: string): void => {
  const db = new SQLite(path, { fileMustExist: true });
  try {
    asOneFile(db);
    db.pragma("secure_delete = ON");
    db.exec(`begin immediate; drop table ${ABOUT}; drop table ${COUNTS}; drop table ${MAILS}; commit`);
    db.pragma("application_id = 0");
    db.pragma("user_version = 0");
  } finally {
    db.close();
  }
};

/** What SQLite itself finds wrong with a file; empty where nothing is. */
export const brokenIn = (db: SQLite.Database): readonly string[] => [
  ...(db.pragma("integrity_check") as readonly { readonly integrity_check: string }[])
    .map((found) => found.integrity_check)
    .filter((words) => words !== "ok"),
  ...(db.pragma("foreign_key_check") as readonly { readonly table: string; readonly parent: string }[]).map(
    ({ table, parent }) => `a row of ${table} points to none of ${parent}`,
  ),
];

const MOST_TOLD = 3;

const wrongWith = async (end: SqliteEnd): Promise<string | null> => {
  const broken = brokenIn(end.db);
  if (broken.length > 0) return `a damaged file (${broken.slice(0, MOST_TOLD).join("; ")})`;
  const format = end.db.prepare<[], string>(`select format from ${ABOUT}`).pluck().get();
  if (format !== FORMAT) return `the format “${format ?? ""}”`;
  const told = end.db.prepare<[], Counted>(`select name as "table", rows, digest from ${COUNTS}`).all();
  const other = differing(told, await countAll(end));
  return other.length > 0 ? `a file whose ${other.join(", ")} are not what was written` : null;
};

/** Opens a backup and proves all of it: not a byte changed, sound, the rows that were written. Fails with what was given instead. */
export const openBackup = async (path: string): Promise<Result<SqliteEnd>> => {
  if (!(await isBackup(path))) return failure("a file that is no backup of Forehail");
  if (!(await isWhole(path))) return failure("a backup that is damaged, or was changed after it was written");
  const end = sqliteEnd(path, "read");
  const wrong = await wrongWith(end);
  if (wrong === null) return success(end);
  await end.close();
  return failure(wrong);
};

/** The mails kept in a backup, one by one. */
export function* mailsIn({ db }: SqliteEnd): Iterable<KeptMail> {
  yield* db.prepare<[], KeptMail>(`select name, content from ${MAILS} order by name`).iterate();
}
