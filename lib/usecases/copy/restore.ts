import { constants, existsSync } from "node:fs";
import { chmod, copyFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { type Result, success } from "../../kernel/result.ts";
import { brokenIn, mailsIn, openBackup, undescribe } from "../../store/copy/backupFile.ts";
import { carry, endAt, isPostgres } from "../../store/copy/carry.ts";
import { type Counted, countAll, differing } from "../../store/copy/digest.ts";
import type { End } from "../../store/copy/end.ts";
import { makeFolders, removeUnfinished, settle, unfinishedAt } from "../../store/copy/files.ts";
import { type SqliteEnd, sqliteEnd } from "../../store/copy/sqliteEnd.ts";
import { unlike } from "../../store/copy/table.ts";
import { layMails } from "./outboxMails.ts";
import { bad, type CopyFault, failed, shown, stopping, wordsOf } from "./outcome.ts";
import { inScratch, known, makeTables } from "./tables.ts";
import { named, openTarget, refusedFile, type Target } from "./target.ts";

export interface RestoreAsked {
  readonly file: string;
  /** Where the office shall be: a file's path or `postgres://…`. */
  readonly to: string;
  /** Where its mails shall lie; null where they are left in the backup. */
  readonly outbox: string | null;
}

export interface RestoreDone {
  readonly counts: readonly Counted[];
  /** How many mails were laid into the outbox. */
  readonly mails: number;
  /** Migrations that the backup had not seen: done on the way to a PostgreSQL server, else at the next start. */
  readonly toCome: readonly string[];
}

/** A copy of the backup beside its target is an office once what tells of the backup is taken out. */
const unpacked = async (file: string, path: string): Promise<void> => {
  await copyFile(file, path, constants.COPYFILE_EXCL);
  await chmod(path, 0o600);
  undescribe(path);
};

const provenFile = async (path: string, counts: readonly Counted[]): Promise<string | null> => {
  const end = sqliteEnd(path, "read");
  const broken = brokenIn(end.db);
  const other = differing(counts, await countAll(end));
  await end.close();
  return broken.length + other.length === 0
    ? null
    : [...broken, ...other.map((table) => `${table} is not what the backup holds`)].join("; ");
};

const laid = async (outbox: string | null, backup: SqliteEnd): Promise<number> => (outbox === null ? 0 : layMails(outbox, mailsIn(backup)));

const intoFile = async (backup: SqliteEnd, { file, to, outbox }: RestoreAsked): Promise<Result<Omit<RestoreDone, "toCome">, CopyFault>> => {
  const free = await refusedFile(to);
  if (!free.ok) return free;
  const partial = unfinishedAt(to);
  try {
    await makeFolders(dirname(to), 0o700);
    await unpacked(file, partial);
    const counts = await countAll(backup);
    const wrong = await provenFile(partial, counts);
    if (wrong !== null) return failed(`nothing was restored: ${wrong}`);
    await settle(partial);
    const mails = await laid(outbox, backup);
    await named(partial, to);
    return success({ counts, mails });
  } finally {
    await removeUnfinished(partial);
  }
};

/** Does some work with an older backup brought up to date, in a copy; a backup of today's tables is read as it is. */
const upToDate = async <Value>(backup: SqliteEnd, file: string, target: End, work: (from: End) => Promise<Value>): Promise<Value> => {
  const isOlder = backup.migrations.length < (await known()).length || unlike(backup.tables, target.tables).length > 0;
  if (!isOlder) return work(backup);
  return inScratch(async (folder) => {
    const copy = join(folder, "office.db");
    await unpacked(file, copy);
    const made = await makeTables(copy);
    if (!made.ok) throw new Error(made.faults.join("; "));
    const from = sqliteEnd(copy, "read");
    try {
      return await work(from);
    } finally {
      await from.close();
    }
  });
};

/** The target as everybody sees it from now on, counted once more. */
export const seenAt = async (address: string, carried: readonly Counted[]): Promise<Result<readonly Counted[], CopyFault>> => {
  const end = await endAt(address, "read");
  try {
    const seen = await countAll(end);
    const other = differing(carried, seen);
    if (other.length === 0) return success(seen);
    return failed(`everything arrived and was proven, but then somebody else wrote to ${other.join(", ")} at ${shown(address)}`);
  } finally {
    await end.close();
  }
};

/** Fills a target; whatever happens on the way, it is then whole or nothing. */
export const filled = async <Value>(target: Target, work: () => Promise<Result<Value, CopyFault>>): Promise<Result<Value, CopyFault>> => {
  try {
    const done = await work();
    await (done.ok ? target.finish() : target.abandon());
    return done;
  } catch (error) {
    await target.abandon().catch(() => undefined);
    throw error;
  }
};

const intoServer = async (
  backup: SqliteEnd,
  { file, to, outbox }: RestoreAsked,
): Promise<Result<Omit<RestoreDone, "toCome">, CopyFault>> => {
  const target = await openTarget(to);
  if (!target.ok) return target;
  const { end } = target.value;
  const done = await filled(target.value, async () => {
    return success(await upToDate(backup, file, end, (from) => carry(from, end)));
  });
  if (!done.ok) return done;
  const counts = done.value;
  const seen = await seenAt(to, counts);
  if (!seen.ok) return seen;
  // Only now: whoever sends mails on from the outbox must not find those of an office that is not there.
  return laid(outbox, backup).then(
    (mails) => success({ counts, mails }),
    (error: unknown) => failed(`the office was restored and proven, but not all of its mails were laid into ${outbox}: ${wordsOf(error)}`),
  );
};

/** Makes the office of a backup anew at an empty place, whole or not at all, and proves it by counts and digests. */
export const restore = (asked: RestoreAsked): Promise<Result<RestoreDone, CopyFault>> =>
  stopping("nothing was restored", async () => {
    if (!existsSync(asked.file)) return bad("FILE", `${asked.file}, where no file is`, "a backup");
    const opened = await openBackup(asked.file);
    if (!opened.ok) return bad("FILE", `${asked.file}: ${opened.faults.join("; ")}`, "a backup as it was written");
    const backup = opened.value;
    try {
      const names = await known();
      const strange = backup.migrations.filter((name) => !names.includes(name));
      if (strange.length > 0)
        return bad(
          "FILE",
          `a backup of a newer program (${strange.join(", ")})`,
          `one of at most ${names.at(-1) ?? ""}, or the newer program`,
        );
      const done = await (isPostgres(asked.to) ? intoServer(backup, asked) : intoFile(backup, asked));
      return done.ok ? success({ ...done.value, toCome: names.filter((name) => !backup.migrations.includes(name)) }) : done;
    } finally {
      await backup.close();
    }
  });
