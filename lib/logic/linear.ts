/** One linear inequality Σ factors[i] · x[i] ≤ bound over the variables 0 … n-1. */
export interface Inequality {
  readonly factors: readonly number[];
  readonly bound: number;
}

const TINY = 1e-7;

const eliminate = (system: readonly Inequality[], variable: number): readonly Inequality[] => {
  const without: Inequality[] = [];
  const above: Inequality[] = [];
  const below: Inequality[] = [];
  for (const row of system) {
    const factor = row.factors[variable] ?? 0;
    if (Math.abs(factor) < TINY) without.push(row);
    else {
      const scaled = { factors: row.factors.map((f) => f / Math.abs(factor)), bound: row.bound / Math.abs(factor) };
      (factor > 0 ? above : below).push(scaled);
    }
  }
  for (const upper of above) {
    for (const lower of below) {
      without.push({
        factors: upper.factors.map((f, i) => (i === variable ? 0 : f + (lower.factors[i] ?? 0))),
        bound: upper.bound + lower.bound,
      });
    }
  }
  return without;
};

/** Of rows with the same factors only the tightest counts; rows without factors are kept, since they decide. */
const tightest = (system: readonly Inequality[]): readonly Inequality[] => {
  const rows = new Map<string, Inequality>();
  for (const row of system) {
    const largest = Math.max(...row.factors.map(Math.abs));
    const scaled = largest < TINY ? row : { factors: row.factors.map((f) => f / largest), bound: row.bound / largest };
    const key = scaled.factors.map((f) => f.toFixed(7)).join();
    const known = rows.get(key);
    if (known === undefined || scaled.bound < known.bound) rows.set(key, scaled);
  }
  return [...rows.values()];
};

/** Whether real numbers exist that fulfil all inequalities (Fourier–Motzkin elimination; meant for a handful of variables). */
export const feasible = (system: readonly Inequality[], variables: number): boolean => {
  let rest = system;
  for (let variable = 0; variable < variables; variable += 1) rest = tightest(eliminate(rest, variable));
  return rest.every((row) => row.bound >= -TINY);
};
