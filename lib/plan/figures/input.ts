import type { Result } from "../../kernel/result.ts";
import type { Visit } from "../../model/visit.ts";
import { type Basis, basis } from "../../rulebook/basis.ts";
import type { FigurePart, RuleBasis } from "../../rulebook/types.ts";
import type { PlanFigure } from "../schema.ts";

/** What the figures of one protection are worked out from; answers by template. */
export interface FigureInput {
  readonly answer: (template: string) => string | number | undefined;
  /** The same by any pointer of the visit file. */
  readonly answers: ReadonlyMap<string, string | number>;
  readonly set: number;
  readonly visit: Visit;
  /** Whether any of the methods that can still be chosen works like this. */
  readonly mayUse: (part: FigurePart) => boolean;
  /** The rule basis that binds; null while it is open. */
  readonly ruleBasis: RuleBasis | null;
}

export const rounded = (value: number, decimals: number): number => Math.round(value * 10 ** decimals) / 10 ** decimals;

export const figure = (
  name: string,
  value: Result<number>,
  unit: string,
  decimals: number,
  from: readonly Basis[],
  more: Partial<PlanFigure> = {},
): readonly PlanFigure[] => (value.ok ? [{ name, value: rounded(value.value, decimals), unit, ...more, basis: from }] : []);

export const numberAt = ({ answer }: FigureInput, at: string): number | undefined => {
  const value = answer(at);
  return typeof value === "number" ? value : undefined;
};

export const setPointOf = (
  input: FigureInput,
  at: { readonly setPoint: string; readonly tolerance?: string },
  name: string,
  unit: string,
): readonly PlanFigure[] => {
  const [setPoint, tolerance] = [numberAt(input, at.setPoint), at.tolerance === undefined ? undefined : numberAt(input, at.tolerance)];
  if (setPoint === undefined) return [];
  return [
    {
      name,
      value: setPoint,
      unit,
      ...(tolerance === undefined ? {} : { tolerance }),
      basis: [basis.own],
    },
  ];
};

/** How far the signal moves over the set-point tolerance. */
export const spread = (
  signal: (value: number) => Result<number>,
  setPoint: number,
  tolerance: number | undefined,
  decimals: number,
): Partial<PlanFigure> => {
  if (tolerance === undefined) return {};
  const [low, high] = [signal(setPoint - tolerance), signal(setPoint + tolerance)];
  return low.ok && high.ok ? { tolerance: rounded(Math.abs(high.value - low.value) / 2, decimals) } : {};
};

export const signalFigure = (
  name: string,
  signal: (value: number) => Result<number>,
  setPoint: number,
  tolerance: number | undefined,
  unit: string,
  decimals: number,
  from: readonly Basis[],
  note: string,
): readonly PlanFigure[] =>
  figure(name, signal(setPoint), unit, decimals, from, { ...spread(signal, setPoint, tolerance, decimals), note });
