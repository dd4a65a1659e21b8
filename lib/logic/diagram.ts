/** More nodes than a diagram can come to have: two of them make one key that is still exact. */
const NODES = 2 ** 26;
const LEAF = Number.MAX_SAFE_INTEGER;
const NONE: readonly number[] = [];

/**
 * Reduced ordered decision diagrams with many-valued variables. A node is an integer; equal nodes are one node, so two
 * functions are equal exactly when their roots are. Leaves carry an integer. A class, because one is made for every
 * protection that is decided and closures would cost more than the work.
 */
export class Diagram {
  readonly #variables: number[] = [];
  readonly #branches: (readonly number[])[] = [];
  readonly #values: number[] = [];
  readonly #leaves = new Map<number, number>();
  readonly #unique = new Map<string, number>();
  readonly #chosen = new Map<number, Map<number, number>>();

  #add(variable: number, below: readonly number[], value: number): number {
    this.#variables.push(variable);
    this.#branches.push(below);
    this.#values.push(value);
    return this.#variables.length - 1;
  }

  leaf(value: number): number {
    const found = this.#leaves.get(value);
    if (found !== undefined) return found;
    const made = this.#add(LEAF, NONE, value);
    this.#leaves.set(value, made);
    return made;
  }

  /** A node that branches on `variable`; all branches equal gives that branch. Variables must grow downwards. */
  node(variable: number, below: readonly number[]): number {
    const first = below[0] ?? 0;
    if (below.every((branch) => branch === first)) return first;
    const key = `${variable}:${below.join(",")}`;
    const found = this.#unique.get(key);
    if (found !== undefined) return found;
    const made = this.#add(variable, below, 0);
    this.#unique.set(key, made);
    return made;
  }

  isLeaf(at: number): boolean {
    return this.#variables[at] === LEAF;
  }

  valueOf(at: number): number {
    return this.#values[at] ?? 0;
  }

  variableOf(at: number): number {
    return this.#variables[at] ?? LEAF;
  }

  branchesOf(at: number): readonly number[] {
    return this.#branches[at] ?? NONE;
  }

  /** Nodes made so far, leaves included. */
  size(): number {
    return this.#variables.length;
  }

  /** if `condition` (a diagram with leaves 0 and 1) then `yes` else `no`. */
  choose(condition: number, yes: number, no: number): number {
    if (yes === no) return yes;
    if (this.isLeaf(condition)) return this.#values[condition] === 1 ? yes : no;
    const key = condition * NODES + yes;
    const row = this.#chosen.get(key) ?? new Map<number, number>();
    this.#chosen.set(key, row);
    const found = row.get(no);
    if (found !== undefined) return found;
    const top = Math.min(this.variableOf(condition), this.variableOf(yes), this.variableOf(no));
    const widest = [condition, yes, no].find((at) => this.variableOf(at) === top) ?? condition;
    const below = this.branchesOf(widest).map((_, value) =>
      this.choose(this.#branch(condition, top, value), this.#branch(yes, top, value), this.#branch(no, top, value)),
    );
    const made = this.node(top, below);
    row.set(no, made);
    return made;
  }

  #branch(at: number, variable: number, value: number): number {
    return this.variableOf(at) === variable ? (this.branchesOf(at)[value] ?? at) : at;
  }
}

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
