import { randomUUID } from "node:crypto";
import { mkdir, open, readdir, readFile, rename, rm, stat } from "node:fs/promises";
import { dirname, join } from "node:path";
import { failure, type Result, success } from "../kernel/result.ts";
import type { Fault } from "../model/fault.ts";
import type { Mail } from "./mail.ts";
import { markOf } from "./message.ts";

/** So many digits keep the mails of an office apart, and can still be read out. */
const DIGITS = 10;

type Named = Pick<Mail, "messageId" | "called">;

/** A name that tells what the mail is where it is called something, and by some digits of the message id is that of no other. */
export const fileNameOf = ({ messageId, called = "mail" }: Named): string => `${called}-${markOf(messageId).slice(0, DIGITS)}.eml`;

const lies = (path: string): Promise<boolean> =>
  stat(path).then(
    (found) => found.isFile(),
    () => false,
  );

/** Written whole under a name of its own first, so that the name which is looked for never leads to half a mail. */
export const layWhole = async (path: string, message: Uint8Array): Promise<void> => {
  const unfinished = `${path}.${randomUUID()}.part`;
  try {
    const file = await open(unfinished, "wx", 0o600);
    try {
      await file.writeFile(message);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(unfinished, path);
    // That it has its name is on the disk too before it is told.
    const folder = await open(dirname(path));
    await folder.sync().finally(() => folder.close());
  } catch (error) {
    await rm(unfinished, { force: true });
    throw error;
  }
};

const reasonOf = (error: unknown): string => (error instanceof Error && "code" in error ? String(error.code) : "it cannot be written to");

/**
 * Puts a message into the outbox folder, which is made where there is none. A message whose id already lies there stays as it is. Returns
 * the path of the file; a folder that cannot be written to is a fault.
 */
export const putIntoOutbox = async (folder: string, mail: Named, message: Buffer): Promise<Result<string, Fault>> => {
  const path = join(folder, fileNameOf(mail));
  try {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    if (!(await lies(path))) await layWhole(path, message);
    return success(path);
  } catch (error) {
    return failure({ at: "/outbox", given: `${folder} (${reasonOf(error)})`, wanted: "a folder that mails can be written to" });
  }
};

/** Whom a mail goes to, as its head says it: the addresses of its “To”. */
const toIn = (message: string): string => {
  const [head = ""] = message.split(/\r?\n\r?\n/, 1);
  return /^To:(.*)$/im.exec(head.replaceAll(/\r?\n[ \t]+/g, " "))?.[1] ?? "";
};

const isTo = (message: string, address: string): boolean =>
  (toIn(message).match(/[^\s<>,;"]+@[^\s<>,;"]+/g) ?? []).some((one) => one.toLowerCase() === address.toLowerCase());

/** Deletes the mails to an address that lie in the outbox folder; how many there were. A folder that cannot be read is a fault. */
export const takeFromOutbox = async (folder: string, address: string): Promise<Result<number, Fault>> => {
  try {
    const names = (await readdir(folder).catch(() => [])).filter((name) => name.endsWith(".eml"));
    let count = 0;
    for (const name of names) {
      const path = join(folder, name);
      if (!isTo(await readFile(path, "utf8"), address)) continue;
      await rm(path, { force: true });
      count += 1;
    }
    return success(count);
  } catch (error) {
    return failure({ at: "/outbox", given: `${folder} (${reasonOf(error)})`, wanted: "a folder whose mails can be deleted" });
  }
};
