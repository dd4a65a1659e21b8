import * as z from "zod";
import { visitSchemaFor } from "../model/visit.ts";
import { planSchema } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";

/** The JSON Schema of the visit file or the plan, made from the schemas that the program itself reads by. */
export const jsonSchemaOf = (what: string, rulebook: Rulebook): object | null => {
  if (what === "visit") return z.toJSONSchema(visitSchemaFor(rulebook.facts), { io: "input", unrepresentable: "any" });
  return what === "plan" ? z.toJSONSchema(planSchema, { unrepresentable: "any" }) : null;
};
