import type { Verdict } from "../../decide/verdict.ts";
import type { Drawing } from "../../drawing/shapes.ts";
import type { Bar, Proves } from "../../rulebook/types.ts";

/** A link to another page of the rulebook. */
export interface Link {
  readonly words: string;
  readonly to: string;
}

/** A piece of a line: words, a link, a loop strip, a verdict. */
export type Bit = string | Link | { readonly strip: Proves } | { readonly verdict: Verdict["verdict"]; readonly bar?: Bar };

/** What stands in one line. */
export type Line = readonly Bit[];

/** What stands in one cell: a line, or several one under the other, with what leads them in. */
export interface Cell {
  readonly lead?: string;
  readonly lines: readonly Line[];
}

export interface Column {
  readonly name: string;
  readonly number?: true;
}

/** A row: its first cell heads it. */
export type Row = readonly [Cell, ...(readonly Cell[])];

/** What a page of the rulebook is made of, in plain data, so that it can be tested and drawn without a browser. */
export type Block =
  | { readonly kind: "text"; readonly line: Line; readonly quiet?: true }
  | { readonly kind: "caution"; readonly line: Line }
  | { readonly kind: "list"; readonly lines: readonly Line[]; readonly ordered?: true }
  | { readonly kind: "pairs"; readonly pairs: readonly (readonly [string, Cell])[] }
  | {
      readonly kind: "table";
      readonly label: string;
      readonly columns: readonly Column[];
      readonly rows: readonly Row[];
      readonly narrow?: true;
    }
  | { readonly kind: "strip"; readonly proves: Proves }
  | { readonly kind: "drawing"; readonly title: string; readonly drawing: Drawing };

export interface Section {
  readonly title: string;
  readonly blocks: readonly Block[];
}

/** One page of the rulebook. */
export interface Sheet {
  readonly title: string;
  /** Of what kind the thing is, or of what it is a part. */
  readonly caption: string;
  readonly lead: readonly Block[];
  readonly sections: readonly Section[];
}

export const line = (...bits: readonly Bit[]): Line => bits;
export const cell = (...bits: readonly Bit[]): Cell => ({ lines: [bits] });
export const cells = (lines: readonly Line[], lead?: string): Cell => ({ lines, ...(lead === undefined ? {} : { lead }) });
export const text = (...bits: readonly Bit[]): Block => ({ kind: "text", line: bits });
export const quiet = (...bits: readonly Bit[]): Block => ({ kind: "text", line: bits, quiet: true });
export const list = (lines: readonly Line[]): Block => ({ kind: "list", lines });
export const pairs = (...given: readonly (readonly [string, Cell] | null)[]): Block => ({
  kind: "pairs",
  pairs: given.filter((pair) => pair !== null),
});
/** A section, or none where it would be empty. */
export const section = (title: string, blocks: readonly Block[]): readonly Section[] => (blocks.length === 0 ? [] : [{ title, blocks }]);

/** Links in a row, with commas between. */
export const row = (links: readonly Bit[]): Line => links.flatMap((link, place) => (place === 0 ? [link] : [", ", link]));

const cellsOf = (block: Block): readonly Cell[] => {
  if (block.kind === "pairs") return block.pairs.map(([, given]) => given);
  return block.kind === "table" ? block.rows.flat() : [];
};

const linesOf = (block: Block): readonly Line[] => {
  if (block.kind === "text" || block.kind === "caution") return [block.line];
  if (block.kind === "list") return block.lines;
  return cellsOf(block).flatMap(({ lines }) => lines);
};

const blocksOf = ({ lead, sections }: Sheet): readonly Block[] => [...lead, ...sections.flatMap(({ blocks }) => blocks)];

/** Everywhere that a page leads to. */
export const linksOf = (sheet: Sheet): readonly Link[] =>
  blocksOf(sheet)
    .flatMap(linesOf)
    .flat()
    .filter((bit) => typeof bit === "object" && "to" in bit);
