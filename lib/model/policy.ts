import { z } from "zod";
import { plainDate, text } from "./text.ts";

const days = (what: string, fallback: number) => z.int().min(0).max(120).default(fallback).describe(`${what}, in working days`);

export const officeSchema = z
  .strictObject({
    name: text(120),
    address: z.array(text(120)).max(6).default([]),
    contact: text(200).optional(),
  })
  .describe("who writes the letter");

/** The office's standing choices. Everything has a default; none of them is a rule. */
export const policySchema = z.strictObject({
  office: officeSchema.default({ name: "Test planning office", address: [] }),
  loadLimit: z.number().min(10).max(100).default(85).describe("highest load on the sets left running, % of their rating"),
  boilingMargin: z
    .number()
    .min(0)
    .max(30)
    .default(3)
    .describe("an open water bath must stay this far below boiling, K; common practice without a source"),
  coldTemperature: z
    .number()
    .min(0)
    .max(60)
    .default(45)
    .describe("highest local temperature at which a drained circuit is opened, °C; common practice without a source"),
  tachometerError: z.number().min(0).max(200).default(5).describe("largest error of the tachometer in overspeed tests, rpm"),
  replyWithin: days("the vessel's answer is asked within", 3),
  margin: days("things that are sent or travel must be settled this long before the visit", 1),
  leadTimes: z
    .strictObject({
      local: days("hire or purchase at the place", 2),
      sent: days("a part that is sent, agent and customs included", 10),
      specialist: days("a maker's technician", 10),
      authority: days("the authority's written acceptance", 20),
    })
    .prefault({}),
  workingDays: z.array(z.int().min(0).max(6)).min(1).default([1, 2, 3, 4, 5]).describe("days of the week that count, 0 = Sunday"),
  holidays: z.array(plainDate).max(400).default([]).describe("days that do not count"),
  mayStayOpen: z
    .array(z.enum(["sensing", "wiring", "logic", "final"]))
    .default(["sensing", "wiring", "final"])
    .describe(
      "loop parts that a planned combination may leave unproven; a protection whose logic was not seen to act counts as not tested",
    ),
});

export type Policy = z.infer<typeof policySchema>;
