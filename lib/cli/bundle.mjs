// Makes the command line, the letter's and the day's worker and the reader of forms one bundled file each, anew whenever a source is newer. Bundling takes a
// fifth of a second once; loading a hundred sources one by one would take longer at every start.
import { mkdirSync, readdirSync, renameSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = fileURLToPath(new URL("../..", import.meta.url));
/** Where the bundles lie. */
export const made = join(root, "node_modules/.cache/forehail");
const programs = { main: "lib/cli/main.ts", worker: "lib/letter/worker.ts", dayWorker: "lib/usecases/visits/dayWorker.ts", formReader: "lib/reply/formReader.ts", demoOffice: "lib/cli/demoOffice.ts", pages: "lib/cli/pages.ts", copy: "lib/cli/copy.ts", password: "lib/cli/password.ts" };
/** What runs in the browser beside a page: the decision core, in a worker of its own; what waits for the first sign of life; what keeps forms; what saves the vessel's reply; what keeps results aboard on the device. */
const inBrowser = { core: "components/live/core.ts", wake: "components/live/wake.ts", keep: "components/live/keep.ts", reply: "components/live/reply.ts", results: "components/live/results.ts" };
const entries = { ...programs, ...inBrowser };

const newest = (folder) =>
  readdirSync(folder, { withFileTypes: true }).reduce((latest, entry) => {
    const path = join(folder, entry.name);
    return Math.max(latest, entry.isDirectory() ? newest(path) : statSync(path).mtimeMs);
  }, statSync(folder).mtimeMs);

const madeAt = (name) => statSync(join(made, `${name}.mjs`), { throwIfNoEntry: false })?.mtimeMs ?? 0;

/** Bundles what is older than its sources; returns the folder of the bundles. */
export const bundle = async () => {
  if (Math.min(...Object.keys(entries).map(madeAt)) <= Math.max(newest(join(root, "lib")), newest(join(root, "components/live")), statSync(join(root, "package-lock.json")).mtimeMs)) {
  const { build } = await import("esbuild");
  const partial = join(made, `partial-${process.pid}`);
  mkdirSync(partial, { recursive: true });
  const shared = { absWorkingDir: root, outdir: partial, outExtension: { ".js": ".mjs" }, bundle: true, logLevel: "warning" };
  const points = (of) => Object.entries(of).map(([out, path]) => ({ in: path, out }));
  await build({
    ...shared,
    entryPoints: points(programs),
    platform: "node",
    format: "esm",
    target: "node20",
    jsx: "automatic",
    packages: "external",
  });
  await build({ ...shared, entryPoints: points(inBrowser), platform: "browser", format: "iife", target: "es2022", minify: true });
  for (const name of Object.keys(entries)) renameSync(join(partial, `${name}.mjs`), join(made, `${name}.mjs`));
  rmSync(partial, { recursive: true });
}
  return made;
};
