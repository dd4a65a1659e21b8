import { ATOM_BASE } from "../logic/atoms.ts";
import { variablesBelow } from "../logic/diagram.ts";
import type { Live } from "./restrict.ts";
import { type Span, SpanTable } from "./spans.ts";

const LEAF = 0x7fffffff;

/** Where a fact matters: the least option rank it can decide, and under which branches of the others it can matter at all. */
export interface Influence {
  /** Frame index of the fact. */
  readonly fact: number;
  readonly rank: number;
  readonly span: Span;
}

/** A difference between two functions as one number: rank × RANK + number of the span; NONE where they decide alike. */
type Difference = number;
const NONE: Difference = -1;
const RANK = 2 ** 22;
const rankIn = (difference: Difference): number => Math.floor(difference / RANK);
const spanIn = (difference: Difference): number => difference % RANK;

/**
 * Finds what every open fact can decide. `rankOf` gives the rank of a leaf among the options that are left, `labelOf`
 * its decision: two leaves of the same label are the same decision.
 */
export const influencesOf = (live: Live, rankOf: (leaf: number) => number, labelOf: (leaf: number) => string): readonly Influence[] => {
  const { diagram, root, components, choices } = live;
  const spans = new SpanTable(choices + components.length);
  const size = diagram.size();
  const pairs = new Map<number, Difference>();
  const placeOf = (variable: number): number => (variable < ATOM_BASE ? variable : choices + variable - ATOM_BASE);

  /** Both together: the better rank, the branches of either. */
  const joined = (a: Difference, b: Difference): Difference => {
    if (a === b || b === NONE) return a;
    if (a === NONE) return b;
    return Math.min(rankIn(a), rankIn(b)) * RANK + spans.unite(spanIn(a), spanIn(b));
  };
  /** A difference that was only found under the branches in `mask` of a variable with so many of them. */
  const under = (difference: Difference, variable: number, mask: number, branches: number): Difference =>
    difference === NONE || mask === 2 ** branches - 1
      ? difference
      : difference - spanIn(difference) + spans.narrow(spanIn(difference), placeOf(variable), mask);
  // Looked up once for all: the walk below visits each pair of nodes and each node for each variable.
  const variables = Int32Array.from({ length: size }, (_, at) => (diagram.isLeaf(at) ? LEAF : diagram.variableOf(at)));
  const branchesOf = Array.from({ length: size }, (_, at) => diagram.branchesOf(at));

  /** Where two functions do not decide alike, with the better rank that either of them has there. */
  const differ = (a: number, b: number): Difference => {
    if (a === b) return NONE;
    const key = a < b ? a * size + b : b * size + a;
    const known = pairs.get(key);
    if (known !== undefined) return known;
    const found = differNew(a, b);
    pairs.set(key, found);
    return found;
  };
  const differNew = (a: number, b: number): Difference => {
    const topA = variables[a] ?? LEAF;
    const topB = variables[b] ?? LEAF;
    if (topA === LEAF && topB === LEAF) {
      const left = diagram.valueOf(a);
      const right = diagram.valueOf(b);
      return labelOf(left) === labelOf(right) ? NONE : Math.min(rankOf(left), rankOf(right)) * RANK + SpanTable.EVERYWHERE;
    }
    const variable = Math.min(topA, topB);
    const sideA = topA === variable ? branchesOf[a] : undefined;
    const sideB = topB === variable ? branchesOf[b] : undefined;
    const count = (sideA ?? sideB ?? []).length;
    let found: Difference = NONE;
    let mask = 0;
    for (let branch = 0; branch < count; branch += 1) {
      const below = differ(sideA?.[branch] ?? a, sideB?.[branch] ?? b);
      if (below === NONE) continue;
      mask |= 1 << branch;
      found = joined(found, below);
    }
    return under(found, variable, mask, count);
  };

  /** The difference that moving between the branches of `variable` can make, seen from the root. */
  const seenFromRoot = (variable: number, allowed: (i: number, j: number) => boolean): Difference => {
    const memo = new Map<number, Difference>();
    const visit = (at: number): Difference => {
      const top = variables[at] ?? LEAF;
      if (top > variable) return NONE;
      const known = memo.get(at);
      if (known !== undefined) return known;
      const branches = branchesOf[at] ?? [];
      const found = top === variable ? between(branches, allowed) : below(branches, top);
      memo.set(at, found);
      return found;
    };
    const below = (branches: readonly number[], top: number): Difference => {
      let found: Difference = NONE;
      let mask = 0;
      for (let branch = 0; branch < branches.length; branch += 1) {
        const difference = visit(branches[branch] ?? 0);
        if (difference === NONE) continue;
        mask |= 1 << branch;
        found = joined(found, difference);
      }
      return under(found, top, mask, branches.length);
    };
    return visit(root);
  };
  const between = (branches: readonly number[], allowed: (i: number, j: number) => boolean): Difference => {
    const tried = new Set<number>();
    let found: Difference = NONE;
    for (let i = 0; i < branches.length; i += 1) {
      for (let j = i + 1; j < branches.length; j += 1) {
        const a = branches[i] ?? 0;
        const b = branches[j] ?? 0;
        const key = a < b ? a * size + b : b * size + a;
        if (a === b || tried.has(key) || !allowed(i, j)) continue;
        tried.add(key);
        found = joined(found, differ(a, b));
      }
    }
    return found;
  };

  const present = variablesBelow(diagram, root);
  return [...present]
    .sort((a, b) => a - b)
    .flatMap((variable): readonly Influence[] => {
      const of = (fact: number, difference: Difference): readonly Influence[] => {
        return difference === NONE ? [] : [{ fact, rank: rankIn(difference), span: spans.at(spanIn(difference)) }];
      };
      if (variable < ATOM_BASE)
        return of(
          variable,
          seenFromRoot(variable, () => true),
        );
      const component = components[variable - ATOM_BASE];
      return (component?.numbers ?? []).flatMap((fact, place) =>
        of(
          fact,
          seenFromRoot(variable, (i, j) => component?.moves(place, i, j) === true),
        ),
      );
    });
};
