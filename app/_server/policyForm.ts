import * as z from "zod";
import { type PolicyTexts, policyTexts } from "../../lib/flow/policyForm.ts";
import { POLICY_FIELDS } from "../../lib/plan/policyFields.ts";
import type { PolicyVersion } from "../../lib/usecases/policy/inForce.ts";
import { textIn } from "./gate.ts";

/** Where a form of the policy that could not be kept is kept as typed. */
export const CHANGE_PAGE = "policy change";
export const adoptPage = (number: number): string => `policy adopt ${number}`;

const LONGEST = 4_000;

const ticked = (form: FormData, id: string): string =>
  form
    .getAll(id)
    .filter((value) => typeof value === "string")
    .join(",");

/** The fields of the policy as they were sent. */
export const policyTextsIn = (form: FormData): PolicyTexts =>
  Object.fromEntries(
    POLICY_FIELDS.map(({ id, kind }) => [id, (kind === "several" ? ticked(form, id) : textIn(form, id)).slice(0, LONGEST)] as const),
  );

const faults = z.array(z.object({ id: z.string(), says: z.string() }));

const keptSchema = z.object({
  texts: z.record(z.string(), z.string()),
  note: z.string(),
  /** The policy that it was begun from; 0 for the defaults. */
  base: z.number(),
  faults,
});

/** A form of the policy that could not be kept, to be shown again as it was typed. */
export type KeptPolicy = z.infer<typeof keptSchema>;

const adoptSchema = z.object({ from: z.string(), reason: z.string(), replaces: z.boolean(), dropReason: z.string(), faults });

export type KeptAdoption = z.infer<typeof adoptSchema>;

const readWith = <Kept>(schema: z.ZodType<Kept>, text: string | undefined): Kept | null => {
  if (text === undefined) return null;
  const read = schema.safeParse(JSON.parse(text));
  return read.success ? read.data : null;
};

export const readKeptPolicy = (text: string | undefined): KeptPolicy | null => readWith(keptSchema, text);
export const readKeptAdoption = (text: string | undefined): KeptAdoption | null => readWith(adoptSchema, text);

export const numberIn = (text: string): number => (/^\d{1,6}$/.test(text) ? Number(text) : -1);

/** A form begun from a policy. */
export const begunFrom = ({ number, policy }: Pick<PolicyVersion, "number" | "policy">): KeptPolicy => ({
  texts: policyTexts(policy),
  note: "",
  base: number,
  faults: [],
});
