import { clockOf } from "../plan/day/times.ts";
import type { StoreCourse } from "../plan/day/types.ts";
import type { Minute, Span } from "../schedule/problem.ts";
import { formatNumber } from "../units/units.ts";
import { type Band, headed } from "./band.ts";
import type { DayAxis } from "./dayAxis.ts";
import { courseBand } from "./dayCourse.ts";

/** What is in a store at a minute, straight between the points that are told. */
const levelAt = ({ points, holds }: StoreCourse, at: Minute): number => {
  const after = points.findIndex(([minute]) => minute > at);
  const [before, next] = [after < 0 ? points.at(-1) : points[after - 1], points[after]];
  if (before === undefined) return next?.[1] ?? holds;
  if (next === undefined || next[0] === before[0]) return before[1];
  return before[1] + ((next[1] - before[1]) * (at - before[0])) / (next[0] - before[0]);
};

/** The course of a store within a time, from edge to edge. */
const within = (store: StoreCourse, { from, to }: Span): StoreCourse["points"] => [
  [from, levelAt(store, from)],
  ...store.points.filter(([at]) => at > from && at <= to),
  [to, levelAt(store, to)],
];

/** An amount in a store as its gauge shows it, else in starts. */
const onGauge = ({ gauge, holds }: StoreCourse, level: number): number =>
  gauge === undefined ? level : gauge.empty + (level * (gauge.full - gauge.empty)) / (holds || 1);

const unitOf = ({ gauge }: StoreCourse): string => gauge?.unit ?? "starts";

/** A level in words: "24.5 bar", "1 start". */
const levelWords = (store: StoreCourse, level: number): string => {
  const amount = formatNumber(onGauge(store, level), 1);
  return `${amount}\u00a0${store.gauge === undefined && amount === "1" ? "start" : unitOf(store)}`;
};

/** A store in words: what it holds, its floor, and the lowest and highest that it comes to within a time. */
export interface StoreTold {
  readonly full: string;
  readonly floor: string;
  readonly lowest: string;
  readonly highest: string;
}

/** A store within a time, in words. */
export const storeTold = (store: StoreCourse, span: Span): StoreTold => {
  const points = within(store, span);
  const told = (better: (level: number, than: number) => boolean): string => {
    const [at, level] = points.reduce((best, point) => (better(point[1], best[1]) ? point : best));
    return `${levelWords(store, level)} at ${clockOf(at)}`;
  };
  return {
    full: levelWords(store, store.holds),
    floor: levelWords(store, store.floor),
    lowest: told((level, than) => level < than),
    highest: told((level, than) => level > than),
  };
};

const staysFull = (store: StoreCourse, span: Span): boolean => within(store, span).every(([, level]) => level >= store.holds);

/** A sentence of a store's course. */
export const storeSaid = (store: StoreCourse, span: Span): string => {
  const { full, floor, lowest } = storeTold(store, span);
  return `${store.label}: full ${full}, floor ${floor}, ${staysFull(store, span) ? "nothing drawn" : `lowest ${lowest}`}`;
};

/** The course of a store with its floor and what it holds; of one that stays full the sentence alone. */
export const storeBand = (axis: DayAxis, store: StoreCourse, tall: number): Band => {
  const { span } = axis;
  if (staysFull(store, span)) return headed(axis, storeSaid(store, span), { height: 5, shapes: () => [] });
  const level = (amount: number) => [span.from, span.to].map((at) => [at, onGauge(store, amount)] as const);
  return courseBand(axis, tall, {
    name: storeSaid(store, span),
    most: onGauge(store, store.holds),
    least: onGauge(store, 0),
    lines: [
      { points: level(store.floor), pen: "dashed" },
      { points: within(store, span).map(([at, amount]) => [at, onGauge(store, amount)] as const), pen: "heavy" },
    ],
    named: [store.floor, store.holds, 0].map((amount) => onGauge(store, amount)),
  });
};
