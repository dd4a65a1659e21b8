import { rowOf } from "../../lib/drawing/dayLanes.ts";
import { clockOf, dateOf } from "../../lib/plan/day/times.ts";
import type { DayLine, DayPlan } from "../../lib/plan/day/types.ts";
import type { Minute } from "../../lib/schedule/problem.ts";

/** Moved less than this, in pixels, a bar was pressed and not dragged. */
const LEAST = 6;
/** A bar is let go on a time of whole five minutes. */
const STEP = 5;

/** A bar that is held. */
export interface Held {
  readonly line: DayLine;
  readonly bar: SVGGraphicsElement;
  /** Where it was taken hold of. */
  readonly x: number;
  readonly pixelsPerMinute: number;
}

const BAR = "a[href^='#task-']";

const lineOf = (bar: Element, { lines }: DayPlan): DayLine | undefined => {
  const row = bar.getAttribute("href")?.slice(1);
  return lines.find(({ id }) => rowOf(id) === row);
};

/** The scale of the drawing that a bar stands in, from where two of its bars begin. */
const scaleIn = (drawing: Element, plan: DayPlan): number => {
  const begins = [...drawing.querySelectorAll(BAR)].flatMap((bar): readonly (readonly [Minute, number])[] => {
    const line = lineOf(bar, plan);
    return line === undefined ? [] : [[line.begins, bar.getBoundingClientRect().left]];
  });
  const sorted = begins.toSorted(([one], [other]) => one - other);
  const [first, last] = [sorted[0], sorted.at(-1)];
  return first === undefined || last === undefined || last[0] === first[0] ? 0 : (last[1] - first[1]) / (last[0] - first[0]);
};

/** The bar under the pointer, where it can be dragged; a finger scrolls and drags nothing. */
export const heldAt = (
  target: EventTarget,
  pointer: { readonly pointerType: string; readonly button: number; readonly clientX: number },
  plan: DayPlan,
): Held | undefined => {
  if (pointer.pointerType === "touch" || pointer.button !== 0 || !(target instanceof Element)) return undefined;
  const bar = target.closest<SVGGraphicsElement>(BAR);
  const [line, drawing] = [bar === null ? undefined : lineOf(bar, plan), bar?.closest("svg")];
  if (bar === null || line === undefined || !drawing) return undefined;
  const pixelsPerMinute = scaleIn(drawing, plan);
  return pixelsPerMinute > 0 ? { line, bar, x: pointer.clientX, pixelsPerMinute } : undefined;
};

/** Whether a bar was moved at all. */
export const isMoved = ({ x }: Held, at: number): boolean => Math.abs(at - x) >= LEAST;

/** The time to which a bar was dragged, as the field of a form wants it: "2026-03-24T13:00". */
export const draggedTo = ({ line, x, pixelsPerMinute }: Held, at: number, first: string): string => {
  const minute = Math.round((line.begins + (at - x) / pixelsPerMinute) / STEP) * STEP;
  return `${dateOf(minute, first)}T${clockOf(minute)}`;
};
