import type { Counted } from "../store/copy/digest.ts";

const DIGITS = 16;
const number = (value: number): string => value.toLocaleString("en-GB");
const digits = (digest: string): string => digest.slice(0, DIGITS);

const UNITS = ["bytes", "kB", "MB", "GB", "TB"] as const;

/** "4.2 MB", by thousands. */
export const sizeOf = (bytes: number): string => {
  const power = Math.min(UNITS.length - 1, Math.floor(Math.log10(Math.max(bytes, 1)) / 3));
  return `${power === 0 ? bytes : (bytes / 1000 ** power).toFixed(1)} ${UNITS[power]}`;
};

/** "3.2 s". */
export const durationOf = (milliseconds: number): string => `${(milliseconds / 1000).toFixed(1)} s`;

const columns = (lines: readonly (readonly string[])[]): string => {
  const widths = (lines[0] ?? []).map((_, place) => Math.max(...lines.map((line) => line[place]?.length ?? 0)));
  const cell = (text: string, place: number): string =>
    place % 2 === 1 ? text.padStart(widths[place] ?? 0) : text.padEnd(widths[place] ?? 0);
  return lines.map((line) => `${line.map(cell).join("  ").trimEnd()}\n`).join("");
};

/** Tables with rows and the first digits of their SHA-256, one a line. */
export const countsTable = (counts: readonly Counted[]): string =>
  columns([["table", "rows", "sha-256"], ...counts.map(({ table, rows, digest }) => [table, number(rows), digits(digest)])]);

/** The same of two ends, side by side. */
export const bothTable = (from: readonly Counted[], to: readonly Counted[]): string =>
  columns([
    ["table", "rows here", "sha-256", "rows there", "sha-256"],
    ...from.map(({ table, rows, digest }) => {
      const there = to.find((other) => other.table === table);
      return [table, number(rows), digits(digest), there === undefined ? "none" : number(there.rows), digits(there?.digest ?? "")];
    }),
  ]);
