import * as z from "zod";

const takenOut = z.object({ id: z.number(), place: z.number(), frame: z.record(z.string(), z.json()) });

/** Sets that a person took out of a visit, the last first, as they must be known to be put back. */
export type Removed = z.infer<typeof takenOut>;

export const removedIn = (text: string | undefined): readonly Removed[] => {
  const read = z.array(takenOut).safeParse(JSON.parse(text ?? "[]"));
  return read.success ? read.data : [];
};
