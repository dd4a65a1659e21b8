import { open, readdir, rename, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { type Result, success } from "../../kernel/result.ts";
import { describe, openBackup } from "../../store/copy/backupFile.ts";
import { carry, isPostgres } from "../../store/copy/carry.ts";
import { type Counted, countAll, differing } from "../../store/copy/digest.ts";
import { removeUnfinished, settle, unfinishedAt } from "../../store/copy/files.ts";
import { postgresEnd } from "../../store/copy/postgresEnd.ts";
import { isBackup, sealFile } from "../../store/copy/seal.ts";
import { sqliteEnd } from "../../store/copy/sqliteEnd.ts";
import { mailsOf } from "./outboxMails.ts";
import { bad, type CopyFault, failed, shown, stopping } from "./outcome.ts";
import { officeIsAt } from "./source.ts";
import { known, makeTables } from "./tables.ts";

export interface BackupAsked {
  /** The office's database: a file's path or `postgres://…`. */
  readonly address: string;
  /** Where its mails are laid. */
  readonly outbox: string;
  /** The folder for the backup; it is there and can be written. */
  readonly folder: string;
  /** How many backups of ours stay in the folder, the new one among them; all where it is left out. */
  readonly keep?: number;
  /** UTC, ISO 8601. */
  readonly now: string;
}

export interface BackupDone {
  readonly file: string;
  readonly bytes: number;
  readonly counts: readonly Counted[];
  readonly mails: number;
  /** Names of older backups that were deleted. */
  readonly removed: readonly string[];
}

const NAME = /^forehail-\d{8}T\d{6}\.\d{3}Z\.db$/;
const nameAt = (now: string): string => `forehail-${now.replaceAll(/[-:]/g, "")}.db`;

/** An embedded office is copied page by page while its one look at it lasts: rows, keys and seals come as they are. */
const fromSqlite = async (path: string, target: string): Promise<Result<readonly Counted[], CopyFault>> => {
  const end = sqliteEnd(path, "read");
  try {
    if (end.migrations.length === 0) return bad("FOREHAIL_DATA", `${path}, which holds no office`, "the data folder of an office");
    const counts = await countAll(end);
    await end.db.backup(target, { progress: () => PAGES });
    return success(counts);
  } finally {
    await end.close();
  }
};
const PAGES = 2000;

const fromPostgres = async (address: string, target: string): Promise<Result<readonly Counted[], CopyFault>> => {
  const from = await postgresEnd(address, "read");
  try {
    const last = from.migrations.at(-1);
    if (last === undefined) return bad("DATABASE_URL", `${shown(address)}, which holds no office`, "the database of an office");
    if (!(await known()).includes(last)) return bad("DATABASE_URL", `tables of a newer program (${last})`, "the program that serves them");
    const made = await makeTables(target, last);
    if (!made.ok) return failed(made.faults.join("; "));
    const to = sqliteEnd(target, "write");
    try {
      const counts = await carry(from, to);
      await to.commit();
      return success(counts);
    } finally {
      await to.close();
    }
  } finally {
    await from.close();
  }
};

/** Opened anew and read whole, before it is called a backup. */
const proven = async (partial: string, counts: readonly Counted[]): Promise<string | null> => {
  const opened = await openBackup(partial);
  if (!opened.ok) return opened.faults.join("; ");
  const other = differing(counts, await countAll(opened.value));
  await opened.value.close();
  return other.length === 0 ? null : `${other.join(", ")} are not what the office held`;
};

const backupsIn = async (folder: string): Promise<readonly string[]> => {
  const ours: string[] = [];
  for (const entry of await readdir(folder, { withFileTypes: true }))
    if (entry.isFile() && NAME.test(entry.name) && (await isBackup(join(folder, entry.name)))) ours.push(entry.name);
  return ours.sort();
};

/** Deletes the oldest backups of ours beyond so many; the new one always stays. */
const thinOut = async (folder: string, keep: number | undefined, fresh: string): Promise<readonly string[]> => {
  if (keep === undefined) return [];
  const others = (await backupsIn(folder)).filter((name) => name !== fresh);
  const removed = others.slice(0, Math.max(0, others.length - (keep - 1)));
  for (const name of removed) await rm(join(folder, name));
  return removed;
};

/** What a run left that was ended by force: nothing is still being written after a day. */
const OLD = 24 * 60 * 60 * 1000;
const LEFT = /^\.forehail-\d{8}T\d{6}\.\d{3}Z\.db\.partial-\d+(-wal|-shm|-journal)?$/;
const clearOld = async (folder: string, now: string): Promise<void> => {
  for (const name of (await readdir(folder)).filter((one) => LEFT.test(one)))
    if (Date.parse(now) - (await stat(join(folder, name))).mtimeMs > OLD) await rm(join(folder, name), { force: true });
};

const written = async (
  { address, outbox, now }: BackupAsked,
  partial: string,
): Promise<Result<Omit<BackupDone, "file" | "removed">, CopyFault>> => {
  await (await open(partial, "wx", 0o600)).close();
  const counts = await (isPostgres(address) ? fromPostgres(address, partial) : fromSqlite(address, partial));
  if (!counts.ok) return counts;
  const about = { madeAt: now, from: isPostgres(address) ? "postgres" : "sqlite" } as const;
  const mails = await describe(partial, about, counts.value, mailsOf(outbox));
  await sealFile(partial);
  const wrong = await proven(partial, counts.value);
  if (wrong !== null) return failed(`the backup was written and is not right: ${wrong}`);
  return success({ counts: counts.value, mails, bytes: (await stat(partial)).size });
};

/** Writes the office, as it is at one moment, into one file that was read again whole before it got its name; nothing half done stays. */
export const backUp = (asked: BackupAsked): Promise<Result<BackupDone, CopyFault>> =>
  stopping(`no backup was written to ${asked.folder}`, async () => {
    const { address, folder, keep, now } = asked;
    const there = officeIsAt(address);
    if (!there.ok) return there;
    await clearOld(folder, now);
    const [name, partial] = [nameAt(now), unfinishedAt(join(folder, `.${nameAt(now)}`))];
    try {
      const done = await written(asked, partial);
      if (!done.ok) return done;
      await rename(partial, join(folder, name));
      await settle(folder);
      return success({ ...done.value, file: join(folder, name), removed: await thinOut(folder, keep, name) });
    } finally {
      await removeUnfinished(partial);
    }
  });
