import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { createServer } from "node:net";
import { join } from "node:path";
import { makeDemoPeople } from "../../lib/cli/demoPeople.ts";
import { type Office, openOffice } from "../../lib/usecases/office.ts";
import { importVisit } from "../../lib/usecases/visits/importVisit.ts";
import { ROOT, scratch, visit } from "../cli/cli.ts";

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
  readonly stop: () => Promise<void>;
}

const BUNDLES = join(ROOT, "node_modules/.cache/forehail");

/** The key of the tests' offices. */
export const SECRET = "the key of an office that is only tested";

const freePort = (): Promise<number> =>
  new Promise((done, fail) => {
    const server = createServer();
    server.on("error", fail);
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      const port = typeof address === "object" && address !== null ? address.port : 0;
      server.close(() => done(port));
    });
  });

const until = async (ready: () => Promise<boolean>, what: string): Promise<void> => {
  const end = Date.now() + 60_000;
  while (Date.now() < end) {
    if (await ready()) return;
    await new Promise((again) => setTimeout(again, 100));
  }
  throw new Error(`${what} did not come up within a minute`);
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
    if (child.exitCode !== null) done();
    child.on("exit", () => done());
    child.kill("SIGTERM");
  });

/** Starts an office; with people unless it shall be empty. Needs the pages built (`npm run build`). */
export const serve = async ({ empty = false }: { readonly empty?: boolean } = {}): Promise<Served> => {
  if (!existsSync(join(ROOT, ".next/BUILD_ID"))) throw new Error("the pages are not built: run `npm run build` first");
  const [port, folder] = [await freePort(), scratch()];
  const url = `http://localhost:${port}`;
  const env = { FOREHAIL_DATA: folder, FOREHAIL_BUNDLES: BUNDLES, PORT: String(port), FOREHAIL_SECRET: SECRET };
  const opened = await openOffice(env);
  if (!opened.ok) throw new Error(opened.faults.join());
  const office = opened.value;
  const ids = empty ? new Map<string, string>() : await makeDemoPeople(office);
  let text = "";
  const child = spawn(process.execPath, [join(BUNDLES, "pages.mjs")], {
    cwd: ROOT,
    env: { ...process.env, ...env, NODE_ENV: "production", NEXT_TELEMETRY_DISABLED: "1" },
  });
  for (const stream of [child.stdout, child.stderr])
    stream.on("data", (chunk: Buffer) => {
      text += chunk.toString("utf8");
    });
  await until(() => answers(`${url}/${empty ? "set-up" : "sign-in"}`), "the server");
  return {
    url,
    folder,
    office,
    people: { mara: ids.get("mara") ?? "", odo: ids.get("odo") ?? "", ilse: ids.get("ilse") ?? "" },
    printed: () => text,
    stop: async () => {
      await ended(child);
      await office.letters.close();
      await office.store.close();
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
