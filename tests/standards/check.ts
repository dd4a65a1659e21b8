import { expect } from "vitest";
import type { Result } from "../../lib/kernel/result.ts";

/** The value of a result that has to be one; otherwise NaN, which fails every comparison. */
export const numberOf = (result: Result<number>): number => (result.ok ? result.value : Number.NaN);

/** Asserts that `result` is within `tolerance` of `expected`, both ends included but for the noise of binary fractions. */
export const within = (result: Result<number>, expected: number, tolerance: number, what: string): void => {
  expect(Math.abs(numberOf(result) - expected), `${what}: ${numberOf(result)} against ${expected}`).toBeLessThanOrEqual(tolerance + 1e-12);
};

/** The faults of a result that has to have failed, as one text; empty when it did not. */
export const faultsOf = (result: Result<unknown>): string => (result.ok ? "" : result.faults.join("; "));
