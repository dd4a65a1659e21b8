export type Point = readonly [x: number, y: number];

export interface Line {
  readonly line: readonly [x1: number, y1: number, x2: number, y2: number];
  readonly heavy?: true;
}

export interface Box {
  readonly box: readonly [x: number, y: number, width: number, height: number];
  readonly filled?: true;
  readonly heavy?: true;
  /** On a page too it hides what lies under it, as every box does on paper. */
  readonly covering?: true;
}

export interface Words {
  readonly words: string;
  readonly at: Point;
  /** Height of the letters where it is not the usual one. */
  readonly size?: number;
  /** Which of its points stands at the place; its beginning where it is left out. */
  readonly anchor?: "middle" | "end";
  readonly strong?: true;
  /** Written upwards. */
  readonly turned?: true;
}

/** Any number of lines from point to point, as one: a course, a grid, hatching. */
export interface Strokes {
  readonly strokes: readonly (readonly Point[])[];
  readonly pen?: "thin" | "heavy" | "broad" | "dashed" | "dotted" | "chained";
  /** What each of them encloses is filled. */
  readonly filled?: true;
}

export type Plain = Line | Box | Words | Strokes;

/** Shapes of one thing that is told elsewhere on the same page, where a page can lead there. */
export interface Leading {
  readonly to: string;
  readonly says: string;
  /** It is drawn elsewhere too, and led to from there. */
  readonly again?: true;
  readonly shapes: readonly Plain[];
}

/** A drawing as plain shapes in its own units, the same on paper and on the page. */
export type Shape = Plain | Leading;

export interface Drawing {
  readonly width: number;
  readonly height: number;
  /** What it is, in short; left out where what it shows is short enough. */
  readonly name?: string;
  /** What it shows, for who cannot see it. */
  readonly says: string;
  readonly shapes: readonly Shape[];
}

/** Two narrow drawings stand side by side; a wide one stands alone. */
export const isWide = ({ width }: Drawing): boolean => width > 300;

/** All shapes, also those that lead somewhere. */
export const plainIn = ({ shapes }: Pick<Drawing, "shapes">): readonly Plain[] =>
  shapes.flatMap((shape) => ("shapes" in shape ? shape.shapes : [shape]));

/** Strokes as the path of an SVG, which PDF takes as well. */
export const pathOf = ({ strokes, filled }: Strokes): string =>
  strokes
    .map((points) => points.map(([x, y], place) => `${place === 0 ? "M" : "L"}${x} ${y}`).join("") + (filled === true ? "Z" : ""))
    .join("");

/** How broad each pen draws, and in which pieces, in the drawing's own units. */
export const PENS = {
  thin: { strokeWidth: 0.35 },
  usual: { strokeWidth: 0.7 },
  heavy: { strokeWidth: 1.6 },
  broad: { strokeWidth: 2.1, strokeDasharray: "9 2" },
  dashed: { strokeWidth: 0.9, strokeDasharray: "4 2.5" },
  dotted: { strokeWidth: 1.8, strokeDasharray: "1.8 1.8" },
  chained: { strokeWidth: 1.1, strokeDasharray: "9 2 1.5 2" },
} as const;
