import { createHash } from "node:crypto";
import type { World } from "../../kernel/ports.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { megabytes } from "../../letter/sizes.ts";
import { fileStem } from "../../letter/words.ts";
import { type Fault, quotedWords } from "../../model/fault.ts";
import { type Declared, endingOfType, kindOfFile, LARGEST_TOGETHER, typeOfKind } from "../../reply/fileKind.ts";
import { CONFIRMED } from "../../store/changes.ts";
import type { Attachment, SentLetter } from "../../store/exchanges.ts";
import type { Act, Store } from "../../store/store.ts";

/** What a file that comes with a reply can be, as its sender chooses it. */
export const WHAT_FILES = ["test procedure", "certificate", "last record", "photograph", "something else"] as const;

export type WhatFile = (typeof WHAT_FILES)[number];

/** A file as it comes with a form. */
export interface GivenFile extends Declared {
  /** One of `WHAT_FILES`. */
  readonly what: string;
  readonly content: Uint8Array;
}

export interface FileOffice {
  readonly store: Store;
  readonly world: World;
}

const LONGEST_NAME = 120;

/** A file's name as its sender gave it, for showing only: one line, nothing hidden in it, its ending kept where it is too long. */
export const shownName = (given: string): string => {
  const line = given
    .replace(/[\p{Cc}\p{Zl}\p{Zp}]/gu, " ")
    // Signs that turn the direction of writing or are not seen, and halves of signs.
    .replace(/\p{C}/gu, "")
    .replace(/\s+/g, " ")
    .trim();
  // Some browsers send the whole path.
  const name = line.split(/[/\\]/).at(-1)?.trim() ?? "";
  if (name.length <= LONGEST_NAME) return name === "" ? "without a name" : name;
  const ending = /\.[A-Za-z0-9]{1,5}$/.exec(name)?.[0] ?? "";
  return `${name.slice(0, LONGEST_NAME - ending.length - 1).replace(/\p{Cs}/gu, "")}…${ending}`;
};

const whatOf = (given: string): WhatFile | undefined => WHAT_FILES.find((what) => what === given);

const closed = (given: string): Fault => ({ at: "", given, wanted: `none more: ${CONFIRMED}` });

/** Why the store did not keep a file: the reply is confirmed, or the files together are too large. */
const notKept = async ({ store }: FileOffice, sent: SentLetter, size: number): Promise<Fault> => {
  const { confirmed } = await store.replyOf(sent.id);
  if (confirmed !== undefined) return closed("a file");
  const kept = (await store.attachmentsOf(sent.id)).reduce((sum, file) => sum + file.size, 0);
  return {
    at: "",
    given: `a file of ${megabytes(size)} with ${megabytes(kept)} of files there already`,
    wanted: `at most ${megabytes(LARGEST_TOGETHER)} together`,
  };
};

/**
 * Keeps a file that comes with the reply to a letter, once, however often it is sent. Fails where its content is not one that is taken, where
 * all files together would be too large, and where the reply is confirmed.
 */
export const addFile = async (office: FileOffice, sent: SentLetter, given: GivenFile, by: Act): Promise<Result<Attachment, Fault>> => {
  const { store, world } = office;
  const { what: said, name, content } = given;
  const what = whatOf(said);
  if (what === undefined)
    return failure({ at: "", given: `a file that is said to be ${quotedWords(said)}`, wanted: `one of: ${WHAT_FILES.join(", ")}` });
  const kind = kindOfFile(content, given);
  if (!kind.ok) return kind;
  const file: Attachment = {
    id: world.newId(),
    sent: sent.id,
    what,
    name: shownName(name),
    type: typeOfKind(kind.value),
    size: content.length,
    digest: createHash("sha256").update(content).digest("hex"),
    ...by,
  };
  const done = await store.keepAttachment(file, content, LARGEST_TOGETHER);
  if (!done.ok) return failure(await notKept(office, sent, file.size));
  // Where the same file was there already, it is the one from before.
  return success((await store.attachmentsOf(sent.id)).find(({ digest }) => digest === file.digest) ?? file);
};

/** Takes a file away again. Fails where the reply is confirmed. */
export const dropFile = async ({ store }: Pick<FileOffice, "store">, sent: SentLetter, id: string): Promise<Result<true, Fault>> => {
  const done = await store.dropAttachment(sent.id, id);
  return done.ok ? done : failure(closed("a file to be taken away"));
};

/** The name by which a file is given out, ours and not its sender's: letter, what it is, its place among the letter's files. */
export const downloadName = (letter: number, { what, type }: Pick<Attachment, "what" | "type">, place: number): string =>
  `letter-${letter}-${fileStem(what)}-${place}.${endingOfType(type)}`;

/** A file to be given out. */
export interface FileToTake {
  readonly name: string;
  readonly type: string;
  readonly content: Uint8Array;
}

/** A file that came with a reply of this visit; null where there is none of that id. */
export const fileToTake = async (store: Store, visit: string, id: string): Promise<FileToTake | null> => {
  const file = await store.attachment(id);
  const sent = file === null ? null : await store.sent(file.sent);
  if (file === null || sent === null || sent.visit !== visit) return null;
  const place = (await store.attachmentsOf(sent.id)).findIndex((one) => one.id === id) + 1;
  return { name: downloadName(sent.number, file, place), type: file.type, content: file.content };
};
