import { execFileSync } from "node:child_process";
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

const DEBIAN = "/usr/lib/postgresql";

/** Where Debian keeps the server's programs: the newest of those installed. */
const programs = (): string => {
  const versions = existsSync(DEBIAN) ? readdirSync(DEBIAN).sort((a, b) => Number(b) - Number(a)) : [];
  const found = versions.map((version) => join(DEBIAN, version, "bin")).find((folder) => existsSync(join(folder, "initdb")));
  if (found === undefined) throw new Error("the store's tests need Debian's package postgresql");
  return found;
};

const freePort = (): Promise<number> =>
  new Promise((done, fail) => {
    const server = createServer();
    server.on("error", fail);
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      server.close(() => (typeof address === "object" && address !== null ? done(address.port) : fail(new Error("no port"))));
    });
  });

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
}

/** A PostgreSQL server of our own on loopback, in a folder of its own; gone when it is stopped. */
export const startPostgres = async (): Promise<PrivateServer> => {
  const bin = programs();
  const folder = mkdtempSync(join(tmpdir(), "forehail-pg-"));
  if (process.getuid?.() === 0) {
    const id = (flag: string): number => Number(execFileSync("id", [flag, "postgres"], { encoding: "utf8" }));
    chownSync(folder, id("-u"), id("-g"));
  }
  const data = join(folder, "data");
  asUser(join(bin, "initdb"), ["-D", data, "-U", "forehail", "-A", "trust", "--no-sync", "-E", "UTF8", "--locale=C.UTF-8"]);
  const port = await freePort();
  const options = `-p ${port} -c listen_addresses=127.0.0.1 -c unix_socket_directories=${folder} -c fsync=off -c max_connections=60`;
  asUser(join(bin, "pg_ctl"), ["-D", data, "-w", "-l", join(folder, "log"), "-o", options, "start"]);
  let made = 0;
  return {
    fresh: () => {
      made += 1;
      execFileSync(join(bin, "createdb"), ["-h", "127.0.0.1", "-p", `${port}`, "-U", "forehail", `t${made}`]);
      return `postgres://forehail@127.0.0.1:${port}/t${made}`;
    },
    stop: () => {
      asUser(join(bin, "pg_ctl"), ["-D", data, "-m", "immediate", "stop"]);
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
