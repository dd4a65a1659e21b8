import { rmSync } from "node:fs";
import { open, rm } from "node:fs/promises";

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

/** Waits until a file, or the names in a folder, are on the disk. */
export const settle = async (path: string): Promise<void> => {
  const handle = await open(path, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
};
