// Bundles the bench like the program itself (no per-file loader between us and the measured code), then runs it.
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";
import { bundle, made, root } from "../../lib/cli/bundle.mjs";

process.chdir(root);
process.env.NODE_ENV ??= "production";
await bundle();
const outfile = join(made, "bench.mjs");
await build({ entryPoints: ["tests/bench/bench.ts"], outfile, bundle: true, platform: "node", format: "esm", target: "node20", jsx: "automatic", packages: "external", logLevel: "warning" });
await import(pathToFileURL(outfile).href);
