import { ATOM_BASE } from "../logic/atoms.ts";
import { variablesBelow } from "../logic/diagram.ts";
import type { Live } from "./restrict.ts";

/**
 * Where a fact matters: the least option rank it can decide, and for each other open variable the branches under which
 * it can matter at all (absent: all of them).
 */
export interface Influence {
  /** Frame index of the fact. */
  readonly fact: number;
  readonly rank: number;
  readonly span: ReadonlyMap<number, number>;
}

interface Difference {
  readonly rank: number;
  readonly span: ReadonlyMap<number, number>;
}

const EVERYWHERE: ReadonlyMap<number, number> = new Map();

const full = (branches: number): number => 2 ** branches - 1;

/** Joins differences found below the branches of one variable: ranks by the least, spans by union. */
const join = (variable: number, branches: number, below: readonly (Difference | null)[]): Difference | null => {
  const found = below.filter((difference) => difference !== null);
  const first = found[0];
  if (first === undefined) return null;
  const span = new Map<number, number>();
  for (const [other, mask] of first.span) {
    let union = mask;
    let everywhere = false;
    for (const difference of found) {
      const here = difference.span.get(other);
      if (here === undefined) everywhere = true;
      else union |= here;
    }
    if (!everywhere) span.set(other, union);
  }
  const mask = below.reduce((bits, difference, branch) => (difference === null ? bits : bits | (1 << branch)), 0);
  if (mask !== full(branches)) span.set(variable, mask);
  return { rank: Math.min(...found.map(({ rank }) => rank)), span };
};

/**
 * Finds what every open fact can decide. `rankOf` gives the rank of a leaf among the options that are left, `labelOf`
 * its decision: two leaves of the same label are the same decision.
 */
export const influencesOf = (live: Live, rankOf: (leaf: number) => number, labelOf: (leaf: number) => string): readonly Influence[] => {
  const { diagram, root, components } = live;
  const pairs = new Map<number, Map<number, Difference | null>>();

  const differ = (a: number, b: number): Difference | null => {
    if (a === b) return null;
    const [low, high] = a < b ? [a, b] : [b, a];
    const row = pairs.get(low) ?? new Map<number, Difference | null>();
    pairs.set(low, row);
    const known = row.get(high);
    if (known !== undefined) return known;
    const found = differNew(low, high);
    row.set(high, found);
    return found;
  };
  const differNew = (a: number, b: number): Difference | null => {
    if (diagram.isLeaf(a) && diagram.isLeaf(b)) {
      const [left, right] = [diagram.valueOf(a), diagram.valueOf(b)];
      if (labelOf(left) === labelOf(right)) return null;
      return { rank: Math.min(rankOf(left), rankOf(right)), span: EVERYWHERE };
    }
    const variable = Math.min(diagram.variableOf(a), diagram.variableOf(b));
    const sideA = diagram.variableOf(a) === variable ? diagram.branchesOf(a) : null;
    const sideB = diagram.variableOf(b) === variable ? diagram.branchesOf(b) : null;
    const size = (sideA ?? sideB ?? []).length;
    const below = Array.from({ length: size }, (_, branch) => differ(sideA?.[branch] ?? a, sideB?.[branch] ?? b));
    return join(variable, size, below);
  };

  /** The difference that moving between the branches of `variable` can make, seen from a node. */
  const seenFrom = (variable: number, allowed: (i: number, j: number) => boolean): Difference | null => {
    const memo = new Map<number, Difference | null>();
    const visit = (at: number): Difference | null => {
      if (diagram.variableOf(at) > variable) return null;
      const known = memo.get(at);
      if (known !== undefined) return known;
      const branches = diagram.branchesOf(at);
      const found = diagram.variableOf(at) === variable ? between(branches, allowed) : join(diagram.variableOf(at), branches.length, branches.map(visit));
      memo.set(at, found);
      return found;
    };
    return visit(root);
  };
  const between = (branches: readonly number[], allowed: (i: number, j: number) => boolean): Difference | null => {
    const tried = new Set<number>();
    const found: (Difference | null)[] = [];
    branches.forEach((a, i) => {
      for (let j = i + 1; j < branches.length; j += 1) {
        const b = branches[j] ?? a;
        const key = a < b ? a * 1e7 + b : b * 1e7 + a;
        if (a === b || tried.has(key) || !allowed(i, j)) continue;
        tried.add(key);
        found.push(differ(a, b));
      }
    });
    return join(-1, found.length, found.filter((difference) => difference !== null));
  };

  const present = variablesBelow(diagram, root);
  return [...present].sort((a, b) => a - b).flatMap((variable): readonly Influence[] => {
    const of = (fact: number, difference: Difference | null): readonly Influence[] => {
      if (difference === null) return [];
      const span = new Map([...difference.span].filter(([other]) => other >= 0));
      return [{ fact, rank: difference.rank, span }];
    };
    if (variable < ATOM_BASE) return of(variable, seenFrom(variable, () => true));
    const component = components[variable - ATOM_BASE];
    return (component?.numbers ?? []).flatMap((fact, place) =>
      of(fact, seenFrom(variable, (i, j) => component?.moves[place]?.[i]?.[j] === true || component?.moves[place]?.[j]?.[i] === true)),
    );
  });
};
