import { type Kysely, sql, type Transaction } from "kysely";
import type { Tables } from "../schema.ts";
import type { Holds, Kept } from "./inventory.ts";
import type { Sought } from "./sought.ts";

/** The database with its tables by their names only: what is done here is done to all of them alike. */
export type Loose = Kysely<Record<string, Record<string, unknown>>>;
export type Row = Readonly<Record<string, unknown>>;

export const loose = (db: Kysely<Tables> | Transaction<Tables>): Loose => db as unknown as Loose;

/** Columns in which a person may stand by name or address. */
const TOLD: ReadonlySet<Holds> = new Set(["name", "address", "json", "words", "log"]);

export const columnsOf = ({ columns }: Kept, wanted: (holds: Holds) => boolean): readonly (readonly [string, Holds])[] =>
  Object.entries(columns).filter(([, holds]) => wanted(holds));

export const toldIn = (kept: Kept): readonly (readonly [string, Holds])[] => columnsOf(kept, (holds) => TOLD.has(holds));

/** All but the bytes of papers and files. */
const readable = (kept: Kept): readonly string[] =>
  columnsOf(kept, (holds) => holds !== "paper" && holds !== "file").map(([column]) => column);

/** A text as it stands within JSON. */
const within = (text: string): string => JSON.stringify(text).slice(1, -1);

/**
 * Rows in which a text of the person stands, or which bear his id: more than those that are really his, since the database only compares letters.
 */
export const rowsWith = async (db: Loose, kind: "sqlite" | "postgres", kept: Kept, sought: Sought): Promise<readonly Row[]> => {
  const place = (column: string, text: string) =>
    kind === "sqlite"
      ? sql<boolean>`instr(${sql.ref(column)}, ${text}) > 0`
      : sql<boolean>`strpos(cast(${sql.ref(column)} as text), ${text}) > 0`;
  const small = (column: string, text: string) =>
    kind === "sqlite"
      ? sql<boolean>`instr(lower(${sql.ref(column)}), ${text}) > 0`
      : sql<boolean>`strpos(lower(cast(${sql.ref(column)} as text)), ${text}) > 0`;
  const told = toldIn(kept).flatMap(([column, holds]) => [
    ...sought.emails.map((email) => small(column, email)),
    ...sought.names.map((name) => place(column, holds === "json" ? within(name) : name)),
  ]);
  const ids = columnsOf(kept, (holds) => ["account", "name", "log"].includes(holds)).flatMap(([column]) =>
    sought.accounts.map((id) => sql<boolean>`${sql.ref(column)} = ${id}`),
  );
  const any = [...told, ...ids];
  if (any.length === 0) return [];
  return db
    .selectFrom(kept.table)
    .select([...readable(kept)])
    .where(({ or }) => or(any))
    .orderBy(kept.key[0] ?? "")
    .execute();
};

export const textOf = (row: Row, column: string): string => {
  const value = row[column];
  return typeof value === "string" ? value : "";
};

/** The row that its key names, as a condition. */
export const isRow = (kept: Kept, row: Row) =>
  sql<boolean>`${sql.join(
    kept.key.map((column) => sql`${sql.ref(column)} = ${row[column]}`),
    sql` and `,
  )}`;
