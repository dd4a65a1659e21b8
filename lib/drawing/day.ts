import type { DayPlan } from "../plan/day/types.ts";
import type { Band } from "./band.ts";
import { axesOf, clockSpan, type DayAxis, type DayFormat, hourWords, LETTERS } from "./dayAxis.ts";
import { keyBand } from "./dayKey.ts";
import { laneBands, lanesSaid, linesOfDay } from "./dayLanes.ts";
import { loadBand, loadSaid } from "./dayLoad.ts";
import { storeBand, storeSaid } from "./dayStores.ts";
import type { Drawing, Shape } from "./shapes.ts";

/** As tall as a page takes under a heading, on A4 and Letter. */
const TALLEST = 786;

const [TITLE, HOURS, FOOT] = [14, 15, 15] as const;

/** How tall a bar of a lane and a course are. */
interface Heights {
  readonly bar: number;
  readonly course: number;
}

/** The lowest that can be read, and taller ones, the tallest first. A bar is so tall that a short word can be written upwards. */
const LOWEST: Heights = { bar: 30, course: 30 };
const TALLER: readonly Heights[] = [
  { bar: 56, course: 100 },
  { bar: 50, course: 70 },
  { bar: 46, course: 54 },
  { bar: 42, course: 54 },
  { bar: 38, course: 50 },
  { bar: 34, course: 44 },
  { bar: 32, course: 36 },
];
const ON_TELEPHONE: Heights = { bar: 32, course: 54 };

const tallOf = (bands: readonly Band[]): number => bands.reduce((sum, { height }) => sum + height, 0);

/** Bands page by page, with room for the key. What is taller than a page stands alone. */
const pagesOf = (bands: readonly Band[], key: Band): readonly (readonly Band[])[] => {
  const pages: Band[][] = [];
  for (const band of bands) {
    const last = pages.at(-1);
    if (last !== undefined && TITLE + HOURS + FOOT + tallOf(last) + band.height + key.height <= TALLEST) last.push(band);
    else pages.push([band]);
  }
  return pages;
};

/** The tallest bands that take no more pages than the lowest: lanes, courses and key stay together where they can, and no page stays empty. */
const filling = (bandsWith: (heights: Heights) => readonly Band[], key: Band): readonly (readonly Band[])[] => {
  const least = pagesOf(bandsWith(LOWEST), key);
  return TALLER.map((heights) => pagesOf(bandsWith(heights), key)).find(({ length }) => length === least.length) ?? least;
};

/** Bands beneath each other between two rows of hours; the key has no hours. */
const drawn = (axis: DayAxis, title: string, says: string, bands: readonly Band[], key: Band | null): Drawing => {
  const top = TITLE + HOURS;
  const bottom = top + tallOf(bands);
  const shapes = bands.flatMap(({ shapes: of }, place): readonly Shape[] => of(top + tallOf(bands.slice(0, place))));
  return {
    width: axis.width,
    height: bottom + FOOT + (key?.height ?? 0),
    name: title,
    says,
    shapes: [
      { words: title, at: [2, LETTERS], size: LETTERS, strong: true },
      ...hourWords(axis, TITLE + LETTERS),
      ...shapes,
      ...hourWords(axis, bottom + LETTERS),
      ...(key?.shapes(bottom + FOOT) ?? []),
    ],
  };
};

/**
 * One day of a plan: a lane for every set and everybody, beneath them what is in each store of starting energy and the load against the
 * running capacity, all over one time. For a page it is one drawing, more where a page is too short for it; for a telephone one for every
 * few hours. All of them have one scale.
 */
export const dayDrawing = (plan: DayPlan, day: number, format: DayFormat = "page"): readonly Drawing[] => {
  const ofDay = linesOfDay(plan, day);
  const axes = axesOf(plan, day, format);
  const key = keyBand(plan, axes, ofDay, axes[0]?.width ?? 0);
  const parts = axes.flatMap((axis) => {
    const { span } = axis;
    const bandsWith = ({ bar, course }: Heights): readonly Band[] => [
      ...laneBands(plan, axis, ofDay, bar),
      ...plan.stores.map((store) => storeBand(axis, store, course)),
      ...(plan.load === null ? [] : [loadBand(axis, plan.load, course)]),
    ];
    const title = `Day ${day + 1} of ${plan.days.length}, ${clockSpan(span.from, span.to)}`;
    const courses = [...plan.stores.map((store) => storeSaid(store, span)), ...(plan.load === null ? [] : [loadSaid(plan.load, span)])];
    const says = [`${title}.`, lanesSaid(plan, axis, ofDay), ...courses.map((said) => `${said}.`)].filter((said) => said !== "").join(" ");
    const pages = format === "page" ? filling(bandsWith, key) : [bandsWith(ON_TELEPHONE)];
    return pages.map((page, place) => ({
      axis,
      bands: page,
      title: place === 0 ? title : `${title}, continued`,
      says: place === 0 ? says : `${title}, continued.`,
    }));
  });
  return parts.map(({ axis, title, says, bands }, place) => drawn(axis, title, says, bands, place === parts.length - 1 ? key : null));
};
