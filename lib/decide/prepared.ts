import { type Atom, newAtomTable } from "../logic/atoms.ts";
import { type Diagram, leavesBelow, nodesBelow } from "../logic/diagram.ts";
import type { Knowledge } from "../logic/frame.ts";
import type { Bound } from "../logic/kleene.ts";
import type { CompiledProtection } from "./compile.ts";
import { restrict } from "./restrict.ts";
import type { Option, Table } from "./table.ts";

/** "First option that holds" as a decision diagram over the facts of a protection, and the table it was made of. */
export interface Prepared {
  readonly compiled: CompiledProtection;
  readonly literals: readonly Bound[];
  /** Options that some completion reaches, best first. */
  readonly options: readonly Option[];
  readonly diagram: Diagram;
  readonly root: number;
  readonly atoms: readonly Atom[];
  /** From a leaf of the diagram to the option's place; `doesNotApply` and `nothingLeft` follow the options. */
  readonly placeOf: (leaf: number) => number;
}

export const doesNotApply = (prepared: Pick<Prepared, "options">): number => prepared.options.length;
export const nothingLeft = (prepared: Pick<Prepared, "options">): number => prepared.options.length + 1;
export const nodesOf = ({ diagram, root }: Prepared): number => nodesBelow(diagram, root);

/** Leaves of options are shifted by two so as not to meet the 0 and 1 of conditions. */
const SHIFT = 2;

const buildRoot = (compiled: CompiledProtection, { literals, options }: Table) => {
  const { diagram, diagramOf, atoms } = newAtomTable(compiled.frame);
  const no = diagram.leaf(0);
  const literalDiagrams = literals.map(diagramOf);
  // Conjuncts of late variables first: each step then only adds nodes above what stands.
  const conditionOf = (option: Option): number =>
    option.conjuncts
      .map((place) => literalDiagrams[place] ?? no)
      .sort((a, b) => diagram.variableOf(b) - diagram.variableOf(a))
      .reduce((rest, literal) => diagram.choose(literal, rest, no), diagram.leaf(1));
  const last = diagram.choose(diagramOf(compiled.applies), diagram.leaf(options.length + 1 + SHIFT), diagram.leaf(options.length + SHIFT));
  const root = options.reduceRight((rest, option, place) => diagram.choose(conditionOf(option), diagram.leaf(place + SHIFT), rest), last);
  return { diagram, atoms, root };
};

/** Builds the diagram of a table and drops the options that no completion reaches. */
export const prepare = (compiled: CompiledProtection, table: Table, unknown: Knowledge): Prepared => {
  const built = buildRoot(compiled, table);
  const whole = restrict({ ...built, placeOf: (leaf) => leaf - SHIFT }, unknown);
  const reached = leavesBelow(whole.diagram, whole.root);
  const options = table.options.filter((_, place) => reached.has(place));
  const places = new Map(options.map((option, place) => [table.options.indexOf(option) + SHIFT, place]));
  const placeOf = (leaf: number): number => places.get(leaf) ?? leaf - SHIFT - table.options.length + options.length;
  return { compiled, literals: table.literals, options, ...built, placeOf };
};
