import type { Block } from "./blocks.ts";

/** Short forms that may stand in a letter, each with what it is short for. Units are not among them. */
const FULL: Readonly<Record<string, string>> = {
  CFR: "Code of Federal Regulations of the United States",
  GT: "gross tonnage",
  IACS: "International Association of Classification Societies",
  IMO: "International Maritime Organization",
  NTC: "resistance thermometer whose resistance falls as it warms",
  Pt100: "platinum resistance thermometer, 100 Ω at 0 °C",
  Pt1000: "platinum resistance thermometer, 1000 Ω at 0 °C",
  SOLAS: "International Convention for the Safety of Life at Sea",
  UR: "Unified Requirement of IACS",
};

/** Each short form that the blocks use, once in full; nothing where they use none. */
export const shortForms = (blocks: readonly Block[], besides: string): string => {
  const text = `${JSON.stringify(blocks)} ${besides}`;
  const used = Object.entries(FULL).filter(([short]) => new RegExp(`\\b${short}\\b`).test(text));
  return used.length === 0 ? "" : `Short forms: ${used.map(([short, full]) => `${short}, ${full}`).join("; ")}.`;
};
