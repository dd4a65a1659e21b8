import { existsSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import { settle } from "./copy/files.ts";

/** What lies beside an embedded office that was moved, so that nobody goes on with the old one by mistake: the server, a nightly backup, a second move. */
export const markAt = (path: string): string => `${path}.moved`;

/** Whether the office in a file was moved elsewhere. */
export const isMoved = (path: string): boolean => existsSync(markAt(path));

/** Marks the office in a file as moved to an address, and says what leads there; both are shown as they are given. Throws where the mark cannot be written. */
export const markMoved = async (path: string, to: string, how: string): Promise<void> => {
  await writeFile(markAt(path), `The office beside this file was moved to ${to}.\n${how}\nTo go on with the old one, delete this file.\n`, {
    mode: 0o600,
  });
  await settle(markAt(path));
  await settle(dirname(path));
};
