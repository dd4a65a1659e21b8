import { basis } from "../basis.ts";
import type { Method, Reading } from "../types.ts";

/** What a written procedure does, one act a line. No published text goes into such detail, so the list is common practice. */
export const inSteps = (...steps: readonly string[]): Pick<Method, "steps" | "stepsBasis"> => ({ steps, stepsBasis: [basis.practice] });

/** The first step wherever a channel is blind on a running set. */
export const atHandStop = (watched: string): string =>
  `One person stands at the hand stop, another watches an independent reading of ${watched}.`;

/** After an act that stops the set, or only alarms where it is so fitted. */
export const STARTED_AGAIN =
  "Where the set has stopped, the trip is reset by hand and the set prelubricated as the maker asks and started again.";

/** A real overspeed is read on the ship's tachometer and on one of its own. */
export const TWO_TACHOMETERS: readonly Reading[] = [
  { name: "ship's tachometer", untimed: true },
  { name: "second tachometer", untimed: true },
];

/** Two limits of one test, each with its seconds. */
export const FREQUENCIES: readonly Reading[] = [
  { name: "over-frequency", unit: "Hz" },
  { name: "under-frequency", unit: "Hz" },
];

/** Two pumps of one test, each with the pressure at which it starts. */
export const PUMPS: readonly Reading[] = [{ name: "stand-by pump starts" }, { name: "emergency pump starts" }];
