import type { ResultField } from "../../lib/usecases/visits/resultFields.ts";

/** The place of a test on the page of results, by its pointer. */
export const testId = (at: string): string => `t${at.replaceAll("/", "-")}`;

/** What follows a doubt, on the page and by its script. */
export const LOOK_AGAIN = "Look at it once more: put it right, say that it is so, or write in the remark why.";

/** The id of a field of its record. */
export const resultFieldId = (at: string, field: ResultField): string => `${testId(at)}-${field}`;
