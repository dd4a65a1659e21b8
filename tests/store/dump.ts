import { type Kysely, sql } from "kysely";
import type { Tables } from "../../lib/store/schema.ts";

/** One row as it lies in the database: every column as text, bytes as base64. */
export interface Dumped {
  readonly table: string;
  readonly row: Readonly<Record<string, string>>;
}

const textOf = (value: unknown): string => {
  if (value === null || value === undefined) return "";
  if (value instanceof Date) return value.toISOString();
  return Buffer.isBuffer(value) ? `base64 ${value.toString("base64")}` : String(value);
};

/** The names of all tables and their columns, as the database itself tells them. */
export const tablesOf = async (db: Kysely<Tables>): Promise<ReadonlyMap<string, readonly string[]>> =>
  new Map(
    (await db.introspection.getTables({ withInternalKyselyTables: true }))
      .filter(({ isView }) => !isView)
      .map(({ name, columns }) => [name, columns.map((column) => column.name).sort()] as const)
      .sort(([a], [b]) => (a < b ? -1 : 1)),
  );

/** Every row of every table, whatever the program knows of them. */
export const dumped = async (db: Kysely<Tables>): Promise<readonly Dumped[]> => {
  const all: Dumped[] = [];
  for (const table of (await tablesOf(db)).keys()) {
    const { rows } = await sql<Record<string, unknown>>`select * from ${sql.table(table)}`.execute(db);
    all.push(...rows.map((row) => ({ table, row: Object.fromEntries(Object.entries(row).map(([name, value]) => [name, textOf(value)])) })));
  }
  return all.sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
};

/** A text with what JSON writes otherwise put back. */
export const plain = (text: string): string => text.replaceAll('\\"', '"');
