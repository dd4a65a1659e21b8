import { failure, type Result, success } from "../kernel/result.ts";
import { MEGABYTE, megabytes } from "../letter/sizes.ts";
import type { Fault } from "../model/fault.ts";
import { foreignIn, hidesArchive, textIn } from "./foreign.ts";
import { markOfPdf, sizeFault } from "./fromPdf.ts";
import { beginsAsJpeg, beginsAsPng, type Extent, endOfJpeg, endOfPdf, endOfPng } from "./whole.ts";

/** One file that comes with a reply is never larger, in bytes. */
export const LARGEST_UPLOAD = 10 * MEGABYTE;

/** All files that come with the reply to one letter are never larger together, in bytes. */
export const LARGEST_TOGETHER = 40 * MEGABYTE;

/** A kind of file that is taken, and all that goes by it. */
interface KindFacts {
  readonly words: string;
  /** By which it is served; names of types by which browsers tell it follow. */
  readonly types: readonly [own: string, ...others: string[]];
  readonly endings: readonly [own: string, ...others: string[]];
  readonly begins: (bytes: Uint8Array) => boolean;
  readonly end: (bytes: Uint8Array) => Extent;
}

/** PDF last: its mark need not stand at the very beginning, theirs must. */
const KINDS = {
  jpeg: {
    words: "a JPEG picture",
    types: ["image/jpeg", "image/jpg", "image/pjpeg"],
    endings: ["jpg", "jpeg", "jpe", "jfif"],
    begins: beginsAsJpeg,
    end: endOfJpeg,
  },
  png: { words: "a PNG picture", types: ["image/png", "image/x-png"], endings: ["png"], begins: beginsAsPng, end: endOfPng },
  pdf: {
    words: "a PDF file",
    types: ["application/pdf", "application/x-pdf"],
    endings: ["pdf"],
    begins: (bytes) => markOfPdf(bytes) >= 0,
    end: endOfPdf,
  },
} as const satisfies Readonly<Record<string, KindFacts>>;

export type FileKind = keyof typeof KINDS;

const ALL = Object.keys(KINDS) as readonly FileKind[];
const factsOf = (kind: FileKind): KindFacts => KINDS[kind];

/** The type by which a file of a kind is kept and served. */
export const typeOfKind = (kind: FileKind): string => factsOf(kind).types[0];

/** The ending of a file's name by the type that it is kept with. */
export const endingOfType = (type: string): string => {
  const kind = ALL.find((one) => typeOfKind(one) === type);
  return kind === undefined ? "bin" : factsOf(kind).endings[0];
};

/** What is taken, for the page. */
export const ACCEPTED_WORDS = `PDF, JPEG or PNG; at most ${megabytes(LARGEST_UPLOAD)} each, ${megabytes(LARGEST_TOGETHER)} together`;

/** What is taken, for the browser's choice of files. */
export const ACCEPTED_ENDINGS = ALL.flatMap((kind) => factsOf(kind).endings.map((ending) => `.${ending}`)).join(",");

/** What its sender says of a file: never believed, only compared. */
export interface Declared {
  readonly name: string;
  readonly type?: string;
}

const WANTED = "a PDF, JPEG or PNG file";

const fault = (given: string, wanted: string = WANTED): Fault => ({ at: "", given, wanted });

/** Telephones and mail programs put a little behind the end of a file; whole videos and other files are not taken along. */
const MOST_BEHIND = 65_536;

/** A sign of a name in a PDF file, written as itself or by its number. */
const writtenAs = (sign: string): string => {
  const digits = sign.charCodeAt(0).toString(16);
  return `(?:${sign}|#(?:${digits}|${digits.toUpperCase()}))`;
};

const named = (name: string): string => `/${[...name].map(writtenAs).join("")}(?![\\w.#-])`;

/**
 * What a PDF file may not bring along. Read from the file's bytes, so that what lies packed in it is not seen: no more than a first look, for a file
 * that is only ever given as a download. An action on opening is let pass: nearly every program writes one, to show the first page.
 */
const BROUGHT_ALONG: readonly (readonly [RegExp, string])[] = [
  [new RegExp(named("JavaScript")), "a program (JavaScript)"],
  [new RegExp(named("Launch")), "a call of another program"],
  [new RegExp(`${named("EmbeddedFile")}|${named("EmbeddedFiles")}|${named("EF")}\\s*<<`), "other files"],
  [new RegExp(named("RichMedia")), "a film or a program"],
];

const broughtAlong = (bytes: Uint8Array): string | null => {
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("latin1");
  return BROUGHT_ALONG.find(([sign]) => sign.test(text))?.[1] ?? null;
};

/** Whether another program would take a file, which ends at a place, for one of another kind. */
const hidesAnother = (bytes: Uint8Array, kind: FileKind, end: number): boolean =>
  hidesArchive(bytes) || foreignIn(bytes.subarray(end)) !== null || (kind !== "pdf" && markOfPdf(bytes) >= 0);

/** What is wrong with a file of which it is known what it wants to be. */
const faultIn = (bytes: Uint8Array, kind: FileKind): Fault | null => {
  const { words, end } = factsOf(kind);
  const extent = end(bytes);
  if (extent === "cut off") return fault(`${words} that is cut off in the middle`, "the whole file; send it once more");
  if (extent === "damaged") return fault(`${words} that is damaged`, `${WANTED} that can be opened`);
  const behind = bytes.length - extent;
  if (behind > MOST_BEHIND)
    return fault(`${words} with ${megabytes(behind)} of something else behind it`, "the file alone; a still picture without its video");
  if (hidesAnother(bytes, kind, extent)) return fault(`${words} with another file hidden in it`, "the file alone");
  const along = kind === "pdf" ? broughtAlong(bytes) : null;
  return along === null ? null : fault(`${words} with ${along} in it`, `${words} without; print it to PDF anew`);
};

/** The kind that a name's ending or a type tells; undefined where it tells none that is taken. */
const declaredKinds = ({ name, type = "" }: Declared): readonly FileKind[] => {
  const ending = /\.([a-z0-9]+)\s*$/i.exec(name)?.[1]?.toLowerCase() ?? "";
  const own = type.split(";")[0]?.trim().toLowerCase() ?? "";
  return ALL.filter((kind) => factsOf(kind).endings.includes(ending) || factsOf(kind).types.includes(own));
};

/** What a file of none of the kinds is, in words. */
const noneOfThem = (bytes: Uint8Array): Fault => {
  const foreign = foreignIn(bytes) ?? textIn(bytes);
  return foreign === null
    ? fault("a file of another kind")
    : fault(foreign.what, foreign.instead === undefined ? WANTED : `${WANTED}; ${foreign.instead}`);
};

/**
 * What a file is by its content, which must be whole, of a size, and what its sender says it is. How it begins decides: what begins as another kind
 * is of that kind, whatever stands behind.
 */
export const kindOfFile = (content: Uint8Array, declared: Declared): Result<FileKind, Fault> => {
  if (content.length === 0) return failure(fault("an empty file"));
  const large = sizeFault(content.length, LARGEST_UPLOAD, "a file");
  if (large !== null) return failure(large);
  const kind = foreignIn(content) === null ? ALL.find((one) => factsOf(one).begins(content)) : undefined;
  if (kind === undefined) return failure(noneOfThem(content));
  const wrong = faultIn(content, kind);
  if (wrong !== null) return failure(wrong);
  const other = declaredKinds(declared).find((one) => one !== kind);
  return other === undefined
    ? success(kind)
    : failure(fault(`${factsOf(kind).words} that is said to be ${factsOf(other).words}`, "a file whose name says what it holds"));
};
