import type { Rulebook } from "../rulebook/types.ts";
import { type Planner, plannerWith } from "./build.ts";
import { setFigures, storeWarnings, visitFigures } from "./figures/day.ts";
import { figuresOf } from "./figures/index.ts";
import { findingsOf } from "./findings.ts";
import type { Tellings } from "./tellings.ts";
import { warningsOf } from "./warnings.ts";

const everything: Tellings = {
  figuresOf,
  setFigures,
  visitFigures,
  findingsOf,
  warningsOf: (input) => [...storeWarnings(input.decided, input.read), ...warningsOf(input)],
};

/** A planner that tells all there is to tell. */
export const newPlanner = (rulebook: Rulebook): Planner => plannerWith(rulebook, everything);

export { knownOf, type Planner } from "./build.ts";
