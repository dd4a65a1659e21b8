import { type DayAxis, LETTERS } from "./dayAxis.ts";
import { linesOf } from "./lettering.ts";
import type { Shape } from "./shapes.ts";

/** A strip across a drawing of a day, as wide as the drawing: a lane, a course, the key. */
export interface Band {
  readonly height: number;
  readonly shapes: (top: number) => readonly Shape[];
}

const LINE = 12;
const EDGE = 2;

/** A band under its name, which stands at the left over as many lines as it wants. */
export const headed = ({ width }: DayAxis, name: string, { height, shapes }: Band): Band => {
  const lines = linesOf(name, LETTERS, width - 2 * EDGE);
  const below = lines.length * LINE + EDGE;
  return {
    height: below + height,
    shapes: (top) => [
      ...lines.map((words, place): Shape => ({ words, at: [EDGE, top + place * LINE + LETTERS - 1], size: LETTERS })),
      ...shapes(top + below),
    ],
  };
};
