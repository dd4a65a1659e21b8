import type { DayLine, DayPlan } from "../plan/day/types.ts";
import type { Band } from "./band.ts";
import { CLOSED_APART, type DayAxis, LETTERS } from "./dayAxis.ts";
import { blindMark, bracket, hotStops, restartOf } from "./dayLanes.ts";
import { hatching } from "./hatching.ts";
import { ROOM, widthOf } from "./lettering.ts";
import type { Plain, Shape, Strokes } from "./shapes.ts";

/** So wide that every dash of a pen is seen. */
const [WIDE, TALL, LINE, GAP] = [24, 9, 14, 8] as const;

/** A mark of the drawing beside what it means. */
interface Entry {
  readonly words: string;
  readonly mark: (x: number, y: number) => readonly Plain[];
}

const level = (pen: NonNullable<Strokes["pen"]>) => (x: number, y: number) => [
  {
    strokes: [
      [
        [x, y + TALL / 2],
        [x + WIDE, y + TALL / 2],
      ],
    ],
    pen,
  } as const,
];

/** The marks that a day has. */
const entriesOf = (plan: DayPlan, axes: readonly DayAxis[], ofDay: readonly DayLine[]): readonly Entry[] => {
  const technicians = plan.lanes.filter(({ kind }) => kind === "technician").map(({ id }) => id);
  const all: readonly (readonly [there: boolean, entry: Entry])[] = [
    [
      ofDay.some(({ restart }) => restart > 0),
      { words: "restart and reinstatement", mark: (x, y) => [{ box: [x, y, WIDE, TALL] }, ...restartOf(x, y, WIDE, TALL)] },
    ],
    [
      ofDay.some(({ grave }) => grave === true),
      { words: "wants the inspector’s consent", mark: (x, y) => [{ box: [x, y, WIDE, TALL], heavy: true }] },
    ],
    [ofDay.some((line) => line.hotStops > 0), { words: "hot stop", mark: (x, y) => [hotStops(1, x + WIDE / 2, y + TALL)] }],
    [ofDay.some(({ blind }) => blind === true), { words: "channel blind", mark: (x, y) => [blindMark(x, x + WIDE, y + TALL / 2)] }],
    [
      ofDay.some(({ takes }) => takes.some(({ lane }) => technicians.includes(lane))),
      { words: "technician attends", mark: (x, y) => [bracket(x, x + WIDE, y + TALL - 2)] },
    ],
    [
      axes.some(({ closed }) => closed.length > 0),
      { words: "break, or outside the hours", mark: (x, y) => [{ box: [x, y, WIDE, TALL] }, hatching([x, y, WIDE, TALL], CLOSED_APART)] },
    ],
    [plan.stores.length > 0 || plan.load !== null, { words: "floor, limit", mark: level("dashed") }],
    [plan.stores.length > 0, { words: "in store", mark: level("heavy") }],
    [plan.load !== null, { words: "rated on the board", mark: level("broad") }],
    [plan.load !== null, { words: "needed", mark: level("chained") }],
  ];
  return all.flatMap(([there, entry]) => (there ? [entry] : []));
};

/** What the marks of a day mean, over as many lines as they want. */
export const keyBand = (plan: DayPlan, axes: readonly DayAxis[], ofDay: readonly DayLine[], width: number): Band => {
  let [x, row] = [2, 0];
  const placed = entriesOf(plan, axes, ofDay).map((entry) => {
    const wide = WIDE + 4 + widthOf(entry.words, LETTERS) * ROOM;
    if (x > 2 && x + wide > width) [x, row] = [2, row + 1];
    const at = [x, row] as const;
    x += wide + GAP;
    return { entry, at };
  });
  return {
    height: (row + 1) * LINE + 4,
    shapes: (top) =>
      placed.flatMap(({ entry, at: [left, line] }): readonly Shape[] => [
        ...entry.mark(left, top + line * LINE + 2),
        { words: entry.words, at: [left + WIDE + 4, top + line * LINE + LETTERS], size: LETTERS },
      ]),
  };
};
