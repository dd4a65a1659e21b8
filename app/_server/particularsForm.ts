import * as z from "zod";
import { particularId } from "../../components/visits/ParticularsForm.tsx";
import type { ParticularFault } from "../../lib/flow/particulars.ts";
import { particulars } from "../../lib/flow/particulars.ts";
import type { Texts } from "../../lib/usecases/visits/particulars.ts";
import { textIn } from "./gate.ts";

const LONGEST = 2_000;

/** The fields of a page of particulars as they were sent. */
export const textsIn = (form: FormData): Texts =>
  Object.fromEntries(
    particulars.flatMap(({ fields }) =>
      fields.flatMap(({ at }) => (form.has(particularId(at)) ? [[at, textIn(form, particularId(at)).slice(0, LONGEST)] as const] : [])),
    ),
  );

const keptSchema = z.object({
  texts: z.record(z.string(), z.string()),
  sets: z.string(),
  faults: z.array(z.object({ at: z.string(), says: z.string() })),
  /** The version of the visit that the page showed. */
  seen: z.number(),
});

/** A page of particulars that could not be kept, to be shown again as it was typed. */
export type KeptParticulars = z.infer<typeof keptSchema> & { readonly faults: readonly ParticularFault[] };

export const readKept = (text: string | undefined): KeptParticulars | null => {
  if (text === undefined) return null;
  const read = keptSchema.safeParse(JSON.parse(text));
  return read.success ? read.data : null;
};
