import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { open } from "node:fs/promises";

/** Marks a file as a backup of ours: SQLite's "application id", at this place of the file's head. */
const OURS = 0x46684262;
const OURS_AT = 68;
/** SQLite's "user version", which no office uses: the first four bytes of the whole file's SHA-256, read with zeros here. */
const SEAL_AT = 60;
const SEAL_BYTES = 4;
const HEAD = 100;
const MAGIC = "SQLite format 3\0";

const headOf = async (path: string): Promise<Buffer> => {
  const file = await open(path, "r");
  try {
    const head = Buffer.alloc(HEAD);
    await file.read(head, 0, HEAD, 0);
    return head;
  } finally {
    await file.close();
  }
};

/** Whether a file begins as a backup of ours. */
export const isBackup = async (path: string): Promise<boolean> => {
  const head = await headOf(path);
  return head.toString("latin1", 0, MAGIC.length) === MAGIC && head.readUInt32BE(OURS_AT) === OURS;
};

const digestOf = async (path: string): Promise<Buffer> => {
  const hash = createHash("sha256");
  let at = 0;
  for await (const chunk of createReadStream(path) as AsyncIterable<Buffer>) {
    if (at === 0) chunk.fill(0, SEAL_AT, SEAL_AT + SEAL_BYTES);
    hash.update(chunk);
    at += chunk.length;
  }
  return hash.digest().subarray(0, SEAL_BYTES);
};

/** Whether not a byte of a backup is otherwise than it was written. It guards against damage, not against malice. */
export const isWhole = async (path: string): Promise<boolean> =>
  (await headOf(path)).subarray(SEAL_AT, SEAL_AT + SEAL_BYTES).equals(await digestOf(path));

/** Puts mark and seal on a finished file, and waits until all of it is on the disk. */
export const sealFile = async (path: string): Promise<void> => {
  const file = await open(path, "r+");
  try {
    const mark = Buffer.alloc(4);
    mark.writeUInt32BE(OURS);
    await file.write(mark, 0, mark.length, OURS_AT);
    await file.write(await digestOf(path), 0, SEAL_BYTES, SEAL_AT);
    await file.sync();
  } finally {
    await file.close();
  }
};
