import { failure, type Result, success } from "../../kernel/result.ts";

/** What a column holds, by whatever name a database calls it; "whole" also holds yes and no, as 1 and 0. */
export type Kind = "text" | "whole" | "instant" | "bytes";

/** One value, the same from both databases. An instant is ISO 8601 in UTC, with six digits of the second where three do not say it. */
export type Cell = string | bigint | Uint8Array | null;

/** The cells of one row, in the order of its table's columns. */
export type Row = readonly Cell[];

export interface Column {
  readonly name: string;
  readonly kind: Kind;
  /** The type as the database itself calls it. */
  readonly type: string;
}

export interface Table {
  readonly name: string;
  /** By name. */
  readonly columns: readonly Column[];
  /** The columns by which its rows are told apart; all of them where it has no key. */
  readonly key: readonly string[];
  /** The tables that its rows point to. */
  readonly refers: readonly string[];
  /** Whether it refuses changes and deletions. */
  readonly sealed: boolean;
}

/** A table of Kysely's, in which each database keeps its own account of how its tables were made. */
export const isOwnAccount = (table: string): boolean => table.startsWith("kysely_");

const byName = <Named extends { readonly name: string }>(all: readonly Named[]): readonly Named[] =>
  [...all].sort((a, b) => (a.name < b.name ? -1 : 1));

export const columnsInOrder: (columns: readonly Column[]) => readonly Column[] = byName;

/** The tables so that each comes after those that it points to. Fails where tables point to each other in a ring. */
export const inOrder = (tables: readonly Table[]): Result<readonly Table[]> => {
  const placed: Table[] = [];
  let waiting = byName(tables);
  while (waiting.length > 0) {
    const names = new Set(waiting.map(({ name }) => name));
    const free = waiting.filter(({ refers }) => refers.every((name) => !names.has(name)));
    if (free.length === 0)
      return failure(`the tables ${[...names].join(", ")} point to each other and cannot be copied one after the other`);
    placed.push(...free);
    waiting = waiting.filter((table) => !free.includes(table));
  }
  return success(placed);
};

const shapeOf = ({ columns, key, sealed }: Table): string =>
  JSON.stringify([columns.map(({ name, kind }) => [name, kind]), [...key].sort(), sealed]);

/** The names of tables that one of two databases has otherwise, or has not. */
export const unlike = (some: readonly Table[], others: readonly Table[]): readonly string[] => {
  const [here, there] = [some, others].map((tables) => new Map(tables.map((table) => [table.name, shapeOf(table)])));
  const names = new Set([...some, ...others].map(({ name }) => name));
  return [...names].filter((name) => here?.get(name) !== there?.get(name)).sort();
};
