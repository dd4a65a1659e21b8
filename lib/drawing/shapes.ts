/** A drawing as plain shapes in its own units, the same on paper and on the page. */
export type Shape =
  | { readonly line: readonly [x1: number, y1: number, x2: number, y2: number]; readonly heavy?: true }
  | { readonly box: readonly [x: number, y: number, width: number, height: number]; readonly filled?: true }
  | { readonly words: string; readonly at: readonly [x: number, y: number] };

export interface Drawing {
  readonly width: number;
  readonly height: number;
  /** What it shows, for who cannot see it. */
  readonly says: string;
  readonly shapes: readonly Shape[];
}
