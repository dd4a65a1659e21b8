import type { Basis } from "../rulebook/basis.ts";
import type { Block } from "./blocks.ts";

const MEANING = {
  memory: "from memory of a published text",
  "our reading": "our reading of a published text, to be agreed with the authority",
  practice: "common practice or office policy, no published source",
} as const;

/** How unsure a statement is, as a bracket behind it; nothing where its text was read or it is arithmetic. */
export const markWords = (bases: readonly Basis[]): string => {
  const has = (mark: Basis["mark"]): boolean => bases.some((basis) => basis.mark === mark);
  if (has("memory")) return " [memory]";
  if (has("interpretation")) return " [our reading]";
  return bases.length > 0 && bases.every(({ mark }) => mark === "practice") ? " [practice]" : "";
};

/** What the brackets that the blocks use mean; nothing where they use none. */
export const markMeanings = (blocks: readonly Block[]): string => {
  const text = JSON.stringify(blocks);
  const used = Object.entries(MEANING).filter(([mark]) => text.includes(`[${mark}]`));
  return used.length === 0 ? "" : `Marks: ${used.map(([mark, means]) => `[${mark}] ${means}`).join("; ")}.`;
};
