import { existsSync } from "node:fs";
import { open, rename } from "node:fs/promises";
import { dirname } from "node:path";
import { type Result, success } from "../../kernel/result.ts";
import { endAt, isPostgres } from "../../store/copy/carry.ts";
import type { WritableEnd } from "../../store/copy/end.ts";
import { makeFolders, removeUnfinished, settle, unfinishedAt } from "../../store/copy/files.ts";
import { postgresEnd } from "../../store/copy/postgresEnd.ts";
import { sqliteEnd } from "../../store/copy/sqliteEnd.ts";
import { isMoved, markAt } from "../../store/moved.ts";
import { bad, type CopyFault, failed, shown } from "./outcome.ts";
import { holdings, makeTables } from "./tables.ts";

const EMPTY = "an empty one, so that nothing is overwritten";

const full = (address: string, held: readonly string[]): Result<never, CopyFault> =>
  bad("--to", `${shown(address)}, which holds ${held.join(", ")}`, EMPTY);

const heldAt = async (address: string): Promise<readonly string[]> => {
  const end = await endAt(address, "read");
  try {
    return await holdings(end);
  } finally {
    await end.close();
  }
};

/** A file that is there already may be open in a server: it is never replaced, whatever it holds. */
export const refusedFile = async (path: string): Promise<Result<true, CopyFault>> => {
  if (isMoved(path))
    return bad("--to", `${path}, whose office was moved, as ${markAt(path)} says`, "a path where none was, or that file deleted first");
  if (["", "-wal", "-journal"].every((ending) => !existsSync(`${path}${ending}`))) return success(true);
  const held = await heldAt(path).catch(() => []);
  if (held.length > 0) return full(path, held);
  return bad("--to", `${path}, where a file is already`, "a path where none is");
};

/** Gives a finished file its name. */
export const named = async (partial: string, path: string): Promise<void> => {
  await rename(partial, path);
  await settle(dirname(path));
};

/** An empty office that is being filled: `finish` makes it one, `abandon` leaves nothing of it. Both close it. */
export interface Target {
  readonly end: WritableEnd;
  readonly finish: () => Promise<void>;
  readonly abandon: () => Promise<void>;
}

const file = async (path: string): Promise<Result<Target, CopyFault>> => {
  const free = await refusedFile(path);
  if (!free.ok) return free;
  const partial = unfinishedAt(path);
  const abandon = () => removeUnfinished(partial);
  await makeFolders(dirname(path), 0o700);
  await (await open(partial, "wx", 0o600)).close();
  const made = await makeTables(partial).catch(async (error: unknown) => {
    await abandon();
    throw error;
  });
  if (!made.ok) {
    await abandon();
    return failed(made.faults.join("; "));
  }
  const end = sqliteEnd(partial, "write");
  return success({
    end,
    finish: async () => {
      await end.commit();
      await end.close();
      await named(partial, path);
    },
    abandon: async () => {
      await end.close();
      await abandon();
    },
  });
};

const server = async (url: string): Promise<Result<Target, CopyFault>> => {
  const held = await heldAt(url);
  if (held.length > 0) return full(url, held);
  const made = await makeTables(url);
  if (!made.ok) return failed(made.faults.join("; "));
  const end = await postgresEnd(url, "write");
  // Looked at once more now that nobody else can write.
  const meanwhile = await holdings(end);
  if (meanwhile.length > 0) {
    await end.close();
    return full(url, meanwhile);
  }
  return success({
    end,
    finish: async () => {
      await end.commit();
      await end.close();
    },
    abandon: () => end.close(),
  });
};

/** Opens an empty office at an address, its tables made by this program. Refuses one that holds anything, naming it. */
export const openTarget = (address: string): Promise<Result<Target, CopyFault>> => (isPostgres(address) ? server(address) : file(address));
