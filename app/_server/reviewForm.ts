import * as z from "zod";
import { textIn } from "./gate.ts";

const COMMENT = "comment ";
const LONGEST_KEPT = 4_000;
const MOST_COMMENTS = 400;

/** What the form of a review says. */
export interface ReviewForm {
  readonly words: string;
  /** By pointer; under "" of the whole plan. */
  readonly comments: ReadonlyMap<string, string>;
}

export const reviewForm = (form: FormData): ReviewForm => ({
  words: textIn(form, "words").slice(0, LONGEST_KEPT),
  comments: new Map(
    [...form.keys()]
      .filter((name) => name.startsWith(COMMENT))
      .slice(0, MOST_COMMENTS)
      .map((name) => [name.slice(COMMENT.length), textIn(form, name).slice(0, LONGEST_KEPT)]),
  ),
});

const keptSchema = z.object({
  words: z.string(),
  comments: z.record(z.string(), z.string()),
  faults: z.array(z.object({ field: z.string(), says: z.string() })),
});

/** A form of a review that could not be kept, to be shown again as it was typed. */
export type KeptReview = z.infer<typeof keptSchema>;

/** By what a page of a person’s own keeps it. */
export const reviewPage = (visit: string): string => `${visit} review`;

export const readReview = (text: string | undefined): KeptReview | null => {
  const read = keptSchema.safeParse(JSON.parse(text ?? "null"));
  return read.success ? read.data : null;
};
