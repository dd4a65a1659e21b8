import { rounded } from "./hatching.ts";
import { linesOf, widthOf } from "./lettering.ts";
import type { Drawing, Shape } from "./shapes.ts";

/** One column: what stands below it, its value, and on how many things it stands. */
export interface Column {
  readonly label: string;
  /** Stands below the label where it begins something new: the year. */
  readonly below?: string;
  /** Undefined where there is none. */
  readonly value?: number;
  readonly of: number;
}

export interface ColumnsAsked {
  readonly says: string;
  /** What the axis counts: "days", "%". */
  readonly unit: string;
  /** What each number below a column counts: "visits settled". */
  readonly counted: string;
  readonly columns: readonly Column[];
  /** The highest that can be, where there is such a thing. */
  readonly most?: number;
}

const [WIDTH, LEFT, RIGHT, TOP, HEIGHT] = [290, 26, 4, 20, 90] as const;
const LETTERS = 7.5;
const LINE = 10;

/** Steps of 1, 2 or 5 in some power of ten, so that at most five of them reach the highest value. */
export const stepFor = (highest: number): number => {
  for (let power = 1; ; power *= 10) for (const step of [1, 2, 5]) if (step * power * 5 >= highest) return step * power;
};

const wordsOf = (value: number): string => String(Math.round(value * 10) / 10);

/** Values side by side over one axis, each with the number of things that it stands on. Where one has no value its place stays empty. Pure. */
export const columnsDrawing = ({ says, unit, counted, columns, most }: ColumnsAsked): Drawing => {
  const step = most === undefined ? stepFor(Math.max(1, ...columns.map(({ value = 0 }) => value))) : most / 5;
  const high = most ?? step * Math.max(1, Math.ceil(Math.max(0, ...columns.map(({ value = 0 }) => value)) / step));
  const base = TOP + HEIGHT;
  const y = (value: number): number => rounded(base - (value * HEIGHT) / high);
  const slot = (WIDTH - LEFT - RIGHT) / Math.max(1, columns.length);
  const middle = (place: number): number => rounded(LEFT + (place + 0.5) * slot);
  const thick = Math.min(16, slot * 0.7);
  const widest = Math.max(
    ...columns.flatMap(({ label, of, value }) => [label, String(of), wordsOf(value ?? 0)]).map((one) => widthOf(one, LETTERS)),
    1,
  );
  const every = Math.ceil((widest + 2) / slot);
  const written = (place: number): boolean => place % every === 0;
  /** Whether the next of its kind begins before it ends. */
  const crowded = (place: number, below: string): boolean =>
    columns.slice(place + 1, place + Math.ceil((widthOf(below, LETTERS) + 3) / slot)).some((next) => next.below !== undefined);
  const ticks = Array.from({ length: Math.round(high / step) + 1 }, (_, place) => place * step);
  return {
    width: WIDTH,
    height: base + 4 * LINE + 4,
    says,
    shapes: [
      { words: unit, at: [0, LINE - 2], size: LETTERS },
      ...ticks.flatMap((tick): readonly Shape[] => [
        {
          strokes: [
            [
              [LEFT, y(tick)],
              [WIDTH - RIGHT, y(tick)],
            ],
          ],
          pen: "thin",
        },
        { words: wordsOf(tick), at: [LEFT - 3, y(tick) + 2.5], size: LETTERS, anchor: "end" },
      ]),
      ...columns.flatMap(({ label, below, value, of }, place): readonly Shape[] => [
        ...(value === undefined
          ? []
          : ([
              { box: [rounded(middle(place) - thick / 2), y(value), rounded(thick), rounded(base - y(value))], filled: true },
              // Where the columns stand close, a value would be written over its neighbours; the table has it.
              ...(every === 1
                ? [{ words: wordsOf(value), at: [middle(place), y(value) - 2], size: LETTERS, anchor: "middle", strong: true } as const]
                : []),
            ] as const)),
        ...(written(place)
          ? ([
              { words: label, at: [middle(place), base + LINE], size: LETTERS, anchor: "middle" },
              { words: String(of), at: [middle(place), base + 2 * LINE], size: LETTERS, anchor: "middle" },
            ] as const)
          : []),
        ...(below === undefined || crowded(place, below)
          ? []
          : ([{ words: below, at: [rounded(middle(place) - slot / 2), base + 3 * LINE], size: LETTERS, strong: true }] as const)),
      ]),
      { words: "of", at: [LEFT - 3, base + 2 * LINE], size: LETTERS, anchor: "end" },
      { words: `of: ${counted}`, at: [0, base + 4 * LINE], size: LETTERS },
    ],
  };
};

const BAR = 9;
const MOST_LINES = 2;

/** How often each of some things was so, the most frequent first, as bars that lie below their names. Pure. */
export const barsDrawing = (says: string, bars: readonly { readonly name: string; readonly count: number }[]): Drawing => {
  const highest = Math.max(1, ...bars.map(({ count }) => count));
  const shapes: Shape[] = [];
  let top = 0;
  for (const { name, count } of bars) {
    const lines = linesOf(name, LETTERS, WIDTH);
    const shown = lines.length > MOST_LINES ? [...lines.slice(0, MOST_LINES - 1), `${lines[MOST_LINES - 1]} …`] : lines;
    for (const words of shown) {
      shapes.push({ words, at: [0, top + LINE - 2], size: LETTERS });
      top += LINE;
    }
    const long = rounded((count * (WIDTH - 30)) / highest);
    shapes.push({ box: [0.5, top, long, BAR], filled: true });
    shapes.push({ words: String(count), at: [long + 4, top + BAR - 2], size: LETTERS, strong: true });
    top += BAR + 6;
  }
  return { width: WIDTH, height: Math.max(LINE, top), says, shapes };
};
