import type { Erasure, ErasureAsked } from "../../lib/usecases/privacy/erase.ts";
import { mailsWords } from "../../lib/usecases/privacy/erase.ts";
import { textIn } from "./gate.ts";

const LONGEST = 254;
const MOST_TICKS = 2_000;

const listIn = (form: FormData, name: string): readonly string[] =>
  form
    .getAll(name)
    .flatMap((one) => (typeof one === "string" ? [one] : []))
    .slice(0, MOST_TICKS);

/** What the form that erases a person asks for. */
export const erasureIn = (form: FormData): ErasureAsked => ({
  who: textIn(form, "who").slice(0, LONGEST).trim(),
  again: textIn(form, "again").slice(0, LONGEST),
  takesOver: textIn(form, "takes-over"),
  texts: listIn(form, "text"),
  files: listIn(form, "file"),
});

/** What was typed and ticked, so that a page that turns it back shows it again. */
export const erasureTyped = ({ again, takesOver, texts, files }: ErasureAsked): string => [again, takesOver, ...texts, ...files].join("\n");

export const typedErasure = (typed = ""): { readonly again: string; readonly takesOver: string; readonly ticked: ReadonlySet<string> } => {
  const [again = "", takesOver = "", ...ticked] = typed.split("\n");
  return { again, takesOver, ticked: new Set(ticked) };
};

/** What became of it, in words; without the name, which is no more. */
export const erasedWords = ({ called, rows, letters, files, left, mails }: Erasure): string =>
  [
    `Erased. What stays is of “${called}”.`,
    `Rows changed or removed: ${rows}. Letters that gave way to a page that says so: ${letters}. Files removed: ${files}. ${mailsWords(mails)}`,
    ...(left === 0 ? [] : [`Texts that were not ticked and still hold the name: ${left}.`]),
    "A backup that was made before still holds the person.",
  ].join("\n");
