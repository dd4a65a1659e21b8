import pg from "pg";
import { CopyStopped, cellOf, partOf, type WritableEnd } from "./end.ts";
import { type Column, columnsInOrder, inOrder, isOwnAccount, type Kind, type Row, type Table } from "./table.ts";

const KINDS: Readonly<Record<string, Kind>> = {
  text: "text",
  "character varying": "text",
  smallint: "whole",
  integer: "whole",
  bigint: "whole",
  boolean: "whole",
  "timestamp with time zone": "instant",
  bytea: "bytes",
};

const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;
const listed = (names: readonly string[]): string => names.map(quoted).join(", ");

const COLUMNS = `select c.table_name as table, c.column_name as name, c.data_type as type
  from information_schema.columns c join information_schema.tables t using (table_schema, table_name)
  where c.table_schema = current_schema() and t.table_type = 'BASE TABLE'`;
const KEYS = `select r.relname as table, a.attname as name from pg_index i join pg_class r on r.oid = i.indrelid
  join pg_attribute a on a.attrelid = r.oid and a.attnum = any(i.indkey)
  where i.indisprimary and r.relnamespace = current_schema()::regnamespace order by array_position(i.indkey::int2[], a.attnum)`;
const REFERS = `select r.relname as table, f.relname as name from pg_constraint k join pg_class r on r.oid = k.conrelid
  join pg_class f on f.oid = k.confrelid where k.contype = 'f' and r.relnamespace = current_schema()::regnamespace`;
const SEALS = `select distinct event_object_table as table, event_object_table as name from information_schema.triggers
  where event_object_schema = current_schema() and event_manipulation = 'UPDATE'`;

interface Named {
  readonly table: string;
  readonly name: string;
}

const columnOf = (table: string, name: string, type: string): Column => {
  const kind = KINDS[type];
  if (kind === undefined) throw new CopyStopped(`${table}.${name} is of the type ${type}, which this program does not know how to copy`);
  return { name, kind, type };
};

const tablesOf = async (client: pg.Client): Promise<readonly Table[]> => {
  const all = await client.query<Named & { readonly type: string }>(COLUMNS);
  const look = async (query: string): Promise<readonly Named[]> => (await client.query<Named>(query)).rows;
  const [keys, refers, seals] = [await look(KEYS), await look(REFERS), await look(SEALS)];
  const of = (some: readonly Named[], table: string): readonly string[] =>
    some.filter((one) => one.table === table).map(({ name }) => name);
  const names = [...new Set(all.rows.map(({ table }) => table))].filter((name) => !isOwnAccount(name));
  const tables = names.map((name): Table => {
    const own = all.rows.filter(({ table }) => table === name);
    const columns = columnsInOrder(own.map((column) => columnOf(name, column.name, column.type)));
    const key = of(keys, name);
    return {
      name,
      columns,
      key: key.length > 0 ? key : columns.map((column) => column.name),
      refers: of(refers, name),
      sealed: of(seals, name).length > 0,
    };
  });
  const ordered = inOrder(tables);
  if (!ordered.ok) throw new CopyStopped(ordered.faults.join("; "));
  return ordered.value;
};

const migrationsOf = async (client: pg.Client): Promise<readonly string[]> => {
  const there = await client.query<{ readonly found: string | null }>("select to_regclass('kysely_migration')::text as found");
  if (there.rows[0]?.found === null) return [];
  return (await client.query<{ readonly name: string }>(`select name from kysely_migration order by name collate "C"`)).rows.map(
    ({ name }) => name,
  );
};

const INSTANT = `'YYYY-MM-DD"T"HH24:MI:SS.US"Z"'`;

/** How a column is read so that both databases give the same. */
const readAs = ({ name, kind, type }: Column): string => {
  if (kind === "instant") return `to_char(${quoted(name)} at time zone 'UTC', ${INSTANT})`;
  return type === "boolean" ? `${quoted(name)}::int` : quoted(name);
};

/** By the bytes of texts, as SQLite sorts, whatever the server's language. */
const sortedBy = ({ columns, key }: Table): string =>
  key.map((name) => `${quoted(name)}${columns.find((column) => column.name === name)?.kind === "text" ? ' collate "C"' : ""}`).join(", ");

const wholeOf = (value: unknown, column: Column | undefined): unknown =>
  column?.kind === "whole" && value !== null ? BigInt(value as number | string) : value;

async function* rowsOf(client: pg.Client, table: Table): AsyncIterable<readonly Row[]> {
  await client.query(
    `declare copied no scroll cursor for select ${table.columns.map(readAs).join(", ")} from ${quoted(table.name)} order by ${sortedBy(table)}`,
  );
  try {
    for (;;) {
      const { rows } = await client.query<unknown[]>({ text: `fetch ${partOf(table)} from copied`, rowMode: "array" });
      if (rows.length === 0) break;
      yield rows.map((row) => row.map((value, place) => cellOf(wholeOf(value, table.columns[place]), table, place)));
    }
  } finally {
    // Where the transaction has failed the cursor is gone already.
    await client.query("close copied").catch(() => undefined);
  }
}

const write = async (client: pg.Client, { name, columns }: Table, rows: readonly Row[]): Promise<void> => {
  const places = rows.map((_, at) => `(${columns.map(({ type }, place) => `$${at * columns.length + place + 1}::${type}`).join(", ")})`);
  await client.query(
    `insert into ${quoted(name)} (${listed(columns.map((column) => column.name))}) values ${places.join(", ")}`,
    rows.flat().map((cell) => (cell instanceof Uint8Array ? Buffer.from(cell) : cell)),
  );
};

const countOn = async (client: pg.Client, { name, columns }: Table): Promise<void> => {
  for (const { name: column, kind } of columns) {
    if (kind !== "whole") continue;
    const found = await client.query<{ readonly counter: string | null }>("select pg_get_serial_sequence($1, $2) as counter", [
      quoted(name),
      column,
    ]);
    const counter = found.rows[0]?.counter ?? null;
    if (counter === null) continue;
    await client.query(
      `select setval($1::regclass, coalesce(max(${quoted(column)}), 1), max(${quoted(column)}) is not null) from ${quoted(name)}`,
      [counter],
    );
  }
};

/** Opens an office's PostgreSQL database at one moment; one that is written to is shut to other writers meanwhile. Throws where it cannot be read. */
export const postgresEnd = async (url: string, use: "read" | "write"): Promise<WritableEnd> => {
  const client = new pg.Client({ connectionString: url });
  // A connection that breaks is told by the query that it broke.
  client.on("error", () => undefined);
  try {
    await client.connect();
    await client.query(use === "read" ? "begin isolation level repeatable read read only" : "begin");
    const tables = await tablesOf(client);
    if (use === "write" && tables.length > 0) await client.query(`lock table ${listed(tables.map(({ name }) => name))} in exclusive mode`);
    return {
      kind: "postgres",
      tables,
      migrations: await migrationsOf(client),
      rows: (table) => rowsOf(client, table),
      empty: async ({ name }) => {
        await client.query(`delete from ${quoted(name)}`);
      },
      write: (table, rows) => write(client, table, rows),
      countOn: (table) => countOn(client, table),
      commit: async () => {
        await client.query("commit");
      },
      close: () => client.end(),
    };
  } catch (error) {
    await client.end().catch(() => undefined);
    throw error;
  }
};
