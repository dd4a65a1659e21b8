import { type ChildProcess, spawn } from "node:child_process";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { ROOT } from "../../cli/cli.ts";

const BUNDLES = join(ROOT, "node_modules/.cache/forehail");

/** The environment of one office: where its data lies, on which port it is reached. */
export interface Settings {
  readonly folder: string;
  readonly port: number;
  /** Of a PostgreSQL database; undefined for the embedded one. */
  readonly database?: string;
}

/** The key of the offices that are tried: it stays while servers come and go. */
export const SECRET = "a key for offices that are tried and killed";

export const environmentOf = ({ folder, port, database }: Settings) => ({
  FOREHAIL_DATA: folder,
  FOREHAIL_BUNDLES: BUNDLES,
  FOREHAIL_SECRET: SECRET,
  PORT: String(port),
  ...(database === undefined ? {} : { DATABASE_URL: database }),
});

export const addressOf = ({ folder, database }: Settings): string => database ?? join(folder, "office.db");

/** The production server as a process that can be killed. */
export interface Running {
  readonly url: string;
  readonly pid: number;
  readonly printed: () => string;
  readonly isOver: () => boolean;
  /** Until it answers; the milliseconds since it was started. */
  readonly ready: () => Promise<number>;
  /** Ends it with no time for anything. */
  readonly kill: () => Promise<void>;
}

const LOOKS = 25;
const PATIENCE = 180_000;

const isUp = async (url: string): Promise<boolean> => {
  try {
    return (await fetch(url, { redirect: "manual", signal: AbortSignal.timeout(30_000) })).status < 500;
  } catch {
    return false;
  }
};

const over = (child: ChildProcess): boolean => child.exitCode !== null || child.signalCode !== null;

const killed = (child: ChildProcess): Promise<void> =>
  new Promise((done) => {
    if (over(child)) return done();
    child.once("exit", () => done());
    child.kill("SIGKILL");
  });

/** Starts the production server of an office. Needs the pages built. */
export const start = (settings: Settings): Running => {
  const url = `http://localhost:${settings.port}`;
  const began = Date.now();
  let text = "";
  const child = spawn(process.execPath, [join(BUNDLES, "pages.mjs")], {
    cwd: ROOT,
    env: { ...process.env, ...environmentOf(settings), NODE_ENV: "production", NEXT_TELEMETRY_DISABLED: "1" },
  });
  for (const stream of [child.stdout, child.stderr])
    stream.on("data", (chunk: Buffer) => {
      text += chunk.toString("utf8");
    });
  return {
    url,
    pid: child.pid ?? 0,
    printed: () => text,
    isOver: () => over(child),
    ready: async () => {
      while (!(await isUp(`${url}/sign-in`))) {
        if (over(child) || Date.now() - began > PATIENCE) {
          await killed(child);
          throw new Error(`the server did not come up:\n${text}`);
        }
        await pause(LOOKS);
      }
      return Date.now() - began;
    },
    kill: () => killed(child),
  };
};
