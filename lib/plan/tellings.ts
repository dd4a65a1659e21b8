import type { setFigures, visitFigures } from "./figures/day.ts";
import type { figuresOf } from "./figures/index.ts";
import type { findingsOf } from "./findings.ts";
import type { warningsOf } from "./warnings.ts";

/** What a plan tells beside its decisions, questions and requests, each worked out by a part of its own. */
export interface Tellings {
  readonly figuresOf: typeof figuresOf;
  readonly setFigures: typeof setFigures;
  readonly visitFigures: typeof visitFigures;
  readonly findingsOf: typeof findingsOf;
  readonly warningsOf: typeof warningsOf;
}
