import * as z from "zod";
import { type Condition, conditionSchema } from "../logic/condition.ts";
import { basisSchema } from "../rulebook/basis.ts";
import { PARTS } from "../rulebook/types.ts";

const at = z.string().describe("JSON pointer into the visit file");
const ref = z.string().describe("short reference that stays the same through all letters");
const part = z.enum(PARTS);
const methods = z.array(z.string()).describe("ids of methods of the rulebook");
const unproven = z.array(part).describe("loop parts that stay unproven");
const state = z.enum(["set point", "running value", "movement", "open"]);
const bases = z.array(basisSchema);

const openSchema = z.strictObject({
  at,
  answers: z.array(z.string()).optional(),
  from: z.number().optional(),
  to: z.number().optional(),
  unit: z.string().optional(),
  use: z.enum(["deciding", "detail", "record"]),
});

const verdictSchema = z.strictObject({
  method: z.string(),
  technique: z.int().min(1).max(7),
  verdict: z.enum(["fit", "depends", "barred"]),
  bar: z.enum(["veto", "rule", "practical"]).optional(),
  open: z.array(at).optional().describe("the open facts it hangs on"),
  reason: z.string(),
  basis: bases,
});

const figureSchema = z.strictObject({
  name: z.string(),
  value: z.union([z.number(), z.string()]),
  unit: z.string(),
  tolerance: z.number().optional().describe("in the same unit, either way"),
  note: z.string().optional(),
  noteForOffice: z.literal(true).optional().describe("the note is for the inspector and left out of the letter"),
  later: z.literal(true).optional().describe("of a way that may come to it, not of the first"),
  officeOnly: z.literal(true).optional().describe("for the inspector to compare with; not in the letter"),
  basis: bases,
});

const optionSchema = z.strictObject({ methods, unproven, when: conditionSchema });

const protectionSchema = z.strictObject({
  ref,
  at,
  kind: z.string(),
  applies: z.union([z.literal("yes"), z.literal("no"), z.strictObject({ if: conditionSchema })]),
  decision: z.strictObject({
    state: z.enum(["settled", "proposed"]),
    outcome: z.enum(["combination", "does not apply", "nothing acceptable"]),
    methods,
    proves: z.strictObject({ sensing: state, wiring: state, logic: state, final: state }),
    unproven,
    because: z.array(at).describe("the facts the decision names; no other fact can change it"),
    wouldOpen: z
      .array(z.strictObject({ at, is: z.array(z.string()), methods }))
      .optional()
      .describe("single answers that would open a combination where none is acceptable"),
  }),
  options: z.array(optionSchema).describe("what could still be chosen, best first; the first whose condition comes true is the decision"),
  verdicts: z.array(verdictSchema),
  deviation: z.strictObject({ method: z.string(), refused: z.boolean(), reason: z.string() }).optional(),
  figures: z.array(figureSchema),
  cautions: z.array(z.string()).describe("ids of cautions of the rulebook"),
  askedFor: z
    .array(z.strictObject({ text: z.string(), basis: bases }))
    .describe("what the rule basis asks to be shown of it; empty where it asks nothing or is open"),
  notes: z
    .array(z.strictObject({ text: z.string(), basis: bases }))
    .describe("what must be known or seen besides, by role and arrangement"),
});

const questionSchema = z.strictObject({
  ref,
  at,
  text: z.string(),
  why: z.string(),
  decides: z
    .array(z.strictObject({ protection: ref, rank: z.int().min(0) }))
    .describe("the protections it decides and the rank among their options it can first decide; empty for a detail"),
  detailFor: z.array(z.strictObject({ protection: ref, rank: z.int().min(0) })).optional(),
  boundary: z.array(conditionSchema).optional().describe("for a number: what of it counts, worked out from the rest"),
  onlyIf: conditionSchema.optional().describe("it can only matter where this holds"),
  photograph: z.string().optional().describe("id of the photograph that answers it"),
});

