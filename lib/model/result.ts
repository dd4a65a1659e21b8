import * as z from "zod";
import { plainDate, text } from "./text.ts";

/** What became of a planned test. */
export const OUTCOMES = ["as planned", "by another method", "not done"] as const;

/** Whether what was seen stayed within its limits. A protection that did not act is outside of them. */
export const WITHIN = ["within limits", "outside limits", "no limit known"] as const;

export const LONGEST_REMARK = 300;

const remark = text(LONGEST_REMARK);

const on = plainDate.describe("the day of the test, or the day on which it was to be; YYYY-MM-DD");
const planned = z.array(text(60)).max(4).describe("ids of the methods of the rulebook that it was planned by on that day");
const words = remark.optional().describe("a short remark");

/** The reading as it was read: nothing is rounded or turned into another unit, since what was read is the record. */
const reading = z.strictObject({
  number: z
    .string()
    .regex(/^-?\d{1,9}(?:\.\d{1,6})?$/, { error: 'wanted the number as it was read, like "1.80"' })
    .describe("the number as it was read, with its last digits"),
  unit: text(20).describe("the unit as it was read"),
});

const seen = {
  reading: reading.optional(),
  within: z.enum(WITHIN).describe("a protection that did not act is outside limits"),
};

/** By which other method: one of the rulebook's, or told in own words; one of the two, since both could contradict each other. */
const otherWay = z
  .union([z.strictObject({ method: text(60) }), z.strictObject({ words: remark })], {
    error: "wanted either the id of a method of the rulebook or the way in own words",
  })
  .describe("the id of a method of the rulebook, or the way in own words");

/** The record of one test, without the protection that it is of: what stands at a pointer. */
const shapes = {
  asPlanned: {
    on,
    outcome: z.literal("as planned"),
    planned: planned.min(1, { error: "wanted the methods that were planned" }),
    ...seen,
    words,
  },
  otherwise: { on, outcome: z.literal("by another method"), planned, by: otherWay, ...seen, words },
  notDone: { on, outcome: z.literal("not done"), planned, why: remark.describe("why it was not done"), words },
} as const;

const outcomeWanted = { error: `wanted one of ${OUTCOMES.map((one) => `"${one}"`).join(", ")}` };

/** What became of one test aboard, as it is kept for its protection. */
export const testResultSchema = z.discriminatedUnion(
  "outcome",
  [z.strictObject(shapes.asPlanned), z.strictObject(shapes.otherwise), z.strictObject(shapes.notDone)],
  outcomeWanted,
);

export type TestResult = z.infer<typeof testResultSchema>;

/**
 * A protection of a set by its pointer. A set that was taken out of the visit keeps its history under "/removed", in case it is put back; a plan looks
 * at none of it.
 */
const at = z
  .string()
  .regex(/^\/(?:sets|removed)\/\d{1,6}\/\w{1,60}$/, { error: 'wanted the pointer of a protection, like "/sets/0/overspeed"' })
  .describe("JSON pointer of the protection in the visit file");

/** A result with its protection, as a visit file holds what was found at an earlier visit. */
const pastSchema = z.discriminatedUnion(
  "outcome",
  [z.strictObject({ at, ...shapes.asPlanned }), z.strictObject({ at, ...shapes.otherwise }), z.strictObject({ at, ...shapes.notDone })],
  outcomeWanted,
);

export const lastTimeSchema = z
  .array(pastSchema)
  .max(1000)
  .describe("what was found of each protection at an earlier visit, the latest first; told, and decides nothing");

export type PastResult = z.infer<typeof pastSchema>;

/**
 * Of results of one protection, the latest first, those that the next visit is told: the last one and, where that was not done, the last
 * that was.
 */
export const lastOf = <Past extends TestResult>([last, ...earlier]: readonly Past[]): readonly Past[] => {
  if (last === undefined) return [];
  const done = last.outcome === "not done" ? earlier.find(({ outcome }) => outcome !== "not done") : undefined;
  return done === undefined ? [last] : [last, done];
};
