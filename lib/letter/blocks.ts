import type { PartState } from "../rulebook/types.ts";

/** A letter as plain data: what it says and in which order, nothing of how it looks. */
export interface Letter {
  readonly title: string;
  readonly subject: string;
  readonly date: string;
  readonly isoDate: string;
  readonly reference: string;
  readonly office: { readonly name: string; readonly address: readonly string[]; readonly contact: string };
  readonly to: readonly string[];
  readonly blocks: readonly Block[];
}

/** The four parts of a loop with the state of each: the mark of the program. */
export interface Strip {
  readonly part: string;
  readonly state: PartState;
  readonly word: string;
}

export type Block =
  | { readonly kind: "heading"; readonly text: string }
  | { readonly kind: "subheading"; readonly text: string; readonly note?: string }
  | { readonly kind: "paragraph"; readonly text: string; readonly tone?: "quiet" | "act" }
  | { readonly kind: "asks"; readonly lines: readonly { readonly who: string; readonly what: string; readonly by: string }[] }
  | { readonly kind: "bullets"; readonly items: readonly string[]; readonly tone?: "danger" }
  | {
      readonly kind: "table";
      /** The first column is text like the others, not a reference. */
      readonly plain?: true;
      readonly columns: readonly { readonly title: string; readonly share: number }[];
      readonly rows: readonly (readonly string[])[];
    }
  | {
      readonly kind: "protection";
      readonly refs: string;
      readonly name: string;
      readonly state: "settled" | "proposed";
      readonly how: string;
      readonly does: readonly string[];
      readonly strip: readonly Strip[];
      readonly lines: readonly { readonly label: string; readonly text: string }[];
    };
