import { clockOf } from "../plan/day/times.ts";
import type { DayHours, DayPlan } from "../plan/day/types.ts";
import type { Minute, Span } from "../schedule/problem.ts";
import { hatching, rounded } from "./hatching.ts";
import { widthOf } from "./lettering.ts";
import type { Shape, Strokes } from "./shapes.ts";

/** What a day is drawn for: a page of paper or a wide screen, or a telephone. */
export type DayFormat = "page" | "telephone";

/** Width, and how many hours stand side by side at most, so that ten minutes can be told apart on either. */
const FORMATS = { page: { width: 590, hours: 12 }, telephone: { width: 290, hours: 5 } } as const;

/** Left of it stand the figures of a course. */
const BEFORE = 37;
const BEHIND = 15;
export const LETTERS = 10;

const HOUR = 60;

/** A time across a drawing. Lanes and courses share one. */
export interface DayAxis {
  readonly width: number;
  readonly left: number;
  readonly right: number;
  readonly span: Span;
  readonly x: (at: Minute) => number;
  /** Outside the hours of the day, and breaks. */
  readonly closed: readonly Span[];
}

export const clockSpan = (from: Minute, to: Minute): string => `${clockOf(from)} to ${clockOf(to)}`;

/** What lies in a time, of times; nothing of those that only touch it. */
const within = (spans: readonly Span[], { from, to }: Span): readonly Span[] =>
  spans.flatMap((span) => {
    const cut = { from: Math.max(span.from, from), to: Math.min(span.to, to) };
    return cut.to > cut.from ? [cut] : [];
  });

/** Which day of the plan a minute belongs to: the last that has begun. */
export const dayAt = ({ days }: DayPlan, at: Minute): number =>
  Math.max(
    0,
    days.findLastIndex(({ from }) => from <= at),
  );

const closedOf = ({ from, to, breaks }: DayHours, span: Span): readonly Span[] =>
  within([{ from: span.from, to: from }, ...breaks, { from: to, to: span.to }], span);

/** The time that a day is drawn over: its hours and all its tasks, from one full hour to another. */
export const daySpan = (plan: DayPlan, day: number): Span => {
  const { from, to } = plan.days[day] ?? { from: 0, to: 0 };
  const own = plan.lines.filter(({ begins }) => dayAt(plan, begins) === day);
  const first = Math.floor(Math.min(from, ...own.map(({ begins }) => begins)) / HOUR);
  const last = Math.ceil(Math.max(to, ...own.map(({ ends }) => ends)) / HOUR);
  return { from: first * HOUR, to: Math.max(first + 1, last) * HOUR };
};

/** The time of a day over one drawing, or over several of one scale. */
export const axesOf = (plan: DayPlan, day: number, format: DayFormat): readonly DayAxis[] => {
  const hours = plan.days[day];
  if (hours === undefined) return [];
  const { from, to } = daySpan(plan, day);
  const { width, hours: most } = FORMATS[format];
  const parts = Math.ceil((to - from) / HOUR / most);
  const each = Math.ceil((to - from) / HOUR / parts) * HOUR;
  const [left, right] = [BEFORE, width - BEHIND];
  return Array.from({ length: parts }, (_, part) => {
    const begins = from + part * each;
    const span = { from: begins, to: begins + each };
    return { width, left, right, span, x: (at) => rounded(left + ((at - begins) * (right - left)) / each), closed: closedOf(hours, span) };
  });
};

const hoursOf = ({ span }: DayAxis): readonly Minute[] =>
  Array.from({ length: (span.to - span.from) / HOUR + 1 }, (_, hour) => span.from + hour * HOUR);

/** The hours in figures, every second or third only where there is no room for all. */
export const hourWords = (axis: DayAxis, y: number): readonly Shape[] => {
  const hours = hoursOf(axis);
  const apart = (axis.right - axis.left) / (hours.length - 1);
  const every = Math.ceil((widthOf("00:00", LETTERS) + 4) / apart);
  return hours.flatMap((at, place): readonly Shape[] =>
    place % every === 0 ? [{ words: clockOf(at), at: [axis.x(at), y], size: LETTERS, anchor: "middle" }] : [],
  );
};

/** What lies behind everything: a line for each hour, and wide hatching where nobody works. */
export const ground = (axis: DayAxis, top: number, height: number): readonly Strokes[] => [
  {
    strokes: hoursOf(axis).map((at) => [
      [axis.x(at), top],
      [axis.x(at), top + height],
    ]),
    pen: "thin",
  },
  ...axis.closed.map(({ from, to }) => hatching([axis.x(from), top, axis.x(to) - axis.x(from), height], CLOSED_APART)),
];

export const CLOSED_APART = 9;
