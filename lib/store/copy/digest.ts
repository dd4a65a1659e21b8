import { createHash } from "node:crypto";
import type { End } from "./end.ts";
import type { Cell, Row, Table } from "./table.ts";

/** How much a table holds, and the SHA-256 of all of it in hex digits. */
export interface Counted {
  readonly table: string;
  readonly rows: number;
  readonly digest: string;
}

/** What stands before each value, so that no two rows are written the same. */
const headOf = (cell: Cell): string => {
  if (cell === null) return "-";
  if (typeof cell === "bigint") return `#${cell};`;
  return typeof cell === "string" ? `"${Buffer.byteLength(cell)};` : `x${cell.length};`;
};

/** Counts and digests the rows of one table as they pass, by its key. */
export const counting = ({ name, columns }: Table): { readonly add: (rows: readonly Row[]) => void; readonly end: () => Counted } => {
  const hash = createHash("sha256").update(JSON.stringify(columns.map((column) => [column.name, column.kind])));
  let count = 0;
  const take = (cell: Cell): void => {
    hash.update(headOf(cell));
    if (cell !== null && typeof cell !== "bigint") hash.update(cell);
  };
  return {
    add: (rows) => {
      count += rows.length;
      for (const row of rows) for (const cell of row) take(cell);
    },
    end: () => ({ table: name, rows: count, digest: hash.digest("hex") }),
  };
};

const countedIn = async (end: End, table: Table): Promise<Counted> => {
  const counted = counting(table);
  for await (const rows of end.rows(table)) counted.add(rows);
  return counted.end();
};

/** Every table of an end, counted and digested. */
export const countAll = async (end: End): Promise<readonly Counted[]> => {
  const all: Counted[] = [];
  for (const table of end.tables) all.push(await countedIn(end, table));
  return all;
};

/** The names of tables that are not the same in two counts. */
export const differing = (some: readonly Counted[], others: readonly Counted[]): readonly string[] => {
  const saying = (all: readonly Counted[]) => new Map(all.map(({ table, rows, digest }) => [table, `${rows} ${digest}`]));
  const [here, there] = [saying(some), saying(others)];
  return [...new Set([...here.keys(), ...there.keys()])].filter((table) => here.get(table) !== there.get(table)).sort();
};
