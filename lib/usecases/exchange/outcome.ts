import type { TakenIn } from "../../reply/weigh.ts";
import type { Frame, Json } from "../../store/store.ts";

/** What a visit had before a reply was taken in, for taking that back. */
export interface Before extends Frame {
  readonly answers: readonly { readonly at: string; readonly value?: Json }[];
  /** The version that taking it in made. */
  readonly made: number;
}

/** What is kept of taking in: what became of the reply, and what stood before. */
export type KeptOutcome = TakenIn & { readonly before?: Before };

/** An outcome as the store gives it back; it was written by us alone. */
export const outcomeKept = (outcome: Json): KeptOutcome => outcome as unknown as KeptOutcome;
