import type { Point, Strokes } from "./shapes.ts";

/** To a hundredth: finer than any pen, and short to write. */
export const rounded = (value: number): number => Math.round(value * 100) / 100;

/** Lines across a box, rising, so far apart; they stand where they would on the whole drawing, so that neighbours meet. */
export const hatching = (
  [left, top, width, height]: readonly [x: number, y: number, width: number, height: number],
  apart: number,
): Strokes => {
  const [right, bottom] = [left + width, top + height];
  const strokes: (readonly Point[])[] = [];
  // On one line x and y have one sum.
  for (let sum = Math.ceil((left + top) / apart) * apart; sum <= right + bottom; sum += apart) {
    const [from, to] = [Math.max(left, sum - bottom), Math.min(right, sum - top)];
    if (to > from)
      strokes.push([
        [rounded(from), rounded(sum - from)],
        [rounded(to), rounded(sum - to)],
      ]);
  }
  return { strokes, pen: "thin" };
};
