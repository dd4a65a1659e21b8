import { open, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { failure, type Result, success } from "../kernel/result.ts";
import type { Fault } from "../model/fault.ts";
import { makeFolders } from "../store/copy/files.ts";

/** A visit file is some kilobytes; nothing near this size is one. */
export const LARGEST = 2 * 1024 * 1024;

const wanted = (given: string, what: string): Fault => ({ at: "", given, wanted: what });

const codeOf = (error: unknown): string => (error instanceof Error && "code" in error ? String(error.code) : "");

const WORDS: Readonly<Record<string, string>> = {
  ENOENT: "no such file",
  EACCES: "a file that may not be read",
  EISDIR: "a directory",
  ENAMETOOLONG: "a name that is too long",
};

/** The text of a file, or a fault: not there, a directory, too large, not UTF-8. */
export const readTextFile = async (path: string): Promise<Result<string, Fault>> => {
  try {
    const about = await stat(path);
    if (about.isDirectory()) return failure(wanted("a directory", "a visit file"));
    if (about.size > LARGEST) return failure(wanted(`${about.size} bytes`, `a visit file of at most ${LARGEST} bytes`));
    const bytes = await readFile(path);
    return success(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch (error) {
    if (error instanceof TypeError) return failure(wanted("bytes that are not UTF-8 text", "a visit file in JSON"));
    return failure(wanted(WORDS[codeOf(error)] ?? "a file that cannot be read", "a visit file"));
  }
};

/** Makes sure that files can be written to a folder, named so on the command line; the fault says why not. */
export const writableFolder = async (folder: string, named = "a folder for --out"): Promise<Result<string, Fault>> => {
  const probe = join(folder, `.forehail-${process.pid}`);
  try {
    await makeFolders(resolve(folder));
    const handle = await open(probe, "w");
    await handle.close();
    await rm(probe);
    return success(folder);
  } catch (error) {
    const why =
      codeOf(error) === "EACCES" || codeOf(error) === "EROFS" ? "a folder that may not be written" : "a place where no folder can be made";
    return failure({ at: "", given: `${why} (${folder})`, wanted: `${named} that can be written` });
  }
};

/** Writes a whole file or nothing: under another name first, then renamed. */
export const writeWhole = async (path: string, content: string | Uint8Array): Promise<void> => {
  const partial = `${path}.partial-${process.pid}`;
  try {
    await writeFile(partial, content);
    await rename(partial, path);
  } catch (error) {
    await rm(partial, { force: true });
    throw error;
  }
};
