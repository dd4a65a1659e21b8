import type { Bar } from "../rulebook/types.ts";

/** The three kinds of bar, which are never mixed up, in the words that a verdict bears. */
export const BAR_WORDS: Readonly<Record<Bar, string>> = {
  veto: "never: safety",
  rule: "not accepted under the rules",
  practical: "not possible here",
};
