import type { Fault } from "../model/fault.ts";

/** Nothing was written where something is wanted. */
export const NOTHING_WRITTEN = "nothing";

/** How what is wanted begins where an answer is begun well and only lacks something: it is asked for, and what was given is no mistake. */
export const ASKED_FOR = "please ";

/**
 * A fault of a reply as people are told it, under the field or reference that it is about: what stands there and what is wanted. What
 * somebody wrote stands in quotation marks; what was given otherwise is described. Where nothing is wrong but that something lacks, that is asked for.
 */
export const faultWords = ({ given, wanted }: Pick<Fault, "given" | "wanted">): string => {
  if (given === NOTHING_WRITTEN) return `please give ${wanted}`;
  if (wanted.startsWith(ASKED_FOR)) return `${given.replace(/^“|”$/g, "")}: ${wanted}`;
  return given.startsWith("“") ? `${given} stands here; wanted: ${wanted}` : `given: ${given}; wanted: ${wanted}`;
};
