import type { Condition } from "./condition.ts";
import type { Frame, Knowledge } from "./frame.ts";
import { type Bound, OPEN, truthOf, YES } from "./kleene.ts";

const NEVER: Condition = { any: [] };
const EPSILON = 1e-9;

const stepOf = (frame: Frame, index: number): number => {
  const domain = frame.variables[index]?.domain;
  return domain?.kind === "number" ? domain.step : 1;
};

const tidy = (value: number): number => Number(value.toFixed(6));

const residualLinear = (frame: Frame, bound: Extract<Bound, { kind: "linear" }>, { low, high }: Knowledge): Condition => {
  let known = 0;
  const terms: [number, number][] = [];
  bound.indices.forEach((index, i) => {
    const factor = bound.factors[i] ?? 0;
    if (low[index] === high[index]) known += factor * (low[index] ?? 0);
    else terms.push([factor, index]);
  });
  const [first, ...more] = terms;
  if (first !== undefined && more.length === 0) {
    const [factor, index] = first;
    const step = stepOf(frame, index);
    const at = frame.variables[index]?.at ?? "";
    const edge = (limit: number): number => (limit - known) / factor;
    const down = (value: number): number => tidy(Math.floor(value / step + EPSILON) * step);
    const up = (value: number): number => tidy(Math.ceil(value / step - EPSILON) * step);
    const upper = factor > 0 ? bound.to : bound.from;
    const lower = factor > 0 ? bound.from : bound.to;
    return {
      at,
      ...(Number.isFinite(lower) ? { from: up(edge(lower)) } : {}),
      ...(Number.isFinite(upper) ? { to: down(edge(upper)) } : {}),
    };
  }
  const sum = (sign: number, to: number): Condition => ({
    sum: terms.map(([factor, index]) => [sign * factor, frame.variables[index]?.at ?? ""] as const),
    to: tidy(to),
  });
  const parts = [
    ...(Number.isFinite(bound.to) ? [sum(1, bound.to - known)] : []),
    ...(Number.isFinite(bound.from) ? [sum(-1, known - bound.from)] : []),
  ];
  return parts.length === 1 && parts[0] !== undefined ? parts[0] : { all: parts };
};

/** The values among a choice's that a mask names and that are still possible. */
const namesOf = (frame: Frame, index: number, mask: number): readonly string[] => {
  const domain = frame.variables[index]?.domain;
  return domain?.kind === "choice" ? domain.values.filter((_, position) => (mask >> position) & 1) : [];
};

const isCondition = (condition: Condition): condition is { readonly at: string; readonly is: readonly string[] } =>
  typeof condition === "object" && "is" in condition;

/** Puts conjuncts together: one set of values for each fact, nothing twice, nested "all" opened. */
export const conjunction = (parts: readonly Condition[]): Condition => {
  const flat = parts.flatMap((part): readonly Condition[] =>
    typeof part === "object" && "all" in part ? part.all : part === true ? [] : [part],
  );
  const kept: Condition[] = [];
  for (const part of flat) {
    const same = isCondition(part) ? kept.findIndex((other) => isCondition(other) && other.at === part.at) : -1;
    const other = kept[same];
    if (isCondition(part) && other !== undefined && isCondition(other))
      kept[same] = { at: part.at, is: other.is.filter((value) => part.is.includes(value)) };
    else if (!kept.some((known) => JSON.stringify(known) === JSON.stringify(part))) kept.push(part);
  }
  if (
    kept.some((part) => (typeof part === "object" && "any" in part && part.any.length === 0) || (isCondition(part) && part.is.length === 0))
  )
    return NEVER;
  const [only] = kept;
  if (only === undefined) return true;
  return kept.length === 1 ? only : { all: kept };
};

const factorsOf = (condition: Condition): readonly Condition[] =>
  typeof condition === "object" && "all" in condition ? condition.all : [condition];

/** How many values of a choice are possible at all; a set of that many says nothing. */
export type PossibleValues = (at: string) => number;

/** Two conjunctions that differ only in the values of one fact become one. */
const merged = (a: Condition, b: Condition, possible: PossibleValues): Condition | null => {
  const [left, right] = [factorsOf(a), factorsOf(b)];
  const keys = new Set(right.map((part) => JSON.stringify(part)));
  const onlyLeft = left.filter((part) => !keys.has(JSON.stringify(part)));
  const leftKeys = new Set(left.map((part) => JSON.stringify(part)));
  const onlyRight = right.filter((part) => !leftKeys.has(JSON.stringify(part)));
  if (onlyLeft.length === 0) return a;
  if (onlyRight.length === 0) return b;
  const [x, y] = [onlyLeft[0], onlyRight[0]];
  if (onlyLeft.length !== 1 || onlyRight.length !== 1 || x === undefined || y === undefined) return null;
  if (!isCondition(x) || !isCondition(y) || x.at !== y.at) return null;
  const union = { at: x.at, is: [...x.is, ...y.is.filter((value) => !x.is.includes(value))] };
  return conjunction(left.flatMap((part) => (part !== x ? [part] : union.is.length === possible(union.at) ? [] : [union])));
};

/** Either of several conditions, those that differ in one fact's values put together. */
export const disjunction = (parts: readonly Condition[], possible: PossibleValues): Condition => {
  const kept: Condition[] = [];
  for (const part of parts) {
    if (part === true) return true;
    let here: Condition = part;
    for (let i = 0; i < kept.length; i += 1) {
      const other = kept[i];
      const one: Condition | null = other === undefined ? null : merged(other, here, possible);
      if (one !== null) {
        kept.splice(i, 1);
        here = one;
        i = -1;
      }
    }
    if (here === true) return true;
    kept.push(here);
  }
  const [only] = kept;
  return kept.length === 1 && only !== undefined ? only : { any: kept };
};

const bitsIn = (mask: number): number => (mask === 0 ? 0 : (mask & 1) + bitsIn(mask >>> 1));

export const possibleIn =
  (frame: Frame, knowledge: Knowledge): PossibleValues =>
  (at) =>
    bitsIn(knowledge.masks[frame.indexOf.get(at) ?? -1] ?? 0);

/** What is left of a condition once the known facts are put in; pointers are those of the frame. */
export const residual = (frame: Frame, bound: Bound, knowledge: Knowledge): Condition => {
  const truth = truthOf(bound, knowledge);
  if (truth !== OPEN) return truth === YES ? true : NEVER;
  switch (bound.kind) {
    case "constant":
      return bound.truth === YES ? true : NEVER;
    case "choice": {
      const possible = knowledge.masks[bound.index] ?? 0;
      return { at: frame.variables[bound.index]?.at ?? "", is: namesOf(frame, bound.index, bound.mask & possible) };
    }
    case "linear":
      return residualLinear(frame, bound, knowledge);
    case "all":
      return conjunction(bound.parts.map((part) => residual(frame, part, knowledge)));
    case "any": {
      const open = bound.parts.filter((part) => truthOf(part, knowledge) === OPEN).map((part) => residual(frame, part, knowledge));
      return disjunction(open, possibleIn(frame, knowledge));
    }
  }
};
