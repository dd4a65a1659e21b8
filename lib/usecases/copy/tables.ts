import { randomBytes } from "node:crypto";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openAccounts } from "../../access/accounts.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { endAt } from "../../store/copy/carry.ts";
import { type Counted, countAll } from "../../store/copy/digest.ts";
import type { End } from "../../store/copy/end.ts";
import { databaseOf, openDatabase } from "../../store/database.ts";
import { migrationsKnown } from "../../store/migrations.ts";

/** Makes or renews an office's tables at an address, people's accounts among them; `upTo` an earlier migration. No key is needed: nothing is sealed. */
export const makeTables = async (address: string, upTo?: string): Promise<Result<true>> => {
  const open = await openDatabase(address, upTo);
  if (!open.ok) return open;
  try {
    await openAccounts(open.value, { secret: randomBytes(32).toString("base64url"), url: "http://localhost" });
    return success(true);
  } catch (error) {
    return failure(`the tables of people's accounts cannot be made: ${error instanceof Error ? error.message : "unknown reason"}`);
  } finally {
    await open.value.db.destroy();
  }
};

export const known = (): Promise<readonly string[]> => migrationsKnown(databaseOf(":memory:"));

/** A folder for the time of some work. */
export const inScratch = async <Value>(work: (folder: string) => Promise<Value>): Promise<Value> => {
  const folder = await mkdtemp(join(tmpdir(), "forehail-copy-"));
  try {
    return await work(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
};

const freshCounts = (): Promise<readonly Counted[]> =>
  inScratch(async (folder) => {
    const path = join(folder, "fresh.db");
    const made = await makeTables(path);
    if (!made.ok) throw new Error(made.faults.join("; "));
    const end = await endAt(path, "read");
    try {
      return await countAll(end);
    } finally {
      await end.close();
    }
  });

/** What stands at an end beyond what the migrations put there: "visit (12 rows)". */
export const holdings = async (end: End): Promise<readonly string[]> => {
  const counts = (await countAll(end)).filter(({ rows }) => rows > 0);
  if (counts.length === 0) return [];
  const fresh = new Set((await freshCounts()).map(({ table, digest }) => `${table} ${digest}`));
  return counts
    .filter(({ table, digest }) => !fresh.has(`${table} ${digest}`))
    .map(({ table, rows }) => `${table} (${rows} ${rows === 1 ? "row" : "rows"})`);
};
