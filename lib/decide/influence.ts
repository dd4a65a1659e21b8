import { ATOM_BASE } from "../logic/atoms.ts";
import { variablesBelow } from "../logic/diagram.ts";
import type { Live } from "./restrict.ts";

/** For each variable (choices by frame index, then components) the branches that count, as bits; EVERY for all of them. */
export type Span = readonly number[];
export const EVERY = -1;

const LEAF = 0x7fffffff;

/** Where a fact matters: the least option rank it can decide, and under which branches of the others it can matter at all. */
export interface Influence {
  /** Frame index of the fact. */
  readonly fact: number;
  readonly rank: number;
  readonly span: Span;
}

interface Difference {
  readonly rank: number;
  readonly span: Span;
}

/**
 * Finds what every open fact can decide. `rankOf` gives the rank of a leaf among the options that are left, `labelOf`
 * its decision: two leaves of the same label are the same decision.
 */
export const influencesOf = (live: Live, rankOf: (leaf: number) => number, labelOf: (leaf: number) => string): readonly Influence[] => {
  const { diagram, root, components, choices } = live;
  const everywhere: Span = new Array<number>(choices + components.length).fill(EVERY);
  const size = diagram.size();
  const pairs = new Map<number, Difference | null>();
  const placeOf = (variable: number): number => (variable < ATOM_BASE ? variable : choices + variable - ATOM_BASE);

  const unite = (span: Span, other: Span): Span => {
    if (span === other || other === everywhere || span === everywhere) return span === other ? span : everywhere;
    return span.map((bits, place) => bits | (other[place] ?? 0));
  };
  /** Joins differences found below the branches of one variable (or of none, -1): the least rank, the union of spans. */
  const join = (variable: number, below: readonly (Difference | null)[]): Difference | null => {
    let joined: Difference | null = null;
    let mask = 0;
    for (let branch = 0; branch < below.length; branch += 1) {
      const difference = below[branch] ?? null;
      if (difference === null) continue;
      mask |= 1 << branch;
      if (joined === null) joined = difference;
      else if (joined !== difference) joined = { rank: Math.min(joined.rank, difference.rank), span: unite(joined.span, difference.span) };
    }
    return joined === null || variable < 0 ? joined : narrowed(joined, variable, mask, below.length);
  };
  /** A difference that is only found under some branches of a variable. */
  const narrowed = (difference: Difference, variable: number, mask: number, branches: number): Difference => {
    if (mask === 2 ** branches - 1) return difference;
    const span = difference.span.slice();
    span[placeOf(variable)] = mask;
    return { rank: difference.rank, span };
  };
  // Looked up once for all: the walk below visits each pair of nodes and each node for each variable.
  const variables = Int32Array.from({ length: size }, (_, at) => (diagram.isLeaf(at) ? LEAF : diagram.variableOf(at)));
  const branchesOf = Array.from({ length: size }, (_, at) => diagram.branchesOf(at));

  /** Where two functions do not decide alike, with the better rank that either of them has there. */
  const differ = (a: number, b: number): Difference | null => {
    if (a === b) return null;
    const key = a < b ? a * size + b : b * size + a;
    const known = pairs.get(key);
    if (known !== undefined) return known;
    const found = differNew(a, b);
    pairs.set(key, found);
    return found;
  };
  const differNew = (a: number, b: number): Difference | null => {
    const topA = variables[a] ?? LEAF;
    const topB = variables[b] ?? LEAF;
    if (topA === LEAF && topB === LEAF) {
      const left = diagram.valueOf(a);
      const right = diagram.valueOf(b);
      return labelOf(left) === labelOf(right) ? null : { rank: Math.min(rankOf(left), rankOf(right)), span: everywhere };
    }
    const variable = Math.min(topA, topB);
    const sideA = topA === variable ? branchesOf[a] : undefined;
    const sideB = topB === variable ? branchesOf[b] : undefined;
    const count = (sideA ?? sideB ?? []).length;
    const below: (Difference | null)[] = [];
    for (let branch = 0; branch < count; branch += 1) below.push(differ(sideA?.[branch] ?? a, sideB?.[branch] ?? b));
    return join(variable, below);
  };

  /** The difference that moving between the branches of `variable` can make, seen from the root. */
  const seenFromRoot = (variable: number, allowed: (i: number, j: number) => boolean): Difference | null => {
    const memo: (Difference | null | undefined)[] = new Array(size);
    const visit = (at: number): Difference | null => {
      const top = variables[at] ?? LEAF;
      if (top > variable) return null;
      const known = memo[at];
      if (known !== undefined) return known;
      const branches = branchesOf[at] ?? [];
      const found = top === variable ? between(branches, allowed) : join(top, branches.map(visit));
      memo[at] = found;
      return found;
    };
    return visit(root);
  };
  const between = (branches: readonly number[], allowed: (i: number, j: number) => boolean): Difference | null => {
    const tried = new Set<number>();
    const found: (Difference | null)[] = [];
    for (let i = 0; i < branches.length; i += 1) {
      for (let j = i + 1; j < branches.length; j += 1) {
        const a = branches[i] ?? 0;
        const b = branches[j] ?? 0;
        const key = a < b ? a * size + b : b * size + a;
        if (a === b || tried.has(key) || !allowed(i, j)) continue;
        tried.add(key);
        found.push(differ(a, b));
      }
    }
    return join(-1, found);
  };

  const present = variablesBelow(diagram, root);
  return [...present]
    .sort((a, b) => a - b)
    .flatMap((variable): readonly Influence[] => {
      const of = (fact: number, difference: Difference | null): readonly Influence[] => {
        return difference === null ? [] : [{ fact, ...difference }];
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
