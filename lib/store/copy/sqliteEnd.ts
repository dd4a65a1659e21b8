import SQLite from "better-sqlite3";
import { CopyStopped, cellOf, partOf, type WritableEnd } from "./end.ts";
import { type Column, columnsInOrder, inOrder, isOwnAccount, type Kind, type Row, type Table } from "./table.ts";

const KINDS: Readonly<Record<string, Kind>> = {
  text: "text",
  varchar: "text",
  integer: "whole",
  real: "number",
  "double precision": "number",
  date: "instant",
  blob: "bytes",
};

/** Tables of a backup that are no office's: they tell of the backup itself. */
export const ABOUT = "backup_about";
export const COUNTS = "backup_table";
export const MAILS = "backup_mail";
const isOwn = (name: string): boolean => isOwnAccount(name) || name.startsWith("sqlite_") || [ABOUT, COUNTS, MAILS].includes(name);

export const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;
const listed = (names: readonly string[]): string => names.map(quoted).join(", ");

interface ColumnInfo {
  readonly name: string;
  readonly type: string;
  readonly pk: bigint | number;
}

const columnOf = (table: string, { name, type }: ColumnInfo): Column => {
  const kind = KINDS[type.toLowerCase().replace(/\(.*/, "")];
  if (kind === undefined) throw new CopyStopped(`${table}.${name} is of the type ${type}, which this program does not know how to copy`);
  return { name, kind, type };
};

const tableOf = (db: SQLite.Database, name: string): Table => {
  const infos = db.pragma(`table_info(${quoted(name)})`) as readonly ColumnInfo[];
  const columns = columnsInOrder(infos.map((info) => columnOf(name, info)));
  const key = infos.filter(({ pk }) => Number(pk) > 0).sort((a, b) => Number(a.pk) - Number(b.pk));
  const refers = (db.pragma(`foreign_key_list(${quoted(name)})`) as readonly { readonly table: string }[]).map(({ table }) => table);
  const sealed = db.prepare("select 1 from sqlite_master where type = 'trigger' and tbl_name = ?").get(name) !== undefined;
  return { name, columns, key: (key.length > 0 ? key : columns).map((column) => column.name), refers, sealed };
};

const namesOf = (db: SQLite.Database): readonly string[] =>
  db.prepare<[], string>("select name from sqlite_master where type = 'table'").pluck().all();

const tablesOf = (db: SQLite.Database): readonly Table[] => {
  const ordered = inOrder(
    namesOf(db)
      .filter((name) => !isOwn(name))
      .map((name) => tableOf(db, name)),
  );
  if (!ordered.ok) throw new CopyStopped(ordered.faults.join("; "));
  return ordered.value;
};

const migrationsOf = (db: SQLite.Database): readonly string[] =>
  namesOf(db).includes("kysely_migration") ? db.prepare<[], string>("select name from kysely_migration order by name").pluck().all() : [];

async function* rowsOf(db: SQLite.Database, table: Table): AsyncIterable<readonly Row[]> {
  const names = table.columns.map(({ name }) => name);
  const wanted = db
    .prepare(`select ${listed(names)} from ${quoted(table.name)} order by ${listed(table.key)}`)
    .safeIntegers()
    .raw();
  let part: Row[] = [];
  for (const row of wanted.iterate() as IterableIterator<readonly unknown[]>) {
    part.push(row.map((value, place) => cellOf(value, table, place)));
    if (part.length < partOf(table)) continue;
    yield part;
    part = [];
  }
  if (part.length > 0) yield part;
}

export interface SqliteEnd extends WritableEnd {
  /** The connection itself, inside its transaction. */
  readonly db: SQLite.Database;
}

/** Milliseconds that is waited for a writer. */
const PATIENCE = 5000;

/** Whether another program has an office's file open; a look that leaves nothing behind. Throws where it is no database. */
export const isOpenElsewhere = (path: string): boolean => {
  const db = new SQLite(path, { fileMustExist: true, timeout: 0 });
  try {
    db.pragma("locking_mode = EXCLUSIVE");
    db.exec("begin exclusive; rollback");
    return false;
  } catch (error) {
    if (error instanceof SQLite.SqliteError && error.code.startsWith("SQLITE_BUSY")) return true;
    throw error;
  } finally {
    db.close();
  }
};

/** Opens an office's file at one moment. Throws where it is no database or cannot be read. */
export const sqliteEnd = (path: string, use: "read" | "write"): SqliteEnd => {
  const db = new SQLite(path, { readonly: use === "read", fileMustExist: true, timeout: PATIENCE });
  try {
    if (use === "write") db.pragma("synchronous = FULL");
    db.exec(use === "read" ? "begin" : "begin immediate");
    // The first look is what the transaction sees from then on.
    const [tables, migrations] = [tablesOf(db), migrationsOf(db)];
    return {
      kind: "sqlite",
      db,
      tables,
      migrations,
      rows: (table) => rowsOf(db, table),
      empty: async ({ name }) => {
        db.exec(`delete from ${quoted(name)}`);
      },
      write: async ({ name, columns }, rows) => {
        const places = columns.map(() => "?").join(", ");
        const insert = db.prepare(`insert into ${quoted(name)} (${listed(columns.map((column) => column.name))}) values (${places})`);
        for (const row of rows) insert.run(...row);
      },
      // SQLite counts on from the highest by itself.
      countOn: async () => undefined,
      commit: async () => {
        db.exec("commit");
      },
      close: async () => {
        db.close();
      },
    };
  } catch (error) {
    db.close();
    throw error;
  }
};
