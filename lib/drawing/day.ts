import type { DayPlan } from "../plan/day/types.ts";
import type { Band } from "./band.ts";
import { axesOf, clockSpan, type DayAxis, type DayFormat, hourWords, LETTERS } from "./dayAxis.ts";
import { keyBand } from "./dayKey.ts";
import { laneBands, lanesSaid, linesOfDay } from "./dayLanes.ts";
import { loadBand, loadSaid } from "./dayLoad.ts";
import { storeBand, storeSaid } from "./dayStores.ts";
import type { Drawing, Shape } from "./shapes.ts";

/** As tall as a page takes beside its head and the key, on A4 and Letter. */
const TALLEST = 740;

const [TITLE, HOURS, FOOT] = [14, 15, 15] as const;

const tallOf = (bands: readonly Band[]): number => bands.reduce((sum, { height }) => sum + height, 0);

/** Bands page by page. What is taller than a page stands alone. */
const pagesOf = (bands: readonly Band[]): readonly (readonly Band[])[] => {
  const pages: Band[][] = [];
  for (const band of bands) {
    const last = pages.at(-1);
    if (last !== undefined && TITLE + HOURS + FOOT + tallOf(last) + band.height <= TALLEST) last.push(band);
    else pages.push([band]);
  }
  return pages;
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
  const parts = axes.flatMap((axis) => {
    const { span } = axis;
    const bands = [
      ...laneBands(plan, axis, ofDay),
      ...plan.stores.map((store) => storeBand(axis, store)),
      ...(plan.load === null ? [] : [loadBand(axis, plan.load)]),
    ];
    const title = `Day ${day + 1} of ${plan.days.length}, ${clockSpan(span.from, span.to)}`;
    const courses = [...plan.stores.map((store) => storeSaid(store, span)), ...(plan.load === null ? [] : [loadSaid(plan.load, span)])];
    const says = [`${title}.`, lanesSaid(plan, axis, ofDay), ...courses.map((said) => `${said}.`)].filter((said) => said !== "").join(" ");
    const pages = format === "page" ? pagesOf(bands) : [bands];
    return pages.map((page, place) => ({
      axis,
      bands: page,
      title: place === 0 ? title : `${title}, continued`,
      says: place === 0 ? says : `${title}, continued.`,
    }));
  });
  return parts.map(({ axis, title, says, bands }, place) =>
    drawn(axis, title, says, bands, place === parts.length - 1 ? keyBand(plan, axes, ofDay, axis.width) : null),
  );
};
