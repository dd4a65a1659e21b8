// Serves the production build; builds it first where a source is newer. With "demo" it serves an office of its own with demo people.
import { spawn } from "node:child_process";
import { randomBytes } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { constants } from "node:os";
import { join } from "node:path";
import { bundle, root } from "./bundle.mjs";

process.chdir(root);
process.env.NODE_ENV = "production";
process.env.NEXT_TELEMETRY_DISABLED = "1";
const next = join(root, "node_modules/next/dist/bin/next");
const builtFrom = join(root, ".next/built-from");

const newest = (path) => {
  const about = statSync(path, { throwIfNoEntry: false });
  if (about === undefined) return 0;
  return about.isDirectory() ? readdirSync(path).reduce((latest, name) => Math.max(latest, newest(join(path, name))), about.mtimeMs) : about.mtimeMs;
};

const sources = ["app", "components", "lib", "next.config.ts", "proxy.ts", "instrumentation.ts", "package-lock.json"];
const stamp = () => String(Math.max(...sources.map((name) => newest(join(root, name)))));

const run = (args) =>
  new Promise((done) => {
    const child = spawn(process.execPath, args, { stdio: "inherit" });
    for (const signal of ["SIGINT", "SIGTERM"]) process.on(signal, () => child.kill(signal));
    // As a shell tells it: whoever starts this anew where it failed must hear that it was killed, and a build that was killed is none.
    child.on("exit", (code, signal) => done(code ?? 128 + (constants.signals[signal] ?? 0)));
  });

/** Builds where that is needed; the exit code. */
const build = async () => {
  if (isBuilt()) return 0;
  const now = stamp();
  process.stdout.write("Building the pages; this takes some minutes, once.\n");
  const code = await run([next, "build"]);
  if (code === 0) writeFileSync(builtFrom, now);
  return code;
};

const what = process.argv[2] ?? "start";
process.env.FOREHAIL_BUNDLES = await bundle();
if (what === "demo") {
  // A demo office is gone at the next start, and so is its key.
  process.env.FOREHAIL_SECRET = randomBytes(32).toString("base64url");
  delete process.env.DATABASE_URL;
}
const isBuilt = () => existsSync(join(root, ".next/BUILD_ID")) && existsSync(builtFrom) && readFileSync(builtFrom, "utf8") === stamp();
// What is wrong with the settings is told before the pages are built, not a minute later.
if (what !== "build" && !isBuilt()) {
  const wrong = await run([join(process.env.FOREHAIL_BUNDLES, "pages.mjs"), "check"]);
  if (wrong !== 0) process.exit(wrong);
}
const built = await build();
if (built !== 0 || what === "build") process.exit(built);

const port = process.env.PORT ?? "3000";
if (what === "demo") {
  // The demo office begins anew each time.
  const folder = join(root, "node_modules/.cache/forehail/demo-office");
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  process.env.FOREHAIL_DATA = folder;
  const loaded = await run([join(process.env.FOREHAIL_BUNDLES, "demoOffice.mjs"), `http://localhost:${port}`]);
  if (loaded !== 0) process.exit(loaded);
}
process.env.PORT = port;
process.exit(await run([join(process.env.FOREHAIL_BUNDLES, "pages.mjs")]));
