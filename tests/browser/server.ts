import { type ChildProcess, type ChildProcessWithoutNullStreams, spawn } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import pg from "pg";
import { makeDemoPeople } from "../../lib/cli/demoPeople.ts";
import { type Office, openOffice } from "../../lib/usecases/office.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { ROOT, scratch, visit } from "../cli/cli.ts";
import { freePort } from "../port.ts";
import { startPostgres } from "../store/postgres.ts";
import { startBalancer } from "./balancer.ts";

/** An office of its own as people meet it: the production build on a port of its own, its data in a folder of its own. */
export interface Served {
  readonly url: string;
  /** Where its data lies. */
  readonly folder: string;
  /** The same office from inside, for what no page shows. */
  readonly office: Office;
  readonly people: Readonly<Record<"mara" | "odo" | "ilse", string>>;
  /** What the server printed. */
  readonly printed: () => string;
  /** The copies of the program by the ports at which they listen themselves. */
  readonly copies: readonly { readonly port: number; readonly pid: number; readonly kill: () => boolean }[];
  /** All that lies in the database as text, and in what an embedded one has not moved there yet. */
  readonly kept: () => Promise<string>;
  /** From now on nobody reads what the program prints: its pipes are broken. */
  readonly unread: () => void;
  /** Divides requests among these ports from now on, where there are several copies. */
  readonly divide: (ports: readonly number[]) => void;
  /** Sends the first copy a signal; the exit code, once it ended. */
  readonly signal: (name: NodeJS.Signals) => Promise<number | null>;
  readonly stop: () => Promise<void>;
}

const BUNDLES = join(ROOT, "node_modules/.cache/forehail");

/** The key of the tests' offices. */
export const SECRET = "the key of an office that is only tested";

const until = async (ready: () => Promise<boolean>, what: string): Promise<void> => {
  const end = Date.now() + 120_000;
  while (Date.now() < end) {
    if (await ready()) return;
    await new Promise((again) => setTimeout(again, 100));
  }
  throw new Error(`${what} did not come up within two minutes`);
};

const answers = async (url: string): Promise<boolean> => {
  try {
    return (await fetch(url)).status === 200;
  } catch {
    return false;
  }
};

const ended = (child: ChildProcess): Promise<void> =>
  new Promise((done) => {
    if (child.exitCode !== null || child.signalCode !== null) done();
    child.on("exit", () => done());
    child.kill("SIGTERM");
  });

/** What a copy of the program is started with beside its port. */
type Settings = Readonly<Record<string, string>>;

/** A copy of the program that runs. */
interface Copy {
  readonly port: number;
  readonly child: ChildProcessWithoutNullStreams;
}

export const startCopy = (settings: Settings, port: number, print: (text: string) => void): Copy => {
  const own = { PORT: String(port), NODE_ENV: "production", NEXT_TELEMETRY_DISABLED: "1" } as const;
  const env = { ...process.env, ...settings, ...own };
  const child = spawn(process.execPath, [join(BUNDLES, "pages.mjs")], { cwd: ROOT, env });
  for (const stream of [child.stdout, child.stderr]) stream.on("data", (chunk: Buffer) => print(chunk.toString("utf8")));
  return { port, child };
};

/** Where several copies of the program meet: one PostgreSQL, and one address in front of them. */
interface Front {
  readonly url: string;
  readonly settings: Settings;
  readonly divide: (ports: readonly number[]) => void;
  readonly stop: () => Promise<void>;
}

const frontOfMany = async (): Promise<Front> => {
  const [database, balancer] = [await startPostgres(), await startBalancer()];
  return {
    url: balancer.url,
    settings: { DATABASE_URL: database.fresh(), FOREHAIL_URL: balancer.url, FOREHAIL_PROXIES: "127.0.0.1, ::1" },
    divide: balancer.divide,
    stop: async () => {
      await balancer.stop();
      database.stop();
    },
  };
};

