import { ATOM_BASE, type Atom } from "../logic/atoms.ts";
import { type Component, componentsOf, truthOfAtom } from "../logic/cells.ts";
import { Diagram } from "../logic/diagram.ts";
import type { Knowledge } from "../logic/frame.ts";
import { YES } from "../logic/kleene.ts";

/**
 * A diagram over what is still open. Choice variables keep their frame index; branch i stands for the i-th value still
 * possible (`values`). Variable ATOM_BASE + c is the component c of open numbers; branch i stands for its cell i.
 */
export interface Live {
  readonly diagram: Diagram;
  readonly root: number;
  readonly components: readonly Component[];
  /** For each choice variable the positions of the values still possible. */
  readonly values: readonly (readonly number[])[];
}

export interface Restrictable {
  readonly diagram: Diagram;
  readonly root: number;
  readonly atoms: readonly Atom[];
  readonly placeOf: (leaf: number) => number;
}

const positions = (mask: number): readonly number[] => {
  const found: number[] = [];
  for (let position = 0; mask >> position !== 0; position += 1) if ((mask >> position) & 1) found.push(position);
  return found;
};

/** What is left of a diagram once the known facts are put in. */
export const restrict = ({ diagram: from, root, atoms, placeOf }: Restrictable, knowledge: Knowledge): Live => {
  const diagram = new Diagram();
  const components = componentsOf(atoms, knowledge);
  const fixed: (boolean | undefined)[] = atoms.map((atom) => truthOfAtom(atom, knowledge) === YES);
  for (const component of components) for (const place of component.atoms) fixed[place] = undefined;
  const values = Array.from(knowledge.masks, positions);
  const memo = new Map<number, number>();

  /** Follows atoms whose truth is fixed or given by the cells chosen; the rest of the path ends in a leaf. */
  const leafUnder = (at: number, chosen: (boolean | undefined)[]): number => {
    let here = at;
    while (!from.isLeaf(here)) here = from.branchesOf(here)[chosen[from.variableOf(here) - ATOM_BASE] ? 1 : 0] ?? here;
    return diagram.leaf(placeOf(from.valueOf(here)));
  };
  const throughNumbers = (at: number, component: number, chosen: (boolean | undefined)[]): number => {
    const here = components[component];
    if (here === undefined) return leafUnder(at, chosen);
    const branches = here.cells.map((cell) => {
      here.atoms.forEach((place, i) => {
        chosen[place] = cell[i];
      });
      return throughNumbers(at, component + 1, chosen);
    });
    return diagram.node(ATOM_BASE + component, branches);
  };
  const visit = (at: number): number => {
    const found = memo.get(at);
    if (found !== undefined) return found;
    const made = visitNew(at);
    memo.set(at, made);
    return made;
  };
  const visitNew = (at: number): number => {
    if (from.isLeaf(at)) return diagram.leaf(placeOf(from.valueOf(at)));
    const variable = from.variableOf(at);
    if (variable >= ATOM_BASE) return throughNumbers(at, 0, [...fixed]);
    const branches = from.branchesOf(at);
    const possible = values[variable] ?? [];
    const only = possible[0];
    if (possible.length === 1 && only !== undefined) return visit(branches[only] ?? at);
    return diagram.node(
      variable,
      possible.map((value) => visit(branches[value] ?? at)),
    );
  };
  return { diagram, root: visit(root), components, values };
};
