import { createHash, type Hash } from "node:crypto";
import { join } from "node:path";
import Database from "better-sqlite3";

/** What stands in each table of an office, as one mark a table. */
export type Marks = ReadonlyMap<string, string>;

/** Looks at an office's embedded database from beside. */
export interface Looking {
  readonly marks: () => Marks;
  readonly close: () => void;
}

const LONG = 2_000;

/** Files and long texts are known by their lengths and ends here, for the sake of time; whether they are whole is looked at by `halfThere`. */
const cellOf = (cell: unknown): unknown => {
  if (Buffer.isBuffer(cell)) return cell.length;
  return typeof cell === "string" && cell.length > LONG ? [cell.length, cell.slice(0, 200), cell.slice(-200)] : cell;
};

const add = (hash: Hash, row: readonly unknown[]): void => {
  hash.update(JSON.stringify(row.map(cellOf)));
};

/** Large tables to which rows are only ever added: how many there are and which is the last tells of any change, whatever stands in them. */
const ADDED: ReadonlySet<string> = new Set(["answer", "made", "result", "reply_entry", "attachment", "signature", "sent", "delivery"]);

const markOf = (database: Database.Database, table: string): string => {
  if (ADDED.has(table)) return JSON.stringify(database.prepare(`select count(*), max(rowid) from "${table}"`).raw().get());
  const hash = createHash("sha1");
  for (const row of database.prepare(`select * from "${table}"`).raw().iterate()) add(hash, row as readonly unknown[]);
  return hash.digest("hex");
};

/** Looks at all tables but those of these names. */
export const lookInto = (folder: string, but: ReadonlySet<string>): Looking => {
  const database = new Database(join(folder, "office.db"), { readonly: true });
  const tables = database.prepare("select name from sqlite_master where type = 'table' and name not like 'sqlite_%' order by name").pluck();
  return {
    // All of one moment.
    marks: database.transaction(
      () => new Map((tables.all() as string[]).filter((table) => !but.has(table)).map((table) => [table, markOf(database, table)])),
    ),
    close: () => database.close(),
  };
};

/** The tables of which something changed. */
export const changedIn = (before: Marks, after: Marks): readonly string[] =>
  [...new Set([...before.keys(), ...after.keys()])].filter((table) => before.get(table) !== after.get(table));
