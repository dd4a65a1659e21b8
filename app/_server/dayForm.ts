import * as z from "zod";
import type { DayTexts } from "../../lib/flow/dayForm.ts";

const texts = z.record(z.string(), z.string());

const LONGEST = 60;
const MOST_FIELDS = 4_000;

/** Everything typed in the form that arranges a day. */
export const dayTextsIn = (form: FormData): DayTexts =>
  Object.fromEntries(
    [...form]
      .filter(([name, value]) => typeof value === "string" && value !== "" && !["token", "was", "act"].includes(name))
      .slice(0, MOST_FIELDS)
      .map(([name, value]) => [name.slice(0, 120), String(value).slice(0, LONGEST)]),
  );

/** What the page showed of the record; nothing where that cannot be read. */
export const dayWasIn = (form: FormData): DayTexts => {
  const was = form.get("was");
  try {
    const read = texts.safeParse(JSON.parse(typeof was === "string" ? was : "{}"));
    return read.success ? read.data : {};
  } catch {
    return {};
  }
};

const keptSchema = z.object({ texts, faults: z.array(z.object({ field: z.string(), says: z.string() })) });

/** A day that could not be kept as it was typed, to be shown again. */
export type KeptDay = Readonly<z.infer<typeof keptSchema>>;

export const readKeptDay = (text: string | undefined): KeptDay | null => {
  if (text === undefined) return null;
  const read = keptSchema.safeParse(JSON.parse(text));
  return read.success ? read.data : null;
};
