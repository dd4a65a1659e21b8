import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const ROOT = fileURLToPath(new URL("../..", import.meta.url));

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the command line as `npm run -s` does, with its own environment on top. */
export const cli = (args: readonly string[], env: Readonly<Record<string, string>> = {}, cwd = ROOT): Promise<Ran> =>
  new Promise((done, fail) => {
    const child = spawn(process.execPath, [join(ROOT, "lib/cli/run.mjs"), ...args], {
      cwd,
      env: { ...process.env, INIT_CWD: cwd, ...env },
    });
    let out = "";
    let err = "";
    child.stdout.on("data", (chunk: Buffer) => {
      out += chunk.toString("utf8");
    });
    child.stderr.on("data", (chunk: Buffer) => {
      err += chunk.toString("utf8");
    });
    child.on("error", fail);
    child.on("close", (code) => done({ code, out, err }));
  });

export const visit = (name: string): string => join(ROOT, "fixtures/visits", `${name}.json`);

let root: string | undefined;
const scratchRoot = (): string => {
  const made = root ?? mkdtempSync(join(tmpdir(), "forehail-"));
  if (root === undefined) process.on("exit", () => rmSync(made, { recursive: true, force: true }));
  root = made;
  return made;
};

/** A folder of its own, gone with the process. */
export const scratch = (): string => mkdtempSync(join(scratchRoot(), "files-"));
