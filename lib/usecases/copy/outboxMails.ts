import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { layWhole } from "../../outside/outbox.ts";
import type { KeptMail } from "../../store/copy/backupFile.ts";
import { makeFolders } from "../../store/copy/files.ts";

const isMail = (name: string): boolean => /^[^/\\]+\.eml$/.test(name) && !name.startsWith(".");

const namesIn = async (folder: string): Promise<readonly string[]> => {
  try {
    return (await readdir(folder)).filter(isMail).sort();
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return [];
    throw error;
  }
};

/** The mails that lie in an outbox folder, one by one. One that is taken away meanwhile was sent on, and is left out. */
export async function* mailsOf(folder: string): AsyncIterable<KeptMail> {
  for (const name of await namesIn(folder)) {
    const content = await readFile(join(folder, name)).catch(() => null);
    if (content !== null) yield { name, content };
  }
}

/** Lays mails into an outbox folder; one whose name lies there stays as it is. Gives how many were laid. */
export const layMails = async (folder: string, mails: Iterable<KeptMail>): Promise<number> => {
  const there = new Set(await namesIn(folder));
  let laid = 0;
  for (const { name, content } of mails) {
    if (there.has(name) || !isMail(name)) continue;
    if (laid === 0) await makeFolders(folder, 0o700);
    await layWhole(join(folder, name), content);
    laid += 1;
  }
  return laid;
};
