import * as z from "zod";
import { policySchema } from "./policy.ts";

/** Which plans a supervisor sees before their letters go out. */
export const reviewPolicySchema = z.strictObject({
  everyPlan: z.boolean().default(false).describe("every plan is reviewed"),
  deviations: z.boolean().default(false).describe("a choice against the order of preference is reviewed"),
  consent: z
    .array(z.enum(["sensing", "wiring", "logic", "final"]))
    .default([])
    .describe("loop parts that stay unproven only with the supervisor's consent, which is his review"),
});

/** What the office settles for all its visits: the policy that visit files hold, and how the office itself works. */
export const officePolicySchema = z.strictObject({
  plan: policySchema.prefault({}).describe("what a new visit's file takes over as its policy"),
  units: z.enum(["metric", "us"]).default("metric").describe("the units that letters are written in unless another choice is made"),
  review: reviewPolicySchema.prefault({}),
});

export type OfficePolicy = z.infer<typeof officePolicySchema>;
export type ReviewPolicy = OfficePolicy["review"];
