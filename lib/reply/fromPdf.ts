import { failure, type Result } from "../kernel/result.ts";
import { MEGABYTE, megabytes } from "../letter/sizes.ts";
import type { Fault } from "../model/fault.ts";
import type { Reply } from "../model/reply.ts";
import { type LetterAsked, replyFromForm } from "./fromForm.ts";
import type { ReadForm } from "./readForm.ts";
import type { Reading } from "./values.ts";

/** A filled form is never larger, in bytes; the letter with its form has a tenth of a megabyte to a few. */
export const LARGEST_PDF = 40 * MEGABYTE;

const file = (given: string, wanted: string): Fault => ({ at: "", given, wanted });

/** What is wrong with a file of this many bytes before any of it is read; null where nothing is. */
export const sizeFault = (bytes: number, most: number = LARGEST_PDF, wanted = "a filled form"): Fault | null =>
  bytes <= most ? null : file(`a file of ${megabytes(bytes)}`, `${wanted} of at most ${megabytes(most)}`);

/** Programs look for the mark of a PDF file in its first kilobyte. */
const HEAD = 1024;

/** Where the mark of a PDF file stands; -1 where it has none. */
export const markOfPdf = (bytes: Uint8Array): number => new TextDecoder("latin1").decode(bytes.subarray(0, HEAD)).indexOf("%PDF-");

const WANTED = "the PDF letter with its form filled in and saved";

const FAULTS = {
  password: file("a PDF file that is protected by a password", `${WANTED}, without a password`),
  xfa: file("a PDF file with an XFA form", `${WANTED}; the form of our letter is none of XFA`),
  "no form": file(
    "a PDF file without a form: not our letter, or printed, scanned or flattened",
    `${WANTED}; a form filled in by pen is keyed in on behalf of the vessel`,
  ),
  damage: file("a PDF file that is damaged", WANTED),
  "too slow": file("a PDF file that cannot be read in the time and memory it is given", WANTED),
} as const;

/**
 * A reply from a filled form as a PDF file. Fails with every fault: what is wrong with the file (`at` is empty), or with each answer by its
 * reference. A fault of the file is told before its form is looked at; nothing is half taken in. `by` is who answers where the form does not say.
 */
export const replyFromPdf = async (
  bytes: Uint8Array,
  letter: LetterAsked,
  readForm: ReadForm,
  { by, most, ...reading }: Reading & { readonly by?: Reply["by"]; readonly most?: number } = {},
): Promise<Result<Reply, Fault>> => {
  const large = sizeFault(bytes.byteLength, most);
  if (large !== null) return failure(large);
  if (markOfPdf(bytes) < 0) return failure(file("a file that is no PDF", WANTED));
  const read = await readForm(bytes);
  if (read.found !== "fields") return failure(FAULTS[read.found]);
  return replyFromForm(new Map(read.fields.map(({ name, value }) => [name, value])), letter, reading, by);
};
