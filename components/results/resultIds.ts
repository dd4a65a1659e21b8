import type { ResultField } from "../../lib/usecases/visits/resultFields.ts";

/** The place of a test on the page of results, by its pointer. */
export const testId = (at: string): string => `t${at.replaceAll("/", "-")}`;

/** The id of a field of its record. */
export const resultFieldId = (at: string, field: ResultField): string => `${testId(at)}-${field}`;
