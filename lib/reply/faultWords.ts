import type { Fault } from "../model/fault.ts";

/** Nothing was written where something is wanted. */
export const NOTHING_WRITTEN = "nothing";

/**
 * A fault of a reply as people are told it, under the field or reference that it is about: what stands there and what is wanted. What
 * somebody wrote stands in quotation marks; what was given otherwise is described.
 */
export const faultWords = ({ given, wanted }: Pick<Fault, "given" | "wanted">): string =>
  given === NOTHING_WRITTEN || given.startsWith("“") ? `${given} stands here; wanted: ${wanted}` : `given: ${given}; wanted: ${wanted}`;
