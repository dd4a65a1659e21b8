import type { Cell, Row, Table } from "./table.ts";

/** A database at one end of a copy, looked at in one transaction: what others write meanwhile is not seen. */
export interface End {
  readonly kind: "sqlite" | "postgres";
  /** The office's tables, each after those that it points to; what the migrations keep for themselves is left out. */
  readonly tables: readonly Table[];
  /** Names of the migrations that made them, in order. */
  readonly migrations: readonly string[];
  /** A table's rows by its key, in parts so small that memory stays bounded. */
  readonly rows: (table: Table) => AsyncIterable<readonly Row[]>;
  /** Ends the look, and gives up what was written and not committed. */
  readonly close: () => Promise<void>;
}

/** An end that rows can be written to. */
export interface WritableEnd extends End {
  readonly empty: (table: Table) => Promise<void>;
  readonly write: (table: Table, rows: readonly Row[]) => Promise<void>;
  /** Sets what counts the rows of a table on from the highest that it holds. */
  readonly countOn: (table: Table) => Promise<void>;
  readonly commit: () => Promise<void>;
}

/** Thrown inside a copy to end it, with words for people; every way out of this folder catches it. */
export class CopyStopped extends Error {}

/** Rows read or written at a time: few where a row may be a file. */
export const partOf = ({ columns }: Table): number => (columns.some(({ kind }) => kind === "bytes") ? 4 : 50);

/** An instant in one way of writing; what is no instant in UTC stays as it is. */
export const instantOf = (text: string): string => {
  const [, second, fraction = ""] = /^(\d{4}-\d\d-\d\d[T ]\d\d:\d\d:\d\d)(?:\.(\d{1,6}))?Z$/.exec(text) ?? [];
  if (second === undefined) return text;
  return `${second.replace(" ", "T")}.${fraction.padEnd(6, "0").replace(/000$/, "")}Z`;
};

const RIGHT: Readonly<Record<string, (value: unknown) => boolean>> = {
  text: (value) => typeof value === "string",
  instant: (value) => typeof value === "string",
  whole: (value) => typeof value === "bigint",
  bytes: (value) => value instanceof Uint8Array,
};

/** A value as it was read; a kind of value that its column should not hold ends the copy. */
export const cellOf = (value: unknown, { name, columns }: Table, place: number): Cell => {
  if (value === null) return null;
  const column = columns[place];
  if (column === undefined || RIGHT[column.kind]?.(value) !== true)
    throw new CopyStopped(`${name}.${column?.name ?? ""} holds a ${typeof value}; wanted ${column?.kind ?? "nothing"}`);
  return column.kind === "instant" ? instantOf(value as string) : (value as Cell);
};
