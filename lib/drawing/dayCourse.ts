import { formatNumber } from "../units/units.ts";
import { type Band, headed } from "./band.ts";
import { type DayAxis, ground } from "./dayAxis.ts";
import { rounded } from "./hatching.ts";
import type { Point, Shape, Strokes } from "./shapes.ts";

const GAP = 8;
const SIZE = 9;

/** Amounts over time, drawn over the axis of the lanes. */
export interface Course {
  readonly name: string;
  /** At the upper and the lower edge. */
  readonly most: number;
  readonly least: number;
  readonly lines: readonly {
    readonly points: readonly (readonly [at: number, amount: number])[];
    readonly pen: NonNullable<Strokes["pen"]>;
  }[];
  /** Amounts that are named at the left, the weightiest first. */
  readonly named: readonly number[];
}

/** What is named, without what would stand in something weightier. */
const apart = (places: readonly (readonly [amount: number, y: number])[]): readonly (readonly [amount: number, y: number])[] => {
  const kept: (readonly [amount: number, y: number])[] = [];
  for (const place of places) if (kept.every(([, y]) => Math.abs(y - place[1]) >= SIZE)) kept.push(place);
  return kept;
};

/** Courses over the time of an axis, so tall, with their amounts at the left. */
export const courseBand = (axis: DayAxis, tall: number, { name, most, least, lines, named }: Course): Band =>
  headed(axis, name, {
    height: tall + GAP,
    shapes: (top) => {
      const y = (amount: number): number => rounded(top + tall - ((amount - least) * tall) / (most - least || 1));
      return [
        ...ground(axis, top, tall),
        {
          strokes: [
            [
              [axis.left, top],
              [axis.right, top],
            ],
            [
              [axis.left, top + tall],
              [axis.right, top + tall],
            ],
          ],
        },
        ...lines.map(
          ({ points, pen }): Shape => ({
            strokes: [points.map(([at, amount]): Point => [axis.x(at), y(amount)])],
            pen,
          }),
        ),
        ...apart(named.map((amount) => [amount, y(amount)])).map(
          ([amount, at]): Shape => ({
            words: formatNumber(amount, 1),
            at: [axis.left - 3, Math.min(Math.max(at + SIZE * 0.35, top + SIZE * 0.7), top + tall)],
            size: SIZE,
            anchor: "end",
          }),
        ),
      ];
    },
  });
