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
  /** How many variables of the frame come before the components. */
  readonly choices: number;
  /** The positions of the values of a choice that are still possible. */
  readonly values: (variable: number) => readonly number[];
}

export interface Restrictable {
  readonly diagram: Diagram;
  readonly root: number;
  readonly atoms: readonly Atom[];
  readonly placeOf: (leaf: number) => number;
}

const positionsIn = (mask: number): readonly number[] => {
  const found: number[] = [];
  for (let position = 0; mask >> position !== 0; position += 1) if ((mask >> position) & 1) found.push(position);
  return found;
};

/** The position of a mask's only value; undefined where several are possible. */
const only = (mask: number): number | undefined => {
  const found = positions(mask);
  return found.length === 1 ? found[0] : undefined;
};

/** Masks are few; their positions are worked out once each. */
const known = new Map<number, readonly number[]>();

const positions = (mask: number): readonly number[] => {
  const found = known.get(mask) ?? positionsIn(mask);
  known.set(mask, found);
  return found;
};

/** What is left of a diagram once the known facts are put in. */
export const restrict = ({ diagram: from, root, atoms, placeOf }: Restrictable, knowledge: Knowledge): Live => {
  const diagram = new Diagram();
  const components = componentsOf(atoms, knowledge);
  const fixed: (boolean | undefined)[] = atoms.map((atom) => truthOfAtom(atom, knowledge) === YES);
  for (const component of components) for (const place of component.atoms) fixed[place] = undefined;
  const { masks } = knowledge;
  const values = (variable: number): readonly number[] => positions(masks[variable] ?? 0);
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
  /** Follows what is known from the root for as long as nothing open is met: often all the way to a leaf. */
  const start = (): number => {
    let here = root;
    while (!from.isLeaf(here)) {
      const variable = from.variableOf(here);
      const branch = variable >= ATOM_BASE ? branchOfAtom(variable - ATOM_BASE) : only(masks[variable] ?? 0);
      if (branch === undefined) return here;
      here = from.branchesOf(here)[branch] ?? here;
    }
    return here;
  };
  const branchOfAtom = (place: number): number | undefined => {
    const truth = fixed[place];
    return truth === undefined ? undefined : truth ? 1 : 0;
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
    const possible = values(variable);
    const [first] = possible;
    if (possible.length === 1 && first !== undefined) return visit(branches[first] ?? at);
    return diagram.node(
      variable,
      possible.map((value) => visit(branches[value] ?? at)),
    );
  };
  return { diagram, root: visit(start()), components, choices: masks.length, values };
};
