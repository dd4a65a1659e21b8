import type { FactSpec } from "../../lib/model/fact.ts";

/** A small fixed-seed generator, so that every run measures the same inputs. */
export const newRandom = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
};

/** Any answer that a fact may have. */
export const anyAnswer = ({ domain }: FactSpec, random: () => number): string | number => {
  if (domain.kind === "choice") return domain.values[Math.floor(random() * domain.values.length)] ?? "";
  const steps = Math.floor((domain.to - domain.from) / domain.step);
  return Number((domain.from + Math.floor(random() * (steps + 1)) * domain.step).toFixed(6));
};
