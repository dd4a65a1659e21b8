import type { Condition } from "./condition.ts";
import type { Frame, Knowledge } from "./frame.ts";

/** Three-valued truth. Kept as small integers because the verdict tables are evaluated by the million. */
export const NO = 0;
export const YES = 1;
export const OPEN = 2;
export type Truth = typeof NO | typeof YES | typeof OPEN;

/** A condition bound to a frame: pointers became indices, value sets became bit masks. */
export type Bound =
  | { readonly kind: "constant"; readonly truth: typeof NO | typeof YES }
  | { readonly kind: "choice"; readonly index: number; readonly mask: number }
  | {
      readonly kind: "linear";
      readonly indices: readonly number[];
      readonly factors: readonly number[];
      readonly from: number;
      readonly to: number;
    }
  | { readonly kind: "all"; readonly parts: readonly Bound[] }
  | { readonly kind: "any"; readonly parts: readonly Bound[] };

/** Sums of decimal factors and decimal facts are compared on this grid, so that 1.15 × 900 is 1035 and not a hair more. */
export const TOLERANCE = 1e-7;

const indexIn = (frame: Frame, at: string): number => frame.indexOf.get(at) ?? -1;

/**
 * Binds a condition to a frame. A pointer that the frame does not hold, or a value outside its domain, makes that
 * leaf false; a test over the rulebook shows that neither occurs.
 */
export const bind = (frame: Frame, condition: Condition): Bound => {
  if (condition === true) return { kind: "constant", truth: YES };
  if ("all" in condition) return { kind: "all", parts: condition.all.map((part) => bind(frame, part)) };
  if ("any" in condition) return { kind: "any", parts: condition.any.map((part) => bind(frame, part)) };
  if ("sum" in condition) {
    const indices = condition.sum.map(([, at]) => indexIn(frame, at));
    if (indices.includes(-1)) return { kind: "constant", truth: NO };
    const factors = condition.sum.map(([factor]) => factor);
    return { kind: "linear", indices, factors, from: Number.NEGATIVE_INFINITY, to: condition.to };
  }
  const index = indexIn(frame, condition.at);
  if (index < 0) return { kind: "constant", truth: NO };
  if ("is" in condition) {
    const domain = frame.variables[index]?.domain;
    let mask = 0;
    if (domain?.kind === "choice") {
      for (const value of condition.is) {
        const position = domain.values.indexOf(value);
        if (position >= 0) mask |= 1 << position;
      }
    }
    return { kind: "choice", index, mask };
  }
  return {
    kind: "linear",
    indices: [index],
    factors: [1],
    from: condition.from ?? Number.NEGATIVE_INFINITY,
    to: condition.to ?? Number.POSITIVE_INFINITY,
  };
};

const truthOfLinear = (bound: Extract<Bound, { kind: "linear" }>, { low, high }: Knowledge): Truth => {
  let least = 0;
  let most = 0;
  for (let i = 0; i < bound.indices.length; i += 1) {
    const index = bound.indices[i] ?? 0;
    const factor = bound.factors[i] ?? 0;
    const atLow = factor * (low[index] ?? 0);
    const atHigh = factor * (high[index] ?? 0);
    least += Math.min(atLow, atHigh);
    most += Math.max(atLow, atHigh);
  }
  if (most <= bound.to + TOLERANCE && least >= bound.from - TOLERANCE) return YES;
  if (least > bound.to + TOLERANCE || most < bound.from - TOLERANCE) return NO;
  return OPEN;
};

/** Kleene truth of a bound condition: exact where no fact stands in it twice. */
export const truthOf = (bound: Bound, knowledge: Knowledge): Truth => {
  switch (bound.kind) {
    case "constant":
      return bound.truth;
    case "choice": {
      const mask = knowledge.masks[bound.index] ?? 0;
      if ((mask & bound.mask) === 0) return NO;
      return (mask & ~bound.mask) === 0 ? YES : OPEN;
    }
    case "linear":
      return truthOfLinear(bound, knowledge);
    case "all": {
      let truth: Truth = YES;
      for (const part of bound.parts) {
        const found = truthOf(part, knowledge);
        if (found === NO) return NO;
        if (found === OPEN) truth = OPEN;
      }
      return truth;
    }
    case "any": {
      let truth: Truth = NO;
      for (const part of bound.parts) {
        const found = truthOf(part, knowledge);
        if (found === YES) return YES;
        if (found === OPEN) truth = OPEN;
      }
      return truth;
    }
  }
};

/** Marks in `seen` every fact that an open condition still hangs on. */
export const markOpen = (bound: Bound, knowledge: Knowledge, seen: Uint8Array): void => {
  if (truthOf(bound, knowledge) !== OPEN) return;
  if (bound.kind === "choice") seen[bound.index] = 1;
  else if (bound.kind === "linear") {
    for (const index of bound.indices) if (knowledge.low[index] !== knowledge.high[index]) seen[index] = 1;
  } else if (bound.kind === "all" || bound.kind === "any") {
    for (const part of bound.parts) markOpen(part, knowledge, seen);
  }
};

/** Marks every fact that a reader of the condition, from left to right, must look at to know its truth. */
export const markRead = (bound: Bound, knowledge: Knowledge, seen: Uint8Array): void => {
  if (bound.kind === "choice") seen[bound.index] = 1;
  else if (bound.kind === "linear") for (const index of bound.indices) seen[index] = 1;
  else if (bound.kind === "all" || bound.kind === "any") {
    const deciding = bound.kind === "all" ? NO : YES;
    for (const part of bound.parts) {
      markRead(part, knowledge, seen);
      if (truthOf(part, knowledge) === deciding) return;
    }
  }
};
