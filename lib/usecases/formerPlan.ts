import { failedBy, type Result, success } from "../kernel/result.ts";
import { type Fault, quoted } from "../model/fault.ts";
import { faultsOf } from "../model/read.ts";
import { type Plan, planSchema } from "../plan/schema.ts";
import { parseJson } from "./parseJson.ts";
import type { Files } from "./planFile.ts";

/** Reads the plan of the letter before, as it was written then. All its faults are returned at once. */
export const readFormerPlan = async (files: Files, path: string): Promise<Result<Plan, Fault>> => {
  const text = await files.read(path);
  if (!text.ok) return text;
  const document = parseJson(text.value, "a plan file");
  if (!document.ok) return document;
  const plan = planSchema.safeParse(document.value, { reportInput: true });
  return plan.success ? success(plan.data) : failedBy(plan.error.issues.flatMap((issue) => faultsOf(issue, document.value)));
};

/** Why a plan cannot be the one that a visit's last letter was made from; null where it can. */
export const notOfThisVisit = (former: Plan, plan: Plan): Fault | null => {
  const [before, now] = [former.visit, plan.visit];
  if (before.vessel !== now.vessel)
    return { at: "/visit/vessel", given: quoted(before.vessel), wanted: `the plan of ${quoted(now.vessel)}` };
  if (before.reference !== now.reference)
    return { at: "/visit/reference", given: quoted(before.reference), wanted: `the plan of the visit ${quoted(now.reference)}` };
  return null;
};
