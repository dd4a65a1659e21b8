// Bundles the bench like the program itself (no per-file loader between us and the measured code), then runs it.
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";
import { made, root } from "../../lib/cli/bundle.mjs";

process.chdir(root);
const outfile = join(made, "bench.mjs");
await build({ entryPoints: ["tests/bench/bench.ts"], outfile, bundle: true, platform: "node", format: "esm", target: "node20", packages: "external", logLevel: "warning" });
await import(pathToFileURL(outfile).href);