const frontOfOne = (port: number): Front => ({
  url: `http://localhost:${port}`,
  settings: {},
  divide: () => undefined,
  stop: () => Promise.resolve(),
});

const keptInFiles = async (folder: string): Promise<string> =>
  readdirSync(folder)
    .filter((name) => name.startsWith("office.db"))
    .map((name) => readFileSync(join(folder, name), "latin1"))
    .join("");

const keptAt = async (address: string): Promise<string> => {
  const client = new pg.Client({ connectionString: address });
  await client.connect();
  try {
    const tables = await client.query<{ readonly name: string }>("select tablename as name from pg_tables where schemaname = 'public'");
    let text = "";
    for (const { name } of tables.rows)
      text += (await client.query<{ readonly row: string }>(`select one::text as row from "${name}" one`)).rows
        .map(({ row }) => row)
        .join("\n");
    return text;
  } finally {
    await client.end();
  }
};

interface Serving {
  readonly empty?: boolean;
  readonly copies?: number;
  /** Settings beside those that every test's office has. */
  readonly more?: Settings;
}

/**
 * Starts an office; with people unless it shall be empty. One copy of the program on the embedded database, or, as asked for here or by FOREHAIL_TEST_COPIES,
 * several on one PostgreSQL, among which requests are divided in turn. Needs the pages built (`npm run build`).
 */
export const serve = async ({
  empty = false,
  copies = Number(process.env["FOREHAIL_TEST_COPIES"] ?? 1),
  more = {},
}: Serving = {}): Promise<Served> => {
  if (!existsSync(join(ROOT, ".next/BUILD_ID"))) throw new Error("the pages are not built: run `npm run build` first");
  const ports = await Promise.all(Array.from({ length: copies }, freePort));
  const folder = more["FOREHAIL_DATA"] ?? scratch();
  const front = copies > 1 ? await frontOfMany() : frontOfOne(ports[0] ?? 0);
  const settings = { ...front.settings, FOREHAIL_DATA: folder, FOREHAIL_BUNDLES: BUNDLES, FOREHAIL_SECRET: SECRET, ...more };
  const opened = await openOffice({ ...settings, PORT: String(ports[0]) });
  if (!opened.ok) throw new Error(opened.faults.join());
  const office = opened.value;
  const ids = empty ? new Map<string, string>() : await makeDemoPeople(office);
  let text = "";
  const running = ports.map((port) =>
    startCopy(settings, port, (more) => {
      text += more;
    }),
  );
  for (const { port } of running) await until(() => answers(`http://localhost:${port}/ready`), "the server");
  front.divide(ports);
  return {
    url: front.url,
    folder,
    office,
    people: { mara: ids.get("mara") ?? "", odo: ids.get("odo") ?? "", ilse: ids.get("ilse") ?? "" },
    printed: () => text,
    copies: running.map(({ port, child }) => ({ port, pid: child.pid ?? 0, kill: () => child.kill("SIGKILL") })),
    divide: front.divide,
    kept: () => (front.settings["DATABASE_URL"] === undefined ? keptInFiles(folder) : keptAt(front.settings["DATABASE_URL"])),
    unread: () => {
      for (const { child } of running) for (const stream of [child.stdout, child.stderr]) stream.destroy();
    },
    signal: (name) => {
      const child = running[0]?.child;
      child?.kill(name);
      return new Promise((done) => (child?.exitCode === null ? child.once("exit", (code) => done(code)) : done(child?.exitCode ?? null)));
    },
    stop: async () => {
      await Promise.all(running.map(({ child }) => ended(child)));
      await office.letters.close();
      await office.store.close();
      await front.stop();
    },
  };
};

/** Loads a demo visit for a person; its id. */
export const loaded = async ({ office }: Served, name: string, owner: string): Promise<string> => {
  const kept = await importVisit(
    { store: office.store, world: office.world, planner: office.planner },
    readFileSync(visit(name), "utf8"),
    owner,
  );
  if (!kept.ok) throw new Error(JSON.stringify(kept.faults));
  return kept.value;
};
