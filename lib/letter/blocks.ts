import type { Drawing } from "../drawing/shapes.ts";
import type { PartState } from "../rulebook/types.ts";
import type { SheetBlock } from "./sheets/blocks.ts";

/** A letter as plain data: what it says and in which order, nothing of how it looks. */
export interface Letter {
  readonly title: string;
  readonly subject: string;
  readonly date: string;
  readonly isoDate: string;
  readonly paper: "A4" | "Letter";
  readonly reference: string;
  readonly office: { readonly name: string; readonly address: readonly string[]; readonly contact: string };
  readonly to: readonly string[];
  /** What Forehail is and is not; at the foot of every page. */
  readonly statement: string;
  /** References of what is new or reads otherwise than in the letter before; a bar in the margin shows them. */
  readonly changed?: readonly string[];
  readonly blocks: readonly Block[];
}

/** The four parts of a loop with the state of each: the mark of the program. */
export interface Strip {
  readonly part: string;
  readonly state: PartState;
}

/** A part of the plan, a question or the like that stands under a label of its own. */
export interface Labelled {
  readonly label: string;
  readonly text: string;
}

export interface Fact {
  readonly name: string;
  readonly value: string;
  /** By which it is called; empty where it bears none. */
  readonly refs: string;
}

/** Something to fill in, by its name in the form. `title` says what it is to those who do not see what stands beside it. */
export type FormField =
  | { readonly kind: "choice"; readonly name: string; readonly title: string; readonly choices: readonly string[] }
  | {
      readonly kind: "text";
      readonly name: string;
      readonly title: string;
      /** Most characters that it takes. */
      readonly longest: number;
      /** Printed behind it. */
      readonly unit?: string;
      /** Several lines may be written in it. */
      readonly tall?: true;
    };

/** What is asked, and the fields for its answer: line by line under the heads of the table, null where a place stays empty. */
export interface FormRow {
  readonly ref: string;
  /** In bold before the text. */
  readonly name?: string;
  readonly text: string;
  /** Under the text and small: what to choose from, for those who write by pen. */
  readonly note?: string;
  readonly lines: readonly (readonly (FormField | null)[])[];
}

export type Block =
  | SheetBlock
  /** What follows begins on a new page; a long paper is laid out part by part. */
  | { readonly kind: "newPage" }
  | { readonly kind: "heading"; readonly text: string }
  | { readonly kind: "subheading"; readonly text: string; readonly note?: string }
  | { readonly kind: "paragraph"; readonly text: string; readonly tone?: "quiet" | "fine" }
  | { readonly kind: "asks"; readonly lines: readonly { readonly who: string; readonly what: string; readonly by: string }[] }
  /** Who signs for which office, with room above it. */
  | { readonly kind: "signature"; readonly text: string }
  | { readonly kind: "bullets"; readonly items: readonly string[] }
  | { readonly kind: "drawings"; readonly drawings: readonly Drawing[] }
  /** Acts that are never done. */
  | { readonly kind: "never"; readonly acts: readonly string[] }
  | { readonly kind: "labelled"; readonly items: readonly Labelled[] }
  | {
      readonly kind: "facts";
      readonly where: string;
      /** Facts of one thing under its name. */
      readonly groups: readonly { readonly label: string; readonly facts: readonly Fact[] }[];
    }
  | {
      readonly kind: "table";
      readonly compact?: true;
      readonly columns: readonly { readonly title: string; readonly share: number }[];
      /** A cell of several lines has them parted by a line feed. */
      readonly rows: readonly (readonly string[])[];
    }
  | {
      readonly kind: "protection";
      readonly refs: string;
      readonly name: string;
      /** The sets it is planned alike on. */
      readonly where: string;
      readonly state: "settled" | "proposed" | "no way left";
      readonly how: string;
      readonly does: readonly string[];
      readonly strip: readonly Strip[];
      /** The same in words: what of the loop is proven how. */
      readonly proves: string;
      readonly lines: readonly Labelled[];
      readonly drawings: readonly Drawing[];
    }
  | {
      readonly kind: "form";
      /** Rows close together: many, of which few are filled in. */
      readonly compact?: true;
      /** What all rows are about: a set, who acts by when; empty where nothing. */
      readonly title: string;
      /** The columns of fields, line by line, with their share of the page's width in percent; every line has the same width. */
      readonly heads: readonly (readonly { readonly title: string; readonly share: number }[])[];
      readonly rows: readonly FormRow[];
    }
  /** By what a filled form is known again: told to the reader, and kept in fields that nobody sees or fills in. */
  | { readonly kind: "formMark"; readonly text: string; readonly kept: readonly { readonly name: string; readonly value: string }[] };
