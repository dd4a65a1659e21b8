import { stringify } from "csv-stringify/sync";
import writeXlsx, { type Cell } from "write-excel-file/node";
import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import { COLUMNS, KEYS, type RequestRow, requestRows } from "./requestRows.ts";

/** The requests of one letter, for those who arrange them. */
export interface RequestSheet {
  readonly plan: Plan;
  readonly rulebook: Rulebook;
  /** How each request stands, in words, by its reference; nothing is shown of one left out. */
  readonly states: ReadonlyMap<string, string>;
}

/**
 * A table as CSV by RFC 4180: UTF-8 with its mark in front, since spreadsheet programs otherwise read foreign letters wrongly, and CRLF
 * after every row. A cell that a program would take for a formula has an apostrophe in front. The same input gives the same text.
 */
export const tableCsv = (rows: readonly (readonly (string | number)[])[]): string =>
  stringify(
    rows.map((row) => [...row]),
    {
      bom: true,
      record_delimiter: "\r\n",
      escape_formulas: true,
      // The library quotes only what holds its own row ending; a line break of another kind would begin a row, and could begin a formula.
      quoted_match: /[\r\n]/,
    },
  );

/** The requests as CSV. */
export const requestsCsv = ({ plan, rulebook, states }: RequestSheet): string =>
  tableCsv([KEYS.map((key) => COLUMNS[key]), ...requestRows(plan, rulebook, states).map((row) => KEYS.map((key) => row[key]))]);

/** A table as a workbook (XLSX) of one sheet, every cell as text; widths in characters. */
export const tableXlsx = (
  sheet: string,
  head: readonly { readonly title: string; readonly width: number }[],
  rows: readonly (readonly string[])[],
): Promise<Uint8Array> =>
  writeXlsx(
    [
      head.map(({ title }): Cell => ({ value: title, type: String, fontWeight: "bold" })),
      ...rows.map((row) => row.map((value): Cell => ({ value, type: String, wrap: true, alignVertical: "top" }))),
    ],
    { sheet, columns: head.map(({ width }) => ({ width })), stickyRowsCount: 1, orientation: "landscape" },
  ).toBuffer();

/** Widths of the columns in characters; what is longer goes on in the next line of its cell. */
const WIDTHS: Readonly<Record<keyof RequestRow, number>> = {
  ref: 10,
  what: 60,
  kind: 12,
  actor: 16,
  confirmBy: 12,
  tests: 20,
  ifRefused: 50,
  state: 24,
};

const cellOf = (row: RequestRow, key: keyof RequestRow): Cell =>
  key === "confirmBy"
    ? { value: new Date(row.confirmBy), type: Date, format: "yyyy-mm-dd", align: "left", alignVertical: "top" }
    : { value: row[key], type: String, wrap: true, alignVertical: "top" };

/**
 * The requests as a workbook (XLSX) of one sheet: the head bold and staying in sight, days as days, everything else as text, whatever it
 * begins with. The archive inside bears the time at which it was made.
 */
export const requestsXlsx = ({ plan, rulebook, states }: RequestSheet): Promise<Uint8Array> =>
  writeXlsx(
    [
      KEYS.map((key): Cell => ({ value: COLUMNS[key], type: String, fontWeight: "bold" })),
      ...requestRows(plan, rulebook, states).map((row) => KEYS.map((key) => cellOf(row, key))),
    ],
    { sheet: "Requests", columns: KEYS.map((key) => ({ width: WIDTHS[key] })), stickyRowsCount: 1, orientation: "landscape" },
  ).toBuffer();
