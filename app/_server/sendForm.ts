import * as z from "zod";
import type { ToldLink } from "../../lib/usecases/exchange/links.ts";
import type { TypedRecipients } from "../../lib/usecases/exchange/recipients.ts";
import { textIn } from "./gate.ts";

const LONGEST = 400;

/** How many recipients a letter can be sent to beside the people of the visit. */
export const FURTHER = [1, 2] as const;

/** Whom a form of sending names, as it was typed. */
export const recipientsTyped = (form: FormData): TypedRecipients => ({
  known: form.getAll("to").flatMap((place) => (/^\d{1,3}$/.test(String(place)) ? [Number(place)] : [])),
  further: FURTHER.map((number) => ({
    name: textIn(form, `name-${number}`).slice(0, LONGEST),
    address: textIn(form, `address-${number}`).slice(0, LONGEST),
  })),
});

const keptSchema = z.object({
  known: z.array(z.number()),
  further: z.array(z.object({ name: z.string(), address: z.string() })),
  faults: z.array(z.object({ field: z.string(), says: z.string() })),
});

/** A form of sending that could not be sent, to be shown again as it was typed. */
export type KeptSending = z.infer<typeof keptSchema>;

/** By what a page of a person's own keeps it. */
export const sendingPage = (visit: string): string => `${visit} sending`;

export const readSending = (text: string | undefined): KeptSending | null => {
  if (text === undefined) return null;
  const read = keptSchema.safeParse(JSON.parse(text));
  return read.success ? read.data : null;
};

/** Links that are told once, with what they are of. */
export interface OnceLinks {
  readonly visit: string;
  readonly links: readonly ToldLink[];
}
