import { execFileSync } from "node:child_process";
import { chownSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { freePort } from "../port.ts";

const DEBIAN = "/usr/lib/postgresql";

/** Where Debian keeps the server's programs: the newest of those installed. */
const programs = (): string => {
  const versions = existsSync(DEBIAN) ? readdirSync(DEBIAN).sort((a, b) => Number(b) - Number(a)) : [];
  const found = versions.map((version) => join(DEBIAN, version, "bin")).find((folder) => existsSync(join(folder, "initdb")));
  if (found === undefined) throw new Error("the store's tests need Debian's package postgresql");
  return found;
};

/** The server refuses to run as root: then its own user of Debian's package runs it. */
const asUser = (program: string, args: readonly string[]): string =>
  process.getuid?.() === 0
    ? execFileSync("runuser", ["-u", "postgres", "--", program, ...args], {
        encoding: "utf8",
        stdio: ["ignore", "pipe", "pipe"],
        cwd: tmpdir(),
      })
    : execFileSync(program, args, { encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });

export interface PrivateServer {
  /** The address of a new, empty database. */
  readonly fresh: () => string;
  readonly stop: () => void;
  /** The process that all others of the server hang on. */
  readonly pid: () => number;
  /** Stops it as who runs it would, or not at all gently; it can be started again. */
  readonly halt: (mode: "fast" | "immediate") => void;
  readonly start: () => void;
}

/**
 * A PostgreSQL server of our own on loopback, in a folder of its own; gone when it is stopped. With `safe` it writes through to the disk, as a server
 * that is killed must.
 */
export const startPostgres = async ({
  safe = false,
  connections = 60,
}: {
  readonly safe?: boolean;
  readonly connections?: number;
} = {}): Promise<PrivateServer> => {
  const bin = programs();
  const folder = mkdtempSync(join(tmpdir(), "forehail-pg-"));
  if (process.getuid?.() === 0) {
    const id = (flag: string): number => Number(execFileSync("id", [flag, "postgres"], { encoding: "utf8" }));
    chownSync(folder, id("-u"), id("-g"));
  }
  const data = join(folder, "data");
  asUser(join(bin, "initdb"), ["-D", data, "-U", "forehail", "-A", "trust", "--no-sync", "-E", "UTF8", "--locale=C.UTF-8"]);
  const port = await freePort();
  const options = `-p ${port} -c listen_addresses=127.0.0.1 -c unix_socket_directories=${folder} -c fsync=${safe ? "on" : "off"} -c max_connections=${connections}`;
  const startOnce = (): void => {
    asUser(join(bin, "pg_ctl"), ["-D", data, "-w", "-l", join(folder, "log"), "-o", options, "start"]);
  };
  /** The processes of a server that was killed end a moment after it, and until then no other starts on its folder. */
  const start = (triesLeft = 20): void => {
    try {
      startOnce();
    } catch (error) {
      if (triesLeft === 0) throw error;
      execFileSync("sleep", ["1"]);
      start(triesLeft - 1);
    }
  };
  start();
  let made = 0;
  return {
    fresh: () => {
      made += 1;
      execFileSync(join(bin, "createdb"), ["-h", "127.0.0.1", "-p", `${port}`, "-U", "forehail", `t${made}`]);
      return `postgres://forehail@127.0.0.1:${port}/t${made}`;
    },
    pid: () => Number(readFileSync(join(data, "postmaster.pid"), "utf8").split("\n")[0]),
    halt: (mode) => {
      asUser(join(bin, "pg_ctl"), ["-D", data, "-w", "-m", mode, "stop"]);
    },
    start: () => start(),
    stop: () => {
      try {
        if (existsSync(join(data, "postmaster.pid"))) asUser(join(bin, "pg_ctl"), ["-D", data, "-m", "immediate", "stop"]);
      } catch {
        // One that a test has killed is gone, or goes by itself with its folder.
      }
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
