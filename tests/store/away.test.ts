import { join } from "node:path";
import SQLite from "better-sqlite3";
import { sql } from "kysely";
import pg from "pg";
import { afterAll, beforeAll, expect, test } from "vitest";
import { openDatabase } from "../../lib/store/database.ts";
import { awayBecause } from "../../lib/store/dialects/away.ts";
import { scratch } from "../cli/cli.ts";
import { type PrivateServer, startPostgres } from "./postgres.ts";

const CONNECTIONS = 12;

let server: PrivateServer;
beforeAll(async () => {
  server = await startPostgres({ connections: CONNECTIONS });
}, 60_000);
afterAll(() => server.stop());

const errorOf = async (work: () => unknown): Promise<unknown> => {
  try {
    await work();
  } catch (error) {
    return error;
  }
  throw new Error("it did not fail");
};

const opened = async (address: string) => {
  const open = await openDatabase(address);
  if (!open.ok) throw new Error(open.faults.join());
  return open.value.db;
};

test("a full, a read-only and a held embedded database are told from a fault of ours", async () => {
  const path = join(scratch(), "office.db");
  const db = await opened(path);
  await db.destroy();
  const full = new SQLite(path);
  full.exec("create table t (x blob)");
  full.pragma(`max_page_count = ${Number(full.pragma("page_count", { simple: true })) + 2}`);
  expect(awayBecause(await errorOf(() => full.prepare("insert into t values (zeroblob(100000))").run()))).toBe("full");
  const read = new SQLite(path, { readonly: true });
  expect(awayBecause(await errorOf(() => read.exec("insert into t values (1)")))).toBe("read only");
  const other = new SQLite(path, { timeout: 1 });
  full.exec("begin immediate");
  expect(awayBecause(await errorOf(() => other.exec("insert into t values (1)")))).toBe("busy");
  full.exec("rollback");
  expect(awayBecause(await errorOf(() => other.exec("insert into nothing values (1)")))).toBe(null);
  for (const one of [full, read, other]) one.close();
  expect(awayBecause(await errorOf(() => new SQLite(join(scratch(), "no", "office.db")).exec("select 1")))).toBe(null);
});

test("a PostgreSQL server that is stopped, cuts connections or has none left is away, and is there again without a new start of ours", async () => {
  const address = server.fresh();
  const db = await opened(address);
  const ask = () => sql`select 1`.execute(db);
  await ask();
  const admin = new pg.Client({ connectionString: address });
  admin.on("error", () => undefined);
  await admin.connect();
  await admin.query(
    "select pg_terminate_backend(pid) from pg_stat_activity where pid <> pg_backend_pid() and datname = current_database()",
  );
  // Each connection that was cut while nobody used it may tell so once, to whoever is given it.
  const isCut = () =>
    ask().then(
      () => false,
      (error: unknown) => {
        expect(awayBecause(error)).toBe("not reached");
        return true;
      },
    );
  let told = 0;
  while (await isCut()) told += 1;
  expect(told).toBeLessThan(CONNECTIONS);
  const others: pg.Client[] = [];
  const more = async (): Promise<void> => {
    for (;;) {
      const client = new pg.Client({ connectionString: address, user: "forehail" });
      await client.connect();
      others.push(client);
    }
  };
  expect(awayBecause(await errorOf(more))).toBe("busy");
  await Promise.all(others.map((client) => client.end()));
  server.halt("immediate");
  expect(awayBecause(await errorOf(ask))).toBe("not reached");
  server.start();
  expect((await ask()).rows).toHaveLength(1);
  expect(awayBecause(await errorOf(() => sql`select * from nothing`.execute(db)))).toBe(null);
  await db.destroy();
});
