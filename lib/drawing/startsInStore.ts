import type { Drawing, Shape } from "./shapes.ts";

const [LEFT, TOP, BOX, GAP, A_ROW] = [4, 16, 14, 4, 15] as const;
const WORDS_BELOW = 14;

/** More boxes than this are not counted by the eye any more. */
const MOST_DRAWN = 60;

/** Starts that a store gives against those that the planned tests want: one box each, filled where it is wanted. */
export const startsDrawing = (given: number, wanted: number): Drawing => {
  const shown = Math.min(MOST_DRAWN, Math.max(given, wanted));
  const rows = Math.max(1, Math.ceil(shown / A_ROW));
  const box = (place: number): readonly [number, number, number, number] => [
    LEFT + (place % A_ROW) * (BOX + GAP),
    TOP + Math.floor(place / A_ROW) * (BOX + GAP),
    BOX,
    BOX,
  ];
  const boxes = Array.from({ length: shown }, (_, place): readonly Shape[] => {
    const [x, y, width, height] = box(place);
    // What is wanted and not there is crossed out.
    const cross: readonly Shape[] = [{ line: [x, y, x + width, y + height] }, { line: [x, y + height, x + width, y] }];
    if (place >= given) return [{ box: [x, y, width, height] }, ...cross];
    return [place < wanted ? { box: [x, y, width, height], filled: true } : { box: [x, y, width, height] }];
  });
  const short = Math.max(0, wanted - given);
  const sum =
    short === 0 ? `${wanted} wanted, ${given} in store: ${given - wanted} left.` : `${wanted} wanted, ${given} in store: ${short} short.`;
  const below = TOP + rows * (BOX + GAP) + WORDS_BELOW;
  return {
    width: 290,
    height: below + 6,
    says: `Starts: ${sum}`,
    shapes: [
      { words: short === 0 ? "filled: wanted; empty: left" : "filled: in store; crossed: wanted and not there", at: [LEFT, TOP - 6] },
      ...boxes.flat(),
      { words: sum, at: [LEFT, below] },
    ],
  };
};
