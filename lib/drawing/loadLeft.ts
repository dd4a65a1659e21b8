import type { LoadLeft, LoadLeftInput } from "../figures/loadLeft.ts";
import { formatNumber } from "../units/units.ts";
import type { Drawing, Shape } from "./shapes.ts";

const [LEFT, WIDTH, BAR] = [4, 270, 13] as const;
const [RATED_Y, LOAD_Y, WORDS_Y, LINE] = [20, 42, 70, 11] as const;
/** Narrower boxes have no room for their figure. */
const ROOM = 34;

/** So far the title of the first row reaches. */
const ROOM_FOR_TITLE = 96;

const kilowatts = (value: number): string => `${formatNumber(value, 0)} kW`;

/** Boxes end to end, in kW, from the left. */
const row = (
  parts: readonly number[],
  y: number,
  perKw: number,
): readonly (readonly [x: number, y: number, width: number, height: number])[] => {
  let x: number = LEFT;
  return parts.map((kw) => {
    const box = [x, y, kw * perKw, BAR] as const;
    x += kw * perKw;
    return box;
  });
};

/** The load that the others carry while a set is motored, against their rating and the office's limit, to scale. */
export const loadLeftDrawing = (input: LoadLeftInput, { totalKw, percent, withinLimit }: LoadLeft): Drawing => {
  const { shipLoadKw, motoringKw, largestStarterKw, remainingRatedKw, limitPercent } = input;
  const ratedKw = remainingRatedKw.reduce((sum, kw) => sum + kw, 0);
  const limitKw = (ratedKw * limitPercent) / 100;
  const perKw = WIDTH / Math.max(ratedKw, totalKw, limitKw);
  const limitX = LEFT + limitKw * perKw;
  const load = [shipLoadKw, motoringKw, ...(largestStarterKw > 0 ? [largestStarterKw] : [])];
  const parts = [
    `ship's load ${kilowatts(shipLoadKw)}`,
    `set motored ${kilowatts(motoringKw)}`,
    ...(largestStarterKw > 0 ? [`largest starter ${kilowatts(largestStarterKw)}`] : []),
  ];
  const sum = `Together ${kilowatts(totalKw)} on ${kilowatts(ratedKw)}: ${formatNumber(percent, 0)} %, ${withinLimit ? "within" : "above"} ${formatNumber(limitPercent, 0)} %.`;
  const [filled = "", ...rest] = parts;
  const lines = [
    `Filled: ${filled}; then: ${rest[0] ?? ""}${rest.length > 1 ? "," : "."}`,
    ...rest.slice(1).map((part) => `${part}.`),
    sum,
  ];
  return {
    width: 290,
    height: WORDS_Y + (lines.length - 1) * LINE + 6,
    says: `Load on the other sets while this set is motored, against their rating. ${parts.join(", ")}. ${sum}`,
    shapes: [
      ...row(remainingRatedKw, RATED_Y, perKw).flatMap((box, place): readonly Shape[] => [
        { box },
        ...(box[2] > ROOM ? [{ words: kilowatts(remainingRatedKw[place] ?? 0), at: [box[0] + 3, RATED_Y + 9] as const }] : []),
      ]),
      ...row(load, LOAD_Y, perKw).map((box, place): Shape => (place === 0 ? { box, filled: true } : { box })),
      { line: [limitX, RATED_Y - 5, limitX, LOAD_Y + BAR + 4], heavy: true },
      { words: "Rating of the others", at: [LEFT, RATED_Y - 8] },
      { words: `limit ${formatNumber(limitPercent, 0)} %`, at: [Math.max(ROOM_FOR_TITLE, limitX - 44), RATED_Y - 8] },
      ...lines.map((words, place): Shape => ({ words, at: [LEFT, WORDS_Y + place * LINE] })),
    ],
  };
};
