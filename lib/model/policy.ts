import * as z from "zod";
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
  paper: z.enum(["A4", "Letter"]).default("A4").describe("the paper that letters and sheets are laid out for"),
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
  batteryEnd: z
    .number()
    .min(0)
    .max(0.95)
    .default(0.5)
    .describe("share of a starting battery's capacity that is left when it no longer cranks; common practice without a source"),
  batteryCold: z
    .number()
    .min(0.1)
    .max(1)
    .default(0.6)
    .describe("share of a starting battery's capacity that is there in the cold; common practice without a source"),
  alsoProve: z
    .array(z.enum(["preferentialTrips", "undervoltageRelease", "overcurrent"]))
    .default([])
    .describe("protections of the switchboard that the office wants proven as well"),
  leaveOut: z
    .array(text(60))
    .max(40)
    .default([])
    .describe("kinds of protection that are not proven in this visit, by their names in the plan; each is said to be left out"),
  localRules: z
    .strictObject({
      name: text(120).describe("as it is cited"),
      says: text(600),
      bars: z
        .array(z.strictObject({ technique: z.int().min(1).max(7), because: text(300) }))
        .max(7)
        .default([])
        .describe("techniques that these rules do not accept without approval or written acceptance"),
      overspeedFactor: z.number().min(1.01).max(1.3).optional().describe("highest permitted trip speed over rated speed"),
    })
    .optional()
    .describe('local rules in the office\'s own words, for the rule basis "local rules"'),
  mayStayOpen: z
    .array(z.enum(["sensing", "wiring", "logic", "final"]))
    .default(["sensing", "wiring", "final"])
    .describe(
      "loop parts that a planned combination may leave unproven; a protection whose logic was not seen to act counts as not tested",
    ),
});

export type Policy = z.infer<typeof policySchema>;
