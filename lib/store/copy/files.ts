import { rmSync } from "node:fs";
import { mkdir, open, rm, stat } from "node:fs/promises";
import { dirname } from "node:path";

/** A database file and whatever SQLite keeps beside it. */
const BESIDE = ["", "-wal", "-shm", "-journal"] as const;

const unfinished = new Set<string>();

/** The name under which a file is made until it is whole; remembered so that it goes if the program is ended meanwhile. */
export const unfinishedAt = (path: string): string => {
  const partial = `${path}.partial-${process.pid}`;
  unfinished.add(partial);
  return partial;
};

/** Deletes what was begun under a name; nothing where it got its own name meanwhile. */
export const removeUnfinished = async (partial: string): Promise<void> => {
  for (const ending of BESIDE) await rm(`${partial}${ending}`, { force: true });
  unfinished.delete(partial);
};

/** For a program that ends at once: deletes all that was begun and is not whole. */
export const removeAllUnfinished = (): void => {
  for (const partial of unfinished) for (const ending of BESIDE) rmSync(`${partial}${ending}`, { force: true });
};

const isMissing = (error: unknown): boolean => error instanceof Error && "code" in error && error.code === "ENOENT";

/** Makes a folder and those above it one by one: Node's recursive form never ends on some file systems. Throws where one cannot be made. */
export const makeFolders = async (folder: string, mode?: number): Promise<void> => {
  try {
    if ((await stat(folder)).isDirectory()) return;
  } catch (error) {
    if (!isMissing(error) || dirname(folder) === folder) throw error;
    await makeFolders(dirname(folder), mode);
  }
  await mkdir(folder, { mode });
};

/** Waits until a file, or the names in a folder, are on the disk. */
export const settle = async (path: string): Promise<void> => {
  const handle = await open(path, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
};
