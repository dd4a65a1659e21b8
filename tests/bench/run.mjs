// Bundles the bench like the program itself (no per-file loader between us and the measured code), then runs it.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";
import { bundle, made, root } from "../../lib/cli/bundle.mjs";

process.chdir(root);
process.env.NODE_ENV ??= "production";
if (process.argv[2] === "pages") {
  // In a real browser on the served pages: `npm run bench -- pages [keystrokes|day|slowLink|lighthouse|visits]`.
  const built = spawnSync("npm", ["run", "-s", "build"], { stdio: "inherit" });
  process.exit(built.status || spawnSync("npx", ["tsx", "tests/bench/pages.ts", ...process.argv.slice(3)], { stdio: "inherit" }).status);
}
await bundle();
const outfile = join(made, "bench.mjs");
await build({ entryPoints: ["tests/bench/bench.ts"], outfile, bundle: true, platform: "node", format: "esm", target: "node20", jsx: "automatic", packages: "external", alias: { "next/headers": "next/headers.js", "next/navigation": "next/navigation.js", "next/link": "next/link.js" }, logLevel: "warning" });
await import(pathToFileURL(outfile).href);
