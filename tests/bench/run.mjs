// Bundles the bench like the program itself (no per-file loader between us and the measured code), then runs it.
import { spawn, spawnSync } from "node:child_process";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";
import { bundle, made, root } from "../../lib/cli/bundle.mjs";

/** Builds the pages and tries them; what is said, with the exit code. */
function besideParsers(given) {
  const built = spawnSync("npm", ["run", "-s", "build"], { stdio: "inherit" });
  if (built.status !== 0) process.exit(built.status ?? 1);
  const child = spawn("npx", ["tsx", "tests/bench/badServed.ts", ...given], { stdio: ["ignore", "pipe", "inherit"] });
  let said = "";
  child.stdout.on("data", (chunk) => {
    said += chunk;
  });
  return new Promise((done) => child.on("close", (code) => done({ code: code ?? 1, said })));
}

process.chdir(root);
process.env.NODE_ENV ??= "production";
if (process.argv[2] === "pages") {
  // In a real browser on the served pages: `npm run bench -- pages [keystrokes|day|slowLink|lighthouse|visits]`.
  const built = spawnSync("npm", ["run", "-s", "build"], { stdio: "inherit" });
  process.exit(built.status || spawnSync("npx", ["tsx", "tests/bench/pages.ts", ...process.argv.slice(3)], { stdio: "inherit" }).status);
}
await bundle();
// Filled forms and posts go on beside the parsers, in processes of their own, and are told after them.
const beside = process.argv[2] === "bad" ? besideParsers(process.argv.slice(3)) : undefined;
const outfile = join(made, "bench.mjs");
await build({ entryPoints: ["tests/bench/bench.ts"], outfile, bundle: true, platform: "node", format: "esm", target: "node20", jsx: "automatic", packages: "external", alias: { "next/headers": "next/headers.js", "next/navigation": "next/navigation.js", "next/link": "next/link.js" }, logLevel: "warning" });
await import(pathToFileURL(outfile).href);
if (beside !== undefined) {
  const { code, said } = await beside;
  process.stdout.write(said);
  process.exit(process.exitCode || code);
}
