import type { Cited } from "../../figures/cited.ts";
import type { Result } from "../../kernel/result.ts";
import type { Unit } from "../../units/units.ts";

/** What goes into a sum: a number with its unit, a whole one, several, one of a few, or a text as it is written. */
export interface Input {
  readonly id: string;
  readonly label: string;
  readonly kind: "number" | "whole" | "numbers" | "choice" | "text" | "day";
  readonly unit?: Unit;
  readonly hint?: string;
  readonly optional?: true;
  readonly choices?: readonly { readonly value: string; readonly label: string }[];
}

/** What was given, read and in the units of the inputs. */
export interface Given {
  readonly number: (id: string) => number;
  readonly maybe: (id: string) => number | undefined;
  readonly numbers: (id: string) => readonly number[];
  readonly text: (id: string) => string;
  readonly one: <Choice extends string>(id: string, of: readonly Choice[]) => Choice;
}

/** What comes of a sum, with what it means where its name does not say that. */
export interface Outcome {
  readonly name: string;
  readonly value: number | string;
  readonly unit?: Unit;
  readonly decimals?: number;
  readonly means?: string;
}

/** A sum worked with figures that others have published or that stand worked in a rule, so that the calculator can be checked against it. */
export interface Example {
  readonly given: Readonly<Record<string, string>>;
  /** What comes of it, each by the name of its outcome, and how near it must come. */
  readonly gives: readonly (readonly [name: string, value: number | string, within?: number])[];
  readonly source: string;
}

/** One sum of a figure: its formula, what goes in, what comes of it. */
export interface Sum {
  readonly id: string;
  readonly title: string;
  readonly formula: readonly string[];
  readonly inputs: readonly Input[];
  readonly work: (given: Given) => Result<readonly Outcome[]>;
  readonly example: Example;
}

/** The page of a figure of the trade: what it is for, its sums, and where they come from. */
export interface FigurePage {
  readonly id: string;
  readonly name: string;
  readonly says: string;
  /** What must be heeded where the act that the figure is for is dangerous. */
  readonly caution?: string;
  readonly sources: readonly Cited[];
  readonly sums: readonly Sum[];
}
