import { linesOf } from "./lettering.ts";
import type { Drawing, Plain, Point } from "./shapes.ts";

/** What something leans on: one fact in words, all of several, or one of several. */
export type Leans = { readonly fact: string } | { readonly allOf: readonly Leans[] } | { readonly oneOf: readonly Leans[] };

/** One thing that must hold, with what happens where it does not: the kind of bar, or that there is nothing to prove. */
export interface Branch {
  readonly bar: "applies" | "veto" | "rule" | "practical";
  readonly leans: Leans;
}

const [WIDTH, LEFT, TOP, STEP, SIZE, LINE, GAP] = [300, 6, 6, 14, 8.5, 10.5, 5] as const;

const WORDS: Readonly<Record<Branch["bar"], string>> = {
  applies: "Applies only where",
  veto: "Safety: never unless",
  rule: "Rules: not accepted unless",
  practical: "Practice: not possible unless",
};

const around = (x: number, y: number, half: number): readonly Point[] => [
  [x - half, y],
  [x, y - half],
  [x + half, y],
  [x, y + half],
  [x - half, y],
];

/** Each kind of bar by a shape of its own: a filled lozenge, two boxes, one box, an empty lozenge. */
const shapeOf = (bar: Branch["bar"], x: number, y: number): readonly Plain[] => {
  if (bar === "veto") return [{ strokes: [around(x, y, 5)], filled: true }];
  if (bar === "applies") return [{ strokes: [around(x, y, 5)] }];
  const outer: Plain = { box: [x - 4, y - 4, 8, 8], covering: true };
  return bar === "rule" ? [outer, { box: [x - 2, y - 2, 4, 4] }] : [outer];
};

interface Drawn {
  readonly shapes: readonly Plain[];
  /** Where the next thing may stand. */
  readonly below: number;
}

const wordsAt = (words: string, x: number, y: number, strong = false): Drawn => {
  const lines = linesOf(words, SIZE, WIDTH - x - 2);
  return {
    shapes: lines.map((line, place) => ({
      words: line,
      at: [x, y + SIZE + place * LINE] as const,
      size: SIZE,
      ...(strong ? { strong: true as const } : {}),
    })),
    below: y + lines.length * LINE + GAP,
  };
};

/** Where the tick of a line of words meets its trunk. */
const middleOf = (y: number): number => y + SIZE * 0.65;

/** What leans on a joint: a trunk, drawn through where all must hold and broken where one is enough, with a twig to each. */
const joint = (word: string, parts: readonly Leans[], broken: boolean, x: number, y: number): Drawn => {
  const head = wordsAt(word, x, y);
  let below = head.below;
  const shapes: Plain[] = [...head.shapes];
  let last = below;
  for (const part of parts) {
    const drawn = leansAt(part, x + STEP, below);
    last = middleOf(below);
    shapes.push({ line: [x + 3, last, x + STEP - 3, last] }, ...drawn.shapes);
    below = drawn.below;
  }
  const from = head.below - GAP + 1;
  shapes.push({
    strokes: [
      [
        [x + 3, from],
        [x + 3, last],
      ],
    ],
    ...(broken ? { pen: "dashed" as const } : {}),
  });
  return { shapes, below };
};

const leansAt = (leans: Leans, x: number, y: number): Drawn => {
  if ("fact" in leans) return wordsAt(leans.fact, x, y);
  return "allOf" in leans ? joint("all of", leans.allOf, false, x, y) : joint("one of", leans.oneOf, true, x, y);
};

/** A tree in one sentence, for who cannot see it. */
const sayLeans = (leans: Leans): string => {
  if ("fact" in leans) return leans.fact;
  return "allOf" in leans ? `all of (${leans.allOf.map(sayLeans).join("; ")})` : `one of (${leans.oneOf.map(sayLeans).join("; ")})`;
};

/**
 * What a thing depends on, as a tree read from the top: under it one branch for each thing that must hold, with the facts it leans on.
 * It grows downwards only, so that it can be read on a telephone.
 */
export const dependsDrawing = (name: string, branches: readonly Branch[]): Drawing => {
  const title = linesOf(name, 10, WIDTH - 2 * LEFT - 36);
  const height = title.length * 12 + 8;
  const trunk = LEFT + 8;
  let below = TOP + height + 8;
  let last = below;
  const shapes: Plain[] = [];
  for (const { bar, leans } of branches) {
    last = middleOf(below);
    const head = wordsAt(WORDS[bar], trunk + 22, below, true);
    const drawn = leansAt(leans, trunk + 22, head.below - GAP + 1);
    shapes.push({ line: [trunk, last, trunk + 9, last] }, ...shapeOf(bar, trunk + 13, last), ...head.shapes, ...drawn.shapes);
    below = drawn.below + 3;
  }
  return {
    width: WIDTH,
    height: below,
    name: `What ${name} depends on`,
    says: `${name}. ${branches.map(({ bar, leans }) => `${WORDS[bar]}: ${sayLeans(leans)}.`).join(" ")}`,
    shapes: [
      { box: [LEFT, TOP, WIDTH - 2 * LEFT, height], heavy: true },
      ...title.map((line, place): Plain => ({ words: line, at: [LEFT + 8, TOP + 13 + place * 12], size: 10, strong: true })),
      { line: [trunk, TOP + height, trunk, last] },
      ...shapes,
    ],
  };
};
