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

const texts = z.record(z.string(), z.string());

/** What the page showed of the record; nothing where that is not told in a form that can be read. */
export const wasIn = (form: FormData): Texts => {
  try {
    const read = texts.safeParse(JSON.parse(textIn(form, "was")));
    return read.success ? read.data : {};
  } catch {
    return {};
  }
};

const keptSchema = z.object({
  texts,
  was: texts.default({}),
  sets: z.string(),
  alike: z.string().default("no"),
  faults: z.array(z.object({ at: z.string(), says: z.string() })),
});

/** The answer to the script that keeps a form while it is filled in. */
export const keptAnswer = (when: string): Response =>
  Response.json({ told: `Kept as typed at ${when.slice(11, 19)} UTC; it counts once it is saved.` });

/** A page of particulars that could not be kept, to be shown again as it was typed. */
export type KeptParticulars = z.infer<typeof keptSchema> & { readonly faults: readonly ParticularFault[] };

export const readKept = (text: string | undefined): KeptParticulars | null => {
  if (text === undefined) return null;
  const read = keptSchema.safeParse(JSON.parse(text));
  return read.success ? read.data : null;
};