const requestSchema = z.strictObject({
  ref,
  at: at.optional(),
  kind: z.enum(["technician", "spare", "equipment", "document", "photograph", "condition"]),
  need: z.string().describe("id of the need in the rulebook, or of the photograph"),
  text: z.string(),
  actor: z.enum(["master", "chief engineer", "electrician", "superintendent"]),
  count: z.int().min(1).optional(),
  hours: z.number().optional(),
  neededBy: z.array(ref),
  laterFor: z.array(ref).optional().describe("protections that may come to it if better options fall"),
  confirmBy: z.string(),
  late: z.literal(true).optional().describe("its lead time can no longer be kept"),
  hold: z.boolean().optional().describe("for a later option, but its lead time will not wait for the answer"),
  answers: z.array(ref).optional().describe("the questions that a photograph answers"),
  notBefore: z.array(ref).optional().describe("questions to be answered before anything is ordered"),
  onlyIf: conditionSchema.optional(),
  refusedIs: z.string().optional(),
  ifRefused: z.array(z.strictObject({ protection: ref, to: methods, unproven })),
});

/** The plan. Its types are inferred from here. */
export const planSchema = z
  .strictObject({
    format: z.literal("forehail plan 1"),
    rulebook: z.strictObject({ version: z.string(), digest: z.string() }),
    visit: z.strictObject({
      reference: z.string().optional(),
      vessel: z.string(),
      imo: z.string().optional(),
      place: z.string(),
      window: z.strictObject({ from: z.string(), to: z.string() }),
      preparedOn: z.string(),
      replyBy: z.string(),
      ruleBasis: z.string(),
    }),
    open: z.array(openSchema),
    sets: z.array(
      z.strictObject({
        name: z.string(),
        role: z.string(),
        protections: z.array(protectionSchema),
        minutes: z.int().describe("out of use for the planned tests, restarts and warming up not counted"),
        figures: z.array(figureSchema).describe("starting energy of the set"),
      }),
    ),
    rules: z
      .strictObject({
        procedure: z.array(z.string()).describe("what a written test procedure must contain"),
        limits: z.array(z.strictObject({ text: z.string(), basis: bases })),
        intervals: z.array(z.strictObject({ text: z.string(), basis: bases })).describe("what is normally done how often"),
      })
      .optional()
      .describe("of the rule basis, once it is known"),
    figures: z.array(figureSchema).describe("of the whole visit: the common starting store, noise"),
    leftOut: z.array(z.strictObject({ kind: z.string(), why: z.string() })).describe("protections that this visit does not prove"),
    questions: z.array(questionSchema),
    requests: z.array(requestSchema),
    findings: z
      .array(z.strictObject({ at: z.array(at), text: z.string(), basis: bases }))
      .describe("told to the inspector apart from the plan: settings outside their limits, arrangements that the rules do not know"),
    warnings: z.array(
      z.strictObject({
        at: at.optional(),
        text: z.string(),
        officeOnly: z.literal(true).optional().describe("not for the letter to the vessel"),
        tooLong: z.literal(true).optional().describe("the planned tests take longer than the window has"),
        basis: bases,
      }),
    ),
    references: z.array(z.strictObject({ ref, for: z.string() })).describe("to be kept in the visit file, so that references stay"),
  })
  .describe("A plan: how each protection of each set will be proven, what is still to be asked and what to arrange.");

type DeepReadonly<T> = [Condition] extends [T] ? T : ReadonlyParts<T>;
type ReadonlyParts<T> = T extends readonly (infer Item)[]
  ? readonly DeepReadonly<Item>[]
  : T extends object
    ? { readonly [Key in keyof T]: DeepReadonly<T[Key]> }
    : T;

export type Plan = DeepReadonly<z.infer<typeof planSchema>>;
export type PlanProtection = Plan["sets"][number]["protections"][number];
export type PlanQuestion = Plan["questions"][number];
export type PlanRequest = Plan["requests"][number];
export type PlanFigure = PlanProtection["figures"][number];
