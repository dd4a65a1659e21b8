import type { Atom } from "./atoms.ts";
import type { Knowledge } from "./frame.ts";
import { NO, OPEN, TOLERANCE, type Truth, YES } from "./kleene.ts";
import { feasible, type Inequality } from "./linear.ts";

/**
 * Open atoms that share open numbers, taken together: `cells` are the truth values they can have at the same time, and
 * `moves(x, i, j)` tells whether changing the x-th open number alone can lead from cell i to cell j.
 */
export interface Component {
  readonly atoms: readonly number[];
  readonly numbers: readonly number[];
  readonly cells: readonly (readonly boolean[])[];
  readonly moves: (number: number, i: number, j: number) => boolean;
}

export const truthOfAtom = (atom: Atom, { low, high }: Knowledge): Truth => {
  let least = 0;
  let most = 0;
  for (let i = 0; i < atom.indices.length; i += 1) {
    const index = atom.indices[i] ?? 0;
    const factor = atom.factors[i] ?? 0;
    least += Math.min(factor * (low[index] ?? 0), factor * (high[index] ?? 0));
    most += Math.max(factor * (low[index] ?? 0), factor * (high[index] ?? 0));
  }
  if (most <= atom.bound + TOLERANCE) return YES;
  return least > atom.bound + TOLERANCE ? NO : OPEN;
};

const openNumbers = (atom: Atom, { low, high }: Knowledge): readonly number[] => atom.indices.filter((index) => low[index] !== high[index]);

/** Groups the open atoms that share an open number. */
const grouped = (atoms: readonly Atom[], open: readonly number[], knowledge: Knowledge): readonly (readonly number[])[] => {
  const groups: { places: number[]; numbers: Set<number> }[] = [];
  for (const place of open) {
    const atom = atoms[place];
    const numbers = new Set(atom === undefined ? [] : openNumbers(atom, knowledge));
    const touching = groups.filter((group) => [...numbers].some((n) => group.numbers.has(n)));
    const merged = {
      places: [...touching.flatMap((g) => g.places), place],
      numbers: new Set([...touching.flatMap((g) => [...g.numbers]), ...numbers]),
    };
    for (const group of touching) groups.splice(groups.indexOf(group), 1);
    groups.push(merged);
  }
  return groups.map((group) => group.places.sort((a, b) => a - b));
};

/** The inequalities of one atom's truth over the columns given; known numbers move to the right-hand side. */
const rowOf = (
  atom: Atom,
  truth: boolean,
  columnOf: (index: number) => number | undefined,
  columns: number,
  { low }: Knowledge,
): Inequality => {
  const factors = new Array<number>(columns).fill(0);
  let bound = truth ? atom.bound : -(atom.bound + atom.grid);
  atom.indices.forEach((index, i) => {
    const factor = (truth ? 1 : -1) * (atom.factors[i] ?? 0);
    const column = columnOf(index);
    if (column === undefined) bound -= factor * (low[index] ?? 0);
    else factors[column] = factor;
  });
  return { factors, bound };
};

const boxOf = (
  numbers: readonly number[],
  columns: number,
  columnOf: (place: number) => number,
  { low, high }: Knowledge,
): readonly Inequality[] =>
  numbers.flatMap((index, place) => {
    const unit = new Array<number>(columns).fill(0);
    unit[columnOf(place)] = 1;
    return [
      { factors: unit, bound: high[index] ?? 0 },
      { factors: unit.map((f) => -f), bound: -(low[index] ?? 0) },
    ];
  });

const componentOf = (all: readonly Atom[], places: readonly number[], knowledge: Knowledge): Component => {
  const atoms = places.flatMap((place) => all[place] ?? []);
  const numbers = [...new Set(atoms.flatMap((atom) => openNumbers(atom, knowledge)))].sort((a, b) => a - b);
  const size = numbers.length;
  const columnOf = (index: number): number | undefined => {
    const column = numbers.indexOf(index);
    return column < 0 ? undefined : column;
  };
  const rows = (cell: readonly boolean[], column: (index: number) => number | undefined, columns: number): readonly Inequality[] =>
    cell.flatMap((truth, i) => {
      const atom = atoms[i];
      return atom === undefined ? [] : [rowOf(atom, truth, column, columns, knowledge)];
    });
  const box = boxOf(numbers, size, (place) => place, knowledge);
  const grow = (cell: readonly boolean[]): readonly (readonly boolean[])[] => {
    if (!feasible([...box, ...rows(cell, columnOf, size)], size)) return [];
    return cell.length === atoms.length ? [cell] : [false, true].flatMap((truth) => grow([...cell, truth]));
  };
  const cells = grow([]);
  const changesOnly = (moving: number, a: readonly boolean[], b: readonly boolean[]): boolean =>
    atoms.every((atom, i) => a[i] === b[i] || atom.indices.includes(numbers[moving] ?? -1));
  /** One more column holds the second value of the number that moves. */
  const reachable = (moving: number, a: readonly boolean[], b: readonly boolean[]): boolean => {
    if (!changesOnly(moving, a, b)) return false;
    const second = (index: number): number | undefined => (index === numbers[moving] ? size : columnOf(index));
    const wide = boxOf([...numbers, numbers[moving] ?? 0], size + 1, (place) => place, knowledge);
    return feasible([...wide, ...rows(a, columnOf, size + 1), ...rows(b, second, size + 1)], size + 1);
  };
  const known = new Map<number, boolean>();
  const moves = (moving: number, i: number, j: number): boolean => {
    const key = (moving * cells.length + Math.min(i, j)) * cells.length + Math.max(i, j);
    const [a, b] = [cells[i], cells[j]];
    const answer = known.get(key) ?? (a !== undefined && b !== undefined && i !== j && reachable(moving, a, b));
    known.set(key, answer);
    return answer;
  };
  return { atoms: places, numbers, cells, moves };
};

/** The components of all atoms that are still open. */
export const componentsOf = (atoms: readonly Atom[], knowledge: Knowledge): readonly Component[] => {
  const open = atoms.flatMap((atom, place) => (truthOfAtom(atom, knowledge) === OPEN ? [place] : []));
  return grouped(atoms, open, knowledge).map((places) => componentOf(atoms, places, knowledge));
};
