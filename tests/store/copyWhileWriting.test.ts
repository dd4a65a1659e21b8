import { type ChildProcess, spawn } from "node:child_process";
import { join } from "node:path";
import SQLite from "better-sqlite3";
import { describe, expect, test } from "vitest";
import { backUp } from "../../lib/usecases/copy/backup.ts";
import { move } from "../../lib/usecases/copy/move.ts";
import { makeTables } from "../../lib/usecases/copy/tables.ts";
import { ROOT, scratch } from "../cli/cli.ts";
import { engines } from "./engines.ts";

interface Writer {
  readonly child: ChildProcess;
  /** The highest version that was acknowledged so far. */
  readonly acknowledged: () => number;
  /** Waits until so many more are. */
  readonly more: (count: number) => Promise<void>;
}

const writing = async (address: string): Promise<Writer> => {
  const child = spawn(process.execPath, ["--import", "tsx", join(ROOT, "tests/store/copyWriter.ts"), address], { cwd: ROOT });
  let [last, errors] = [0, ""];
  child.stdout.on("data", (chunk: Buffer) => {
    last = Number(chunk.toString("utf8").trimEnd().split("\n").at(-1));
  });
  child.stderr.on("data", (chunk: Buffer) => {
    errors += chunk.toString("utf8");
  });
  const more = async (count: number): Promise<void> => {
    for (const wanted = last + count; last < wanted; ) {
      if (child.exitCode !== null) throw new Error(`the writer ended: ${errors}`);
      await new Promise((again) => setTimeout(again, 20));
    }
  };
  await more(20);
  return { child, acknowledged: () => last, more };
};

/** What a backup holds: how far each visit is by its own count and by its answers, and how far the log is. */
const heldIn = (file: string) => {
  const db = new SQLite(file, { readonly: true });
  const visits = db
    .prepare<[], { readonly version: number; readonly latest: number; readonly answers: number }>(
      "select version, (select max(version) from answer where visit = id) latest, (select count(*) from answer where visit = id) answers from visit order by id",
    )
    .all();
  const log = db.prepare<[], number>("select max(cast(detail as integer)) from audit").pluck().get() ?? 0;
  db.close();
  return { visits, log };
};

describe.each(engines())("while another process writes to %s", (kind, address) => {
  test("every backup is the office of one moment, with all that was acknowledged before it began; a move is refused", async () => {
    const office = address();
    expect((await makeTables(office)).ok).toBe(true);
    const writer = await writing(office);
    try {
      for (const minute of [1, 2, 3, 4]) {
        const before = writer.acknowledged();
        const now = `2026-03-04T10:0${minute}:00.000Z`;
        const done = await backUp({ address: office, outbox: scratch(), folder: scratch(), now });
        if (!done.ok) throw new Error(JSON.stringify(done.faults));
        const { visits, log } = heldIn(done.value.file);
        for (const { version, latest, answers } of visits) expect([latest, answers]).toEqual([version, version]);
        const [first = { version: 0 }, second = { version: 0 }] = visits;
        expect(log).toBeGreaterThanOrEqual(before);
        expect(second.version).toBeGreaterThanOrEqual(log);
        expect(first.version - second.version).toBeOneOf([0, 1]);
        await writer.more(5);
      }
      const moved = await move({ from: office, to: join(scratch(), "office.db") });
      const [fault] = moved.ok ? [] : moved.faults;
      // An embedded office is looked at before anything is read; of a server it is known once its rows are not what they were.
      expect(fault).toMatchObject(
        kind === "SQLite"
          ? { bad: true, says: expect.stringContaining("which another program has open; wanted one whose server is stopped") }
          : { bad: false, says: expect.stringContaining("the office was written to meanwhile (") },
      );
    } finally {
      writer.child.kill("SIGKILL");
    }
  });
});
