import { loadLeftDrawing } from "../../drawing/loadLeft.ts";
import type { Drawing } from "../../drawing/shapes.ts";
import { startsDrawing } from "../../drawing/startsInStore.ts";
import { loadLeft } from "../../figures/loadLeft.ts";
import { loadBeside, motoringPower } from "../../model/carrying.ts";
import type { ReadVisit } from "../../model/read.ts";
import { STARTS_OF_DAY } from "../../plan/figures/day.ts";
import type { Plan } from "../../plan/schema.ts";
import { formatNumber } from "../../units/units.ts";

/** A drawing of a plan's figures with the table that says the same. */
export interface Drawn {
  readonly title: string;
  readonly drawing: Drawing;
  readonly rows: readonly (readonly [what: string, amount: string])[];
}

const kw = (value: number): string => `${formatNumber(value, 1)} kW`;

/** The load that the others carry while a set is motored; null where a power of it is not known. */
export const loadDrawn = (read: ReadVisit, set: number): Drawn | null => {
  const motoringKw = motoringPower(read.answers, set);
  if (motoringKw === undefined) return null;
  const input = loadBeside(read.answers, read.visit.sets.length, set, { motoringKw, limitPercent: read.visit.policy.loadLimit });
  const left = input === undefined ? null : loadLeft(input);
  if (input === undefined || left === null || !left.ok) return null;
  return {
    title: `${read.visit.sets[set]?.name ?? ""}: load on the others while it is motored`,
    drawing: loadLeftDrawing(input, left.value),
    rows: [
      ["Ship’s load", kw(input.shipLoadKw)],
      ["Set motored", kw(input.motoringKw)],
      ["Largest consumer that starts by itself", kw(input.largestStarterKw)],
      ["Together", kw(left.value.totalKw)],
      ["Rating of the others", kw(input.remainingRatedKw.reduce((sum, one) => sum + one, 0))],
      ["Load of their rating", `${formatNumber(left.value.percent, 1)} %`],
      ["Office’s limit", `${formatNumber(input.limitPercent, 0)} %`],
    ],
  };
};

type Figures = Plan["figures"];

const amountIn = (figures: Figures, name: string): number | null => {
  const value = figures.find((figure) => figure.name === name)?.value;
  return typeof value === "number" ? value : null;
};

const starts = (title: string, given: number, wanted: number): Drawn => ({
  title,
  drawing: startsDrawing(given, wanted),
  rows: [
    ["Starts in store", String(given)],
    ["Starts wanted by the planned tests", String(wanted)],
    ["Left, recharging not counted", String(given - wanted)],
  ],
});

/** Starts in each store against those wanted, where the store is known. */
export const startsDrawn = ({ sets, figures }: Plan, { answers }: ReadVisit): readonly Drawn[] => {
  const own = sets.flatMap((set): readonly Drawn[] => {
    const [given, wanted] = [amountIn(set.figures, "starts in its own store"), amountIn(set.figures, STARTS_OF_DAY)];
    return given === null || wanted === null ? [] : [starts(`${set.name}: starts in its own store`, given, wanted)];
  });
  const common = amountIn(figures, "starts in the common store");
  const wanted = sets.reduce((sum, set, place) => {
    const apart = set.role !== "ship service" || answers.get(`/sets/${place}/start/store`) === "its own";
    return apart ? sum : sum + (amountIn(set.figures, STARTS_OF_DAY) ?? 0);
  }, 0);
  return [...(common === null ? [] : [starts("Starts in the common store", common, wanted)]), ...own];
};
