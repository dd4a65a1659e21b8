import { Diagram } from "./diagram.ts";
import type { Frame } from "./frame.ts";
import { type Bound, YES } from "./kleene.ts";

/**
 * The linear conditions of a frame in one normal form, "Σ factors × facts ≤ bound" with the first factor 1, so that a
 * condition and its opposite become the same atom. `grid` is the distance between neighbouring values of the sum.
 */
export interface Atom {
  readonly indices: readonly number[];
  readonly factors: readonly number[];
  readonly bound: number;
  readonly grid: number;
}

const SCALE = 1e6;

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

const gridOf = (frame: Frame, indices: readonly number[], factors: readonly number[]): number => {
  const steps = indices.map((index, i) => {
    const domain = frame.variables[index]?.domain;
    return Math.round(Math.abs((factors[i] ?? 0) * (domain?.kind === "number" ? domain.step : 1)) * SCALE);
  });
  return steps.reduce(gcd, 0) / SCALE;
};

/** Variables of atoms come after every choice variable of the frame. */
export const ATOM_BASE = 1000;

export interface AtomTable {
  readonly atoms: readonly Atom[];
  /** The diagram (leaves 0 and 1) of a bound condition. */
  readonly diagramOf: (bound: Bound) => number;
  readonly diagram: Diagram;
}

const EPSILON = 1e-9;

export const newAtomTable = (frame: Frame): AtomTable => {
  const diagram = new Diagram();
  const atoms: Atom[] = [];
  const places = new Map<string, number>();
  const [no, yes] = [diagram.leaf(0), diagram.leaf(1)];

  const placeOf = (atom: Atom): number => {
    const key = `${atom.indices.join()}|${atom.factors.map((f) => f.toFixed(9)).join()}|${atom.bound.toFixed(9)}`;
    const found = places.get(key);
    if (found !== undefined) return found;
    places.set(key, atoms.length);
    atoms.push(atom);
    return atoms.length - 1;
  };

  /** Σ ≤ bound as a diagram. */
  const atMost = (indices: readonly number[], factors: readonly number[], bound: number): number => {
    const order = indices.map((index, i) => ({ index, factor: factors[i] ?? 0 })).sort((a, b) => a.index - b.index);
    const lead = order[0]?.factor ?? 1;
    const normal = { indices: order.map(({ index }) => index), factors: order.map(({ factor }) => factor / lead) };
    const grid = gridOf(frame, normal.indices, normal.factors);
    const limit = bound / lead;
    if (lead > 0) return diagram.node(ATOM_BASE + placeOf({ ...normal, grid, bound: limit }), [no, yes]);
    // Σ ≥ limit, which on the grid is "not Σ ≤ the value below limit".
    const below = (Math.ceil(limit / grid - EPSILON) - 1) * grid;
    return diagram.node(ATOM_BASE + placeOf({ ...normal, grid, bound: below }), [yes, no]);
  };

  const both = (a: number, b: number): number => diagram.choose(a, b, no);
  const either = (a: number, b: number): number => diagram.choose(a, yes, b);

  const diagramOf = (bound: Bound): number => {
    switch (bound.kind) {
      case "constant":
        return bound.truth === YES ? yes : no;
      case "choice": {
        const domain = frame.variables[bound.index]?.domain;
        const size = domain?.kind === "choice" ? domain.values.length : 0;
        return diagram.node(
          bound.index,
          Array.from({ length: size }, (_, value) => ((bound.mask >> value) & 1 ? yes : no)),
        );
      }
      case "linear": {
        const upper = Number.isFinite(bound.to) ? atMost(bound.indices, bound.factors, bound.to) : yes;
        const lower = Number.isFinite(bound.from)
          ? atMost(
              bound.indices,
              bound.factors.map((f) => -f),
              -bound.from,
            )
          : yes;
        return both(upper, lower);
      }
      case "all":
        return bound.parts.map(diagramOf).reduce(both, yes);
      case "any":
        return bound.parts.map(diagramOf).reduce(either, no);
    }
  };
  return { atoms, diagramOf, diagram };
};
