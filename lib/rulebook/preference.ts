import type { Criterion } from "./types.ts";

/** The order of preference among irredundant combinations that are not barred, first criterion first. */
export const orderOfPreference: readonly Criterion[] = [
  { id: "approved", text: "contains the step of the procedure approved for this vessel, where there is one" },
  { id: "maker", text: "contains the maker's published procedure, where the channel is inside the maker's module and there is one" },
  { id: "dormant", text: "leaves fewest of sensing element and final element open, since these fail unnoticed" },
  { id: "hazard2", text: "avoids hazard class 2" },
  { id: "others", text: "leaves fewest of wiring and logic open" },
  { id: "methods", text: "needs fewest methods: one act through the whole loop beats a patchwork" },
  { id: "hazard", text: "has the lower hazard class" },
  {
    id: "grade",
    text: "proves the set value better: the fitted element as found, then in signal terms or read out, then at running value, then the action only",
  },
  { id: "technique", text: "uses the technique nearer to the real thing" },
  { id: "burden", text: "asks less: worst class among its needs, then how many" },
  { id: "stops", text: "needs fewest stops and starts" },
  { id: "minutes", text: "takes fewest minutes" },
  { id: "order", text: "stands first in the rulebook" },
];

/** How many methods a combination may have at most. */
export const MOST_METHODS = 4;
