/**
 * Reduced ordered decision diagrams with many-valued variables. A node is an integer; equal nodes are one node, so two
 * functions are equal exactly when their roots are. Leaves carry an integer.
 */
export interface Diagram {
  readonly leaf: (value: number) => number;
  /** A node that branches on `variable`; all branches equal gives that branch. Variables must grow downwards. */
  readonly node: (variable: number, branches: readonly number[]) => number;
  readonly isLeaf: (node: number) => boolean;
  readonly valueOf: (node: number) => number;
  readonly variableOf: (node: number) => number;
  readonly branchesOf: (node: number) => readonly number[];
  /** if `condition` (a diagram with leaves 0 and 1) then `yes` else `no`. */
  readonly choose: (condition: number, yes: number, no: number) => number;
  /** Nodes made so far, leaves included. */
  readonly size: () => number;
}

const LEAF = Number.MAX_SAFE_INTEGER;
const NONE: readonly number[] = [];

export const newDiagram = (): Diagram => {
  const variables: number[] = [];
  const branches: (readonly number[])[] = [];
  const values: number[] = [];
  const leaves = new Map<number, number>();
  const unique = new Map<string, number>();
  const chosen = new Map<string, number>();

  const add = (variable: number, below: readonly number[], value: number): number => {
    variables.push(variable);
    branches.push(below);
    values.push(value);
    return variables.length - 1;
  };
  const leaf = (value: number): number => {
    const found = leaves.get(value);
    if (found !== undefined) return found;
    const made = add(LEAF, NONE, value);
    leaves.set(value, made);
    return made;
  };
  const node = (variable: number, below: readonly number[]): number => {
    const first = below[0] ?? 0;
    if (below.every((branch) => branch === first)) return first;
    const key = `${variable}:${below.join(",")}`;
    const found = unique.get(key);
    if (found !== undefined) return found;
    const made = add(variable, below, 0);
    unique.set(key, made);
    return made;
  };
  const variableOf = (at: number): number => variables[at] ?? LEAF;
  const branchesOf = (at: number): readonly number[] => branches[at] ?? NONE;
  const branch = (at: number, variable: number, value: number): number =>
    variableOf(at) === variable ? (branchesOf(at)[value] ?? at) : at;

  const choose = (condition: number, yes: number, no: number): number => {
    if (yes === no) return yes;
    if (variableOf(condition) === LEAF) return values[condition] === 1 ? yes : no;
    const key = `${condition}:${yes}:${no}`;
    const found = chosen.get(key);
    if (found !== undefined) return found;
    const top = Math.min(variableOf(condition), variableOf(yes), variableOf(no));
    const widest = [condition, yes, no].find((at) => variableOf(at) === top) ?? condition;
    const below = branchesOf(widest).map((_, value) => choose(branch(condition, top, value), branch(yes, top, value), branch(no, top, value)));
    const made = node(top, below);
    chosen.set(key, made);
    return made;
  };

  return {
    leaf,
    node,
    isLeaf: (at) => variableOf(at) === LEAF,
    valueOf: (at) => values[at] ?? 0,
    variableOf,
    branchesOf,
    choose,
    size: () => variables.length,
  };
};

const visitBelow = (diagram: Diagram, root: number, visit: (node: number) => void): void => {
  const seen = new Set<number>();
  const walk = (at: number): void => {
    if (seen.has(at)) return;
    seen.add(at);
    visit(at);
    diagram.branchesOf(at).forEach(walk);
  };
  walk(root);
};

/** How many nodes a function needs, leaves included. */
export const nodesBelow = (diagram: Diagram, root: number): number => {
  let count = 0;
  visitBelow(diagram, root, () => {
    count += 1;
  });
  return count;
};

/** The values of all leaves that some path reaches. */
export const leavesBelow = (diagram: Diagram, root: number): ReadonlySet<number> => {
  const leaves = new Set<number>();
  visitBelow(diagram, root, (at) => {
    if (diagram.isLeaf(at)) leaves.add(diagram.valueOf(at));
  });
  return leaves;
};

/** The variables that the function depends on. */
export const variablesBelow = (diagram: Diagram, root: number): ReadonlySet<number> => {
  const variables = new Set<number>();
  visitBelow(diagram, root, (at) => {
    if (!diagram.isLeaf(at)) variables.add(diagram.variableOf(at));
  });
  return variables;
};
