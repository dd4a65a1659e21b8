import { clockOf } from "../plan/day/times.ts";
import type { LoadCourse } from "../plan/day/types.ts";
import type { Minute, Span } from "../schedule/problem.ts";
import { formatNumber } from "../units/units.ts";
import type { Band } from "./band.ts";
import type { DayAxis } from "./dayAxis.ts";
import { courseBand } from "./dayCourse.ts";

/** So much is left free above the highest line. */
const ROOM = 1.08;

const kw = (value: number): string => `${formatNumber(value, 0)}\u00a0kW`;

/** Rated kW on the board from minute to minute within a time; nothing where it is not told that early. */
const stepsWithin = ({ steps }: LoadCourse, { from, to }: Span): LoadCourse["steps"] => {
  const first = steps.findLast(([at]) => at <= from)?.[1] ?? steps[0]?.[1] ?? 0;
  return [[from, first], ...steps.filter(([at]) => at > from && at < to)];
};

/** Load and capacity in words, within a time. */
export interface LoadTold {
  readonly needed: string;
  readonly least: string;
  /** What the office's limit leaves of the least. */
  readonly limit: string;
}

/** What the ship needs against the least that is on the board within a time, in words. */
export const loadTold = (load: LoadCourse, span: Span): LoadTold => {
  const [at, rated] = stepsWithin(load, span).reduce((least, step) => (step[1] < least[1] ? step : least));
  return {
    needed: kw(load.neededKw),
    least: `${kw(rated)} from ${clockOf(at)}`,
    limit: `${kw((rated * load.limitPercent) / 100)}, ${formatNumber(load.limitPercent, 0)}\u00a0% of it`,
  };
};

/** A sentence of load and capacity. */
export const loadSaid = (load: LoadCourse, span: Span): string => {
  const { needed, least, limit } = loadTold(load, span);
  return `Rated on the board, least ${least}; limit then ${limit}; the ship needs ${needed}`;
};

/** Rated on the board as steps, the limit of it beneath, and what the ship needs. */
export const loadBand = (axis: DayAxis, load: LoadCourse, tall: number): Band => {
  const { span } = axis;
  const steps = stepsWithin(load, span);
  /** Every step as two points, to where the next begins. */
  const course = (share: number): readonly (readonly [Minute, number])[] =>
    steps.flatMap(([at, rated], place) => [[at, rated * share] as const, [steps[place + 1]?.[0] ?? span.to, rated * share] as const]);
  const most = Math.max(...steps.map(([, rated]) => rated));
  return courseBand(axis, tall, {
    name: loadSaid(load, span),
    most: Math.max(most, load.neededKw, 1) * ROOM,
    least: 0,
    lines: [
      { points: course(load.limitPercent / 100), pen: "dashed" },
      { points: [span.from, span.to].map((at) => [at, load.neededKw] as const), pen: "chained" },
      { points: course(1), pen: "broad" },
    ],
    named: [load.neededKw, most, 0],
  });
};
