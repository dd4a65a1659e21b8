import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, statfsSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import SQLite from "better-sqlite3";
import { sql } from "kysely";
import { expect, test } from "vitest";
import { freePort } from "../port.ts";
import { startPostgres } from "../store/postgres.ts";
import { answers, tokenOf } from "./crash/inspectors.ts";
import { file, step } from "./crash/recipients.ts";
import { type Running, type Settings, start } from "./crash/server.ts";
import { type Stage, staged } from "./crash/stage.ts";
import { halfThere, lookedAt } from "./crash/whole.ts";
import { answerTo, type Write } from "./crash/write.ts";

interface Failing {
  readonly stage: Stage;
  readonly running: Running;
}

const served = async (settings: Settings, act: (failing: Failing) => Promise<void>): Promise<void> => {
  const stage = await staged(settings, 1);
  const running = start(settings);
  try {
    await running.ready();
    await act({ stage, running });
    expect(await lookedAt(settings, (db) => halfThere(db, settings))).toEqual([]);
    expect(running.isOver()).toBe(false);
  } finally {
    await running.kill();
  }
};

/** What every answer has in common while nothing can be kept: plain words, when to come again, and nothing of the program's inside. */
const away = async (answer: Response, words: string): Promise<string> => {
  const text = await answer.text();
  expect(answer.status, text.slice(0, 500)).toBe(503);
  expect(Number(answer.headers.get("retry-after"))).toBeGreaterThan(0);
  expect(text).toContain(words);
  expect(text).not.toMatch(/node_modules|at \w+ \(|SQLITE_|ECONN|\/tmp\//);
  return text;
};

const hidden = (page: string): URLSearchParams => {
  const plain = (text: string): string => text.replace(/&#(\d+);/g, (_, code: string) => String.fromCharCode(Number(code)));
  return new URLSearchParams(
    [...page.matchAll(/<input type="hidden" name="([^"]*)" value="([^"]*)">/g)].map(([, name = "", value = ""]) => [
      plain(name),
      plain(value),
    ]),
  );
};

const found = ({ settings }: Stage, write: Write) => lookedAt(settings, write.found);

const COUNT = 7;

/** A form of an inspector and one of a recipient are refused, hold what was typed, and are taken once all is well again. */
const refusedThenTaken = async ({ stage, running: { url } }: Failing, words: string, mend: () => Promise<void> | void): Promise<void> => {
  const { people, pages, filled } = stage;
  const { visit, path, fields, sets } = pages.odo;
  const [own, reply] = [answers(url, people.odo, pages.odo, COUNT, false), step(url, filled, 1, COUNT)];
  const form = new URLSearchParams({ token: tokenOf(people.odo), sets });
  for (const { at, from } of fields)
    for (const [part, text] of [
      ["text", String(from)],
      ["seen", "0"],
      ["sure", "on"],
    ] as const)
      form.set(`${at}.${part}`, text);
  const to = `${url}/visits/${visit}/save/${path}`;
  const page = await away(await answerTo(to, form, { cookie: people.odo.cookie }), words);
  expect(page).toContain("Send again");
  expect([...hidden(page)]).toEqual([...form]);
  const told = await answerTo(to, form, { cookie: people.odo.cookie, json: true });
  expect(JSON.parse(await away(told, words))).toEqual({ problem: expect.stringContaining("not saved") });
  expect(await own.send().catch(() => false)).toBe(false);
  expect(await reply.send().catch(() => false)).toBe(false);
  await mend();
  expect(await found(stage, own)).toBe("absent");
  expect(await found(stage, reply)).toBe("absent");
  const again = await answerTo(to, hidden(page), { cookie: people.odo.cookie });
  expect(again.status).toBe(303);
  for (const write of [own, reply, file(url, filled, COUNT)]) {
    expect(await write.send(), write.kind).toBe(true);
    expect(await found(stage, write), write.kind).toBe("whole");
  }
};

/** A disk of a few megabytes of its own, where the tests may mount one. */
const smallDisk = (folder: string): (() => void) => {
  execFileSync("mount", ["-t", "tmpfs", "-o", "size=32m", "none", folder]);
  return () => {
    execFileSync("umount", ["-l", folder]);
  };
};

test.runIf(process.getuid?.() === 0)(
  "on a full disk nothing is kept by halves, what was typed is held, and all goes on once there is room",
  async () => {
    const folder = mkdtempSync(join(tmpdir(), "forehail-full-"));
    const unmount = smallDisk(folder);
    try {
      await served({ folder, port: await freePort() }, async (failing) => {
        const { bavail, bsize } = statfsSync(folder);
        writeFileSync(join(folder, "filler"), Buffer.alloc(bavail * bsize - 4096));
        // What is left in pages that the database has already is used up first.
        for (let count = 0; count < 200; count += 1)
          if (
            !(await answers(failing.running.url, failing.stage.people.mara, failing.stage.pages.mara, count, true)
              .send()
              .catch(() => false))
          )
            break;
        await refusedThenTaken(failing, "the disk of the office is full", () => rmSync(join(folder, "filler")));
      });
    } finally {
      unmount();
      rmSync(folder, { recursive: true, force: true });
    }
  },
);

test("while another program holds the embedded database, it is said so, and all goes on once it lets go", async () => {
  const folder = mkdtempSync(join(tmpdir(), "forehail-held-"));
  try {
    await served({ folder, port: await freePort() }, async (failing) => {
      const other = new SQLite(join(folder, "office.db"));
      other.exec("begin immediate");
      await refusedThenTaken(failing, "is held by something else", () => {
        other.exec("rollback");
        other.close();
      });
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test("a PostgreSQL server that is stopped, started again or cuts its connections is told, and needs no new start of the program", async () => {
  const folder = mkdtempSync(join(tmpdir(), "forehail-stopped-"));
  const server = await startPostgres({ safe: true });
  try {
    await served({ folder, port: await freePort(), database: server.fresh() }, async (failing) => {
      const { stage, running } = failing;
      server.halt("fast");
      for (const path of ["/visits", `/visits/${stage.pages.mara.visit}`, `/visits/${stage.pages.mara.visit}/file`, "/reply/at/start"])
        if (path !== "/reply/at/start")
          await away(
            await fetch(`${running.url}${path}`, { headers: { cookie: stage.people.mara.cookie }, redirect: "manual" }),
            "cannot be reached",
          );
      await refusedThenTaken(failing, "cannot be reached", () => server.start());
      await lookedAt(stage.settings, (db) =>
        sql`select pg_terminate_backend(pid) from pg_stat_activity where pid <> pg_backend_pid() and datname = current_database()`.execute(
          db,
        ),
      );
      const page = () => fetch(`${running.url}/visits`, { headers: { cookie: stage.people.mara.cookie } });
      await page();
      expect((await page()).status).toBe(200);
    });
  } finally {
    server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
});
