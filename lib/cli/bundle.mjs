// Makes the command line and the letter's worker one bundled file each, anew whenever a source is newer. Bundling takes a
// fifth of a second once; loading a hundred sources one by one would take longer at every start.
import { mkdirSync, readdirSync, renameSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = fileURLToPath(new URL("../..", import.meta.url));
/** Where the bundles lie. */
export const made = join(root, "node_modules/.cache/forehail");
const entries = { main: "lib/cli/main.ts", worker: "lib/letter/worker.ts" };

const newest = (folder) =>
  readdirSync(folder, { withFileTypes: true }).reduce((latest, entry) => {
    const path = join(folder, entry.name);
    return Math.max(latest, entry.isDirectory() ? newest(path) : statSync(path).mtimeMs);
  }, statSync(folder).mtimeMs);

const madeAt = (name) => statSync(join(made, `${name}.mjs`), { throwIfNoEntry: false })?.mtimeMs ?? 0;

/** Bundles what is older than its sources; returns the folder of the bundles. */
export const bundle = async () => {
  if (Math.min(...Object.keys(entries).map(madeAt)) <= Math.max(newest(join(root, "lib")), statSync(join(root, "package-lock.json")).mtimeMs)) {
  const { build } = await import("esbuild");
  const partial = join(made, `partial-${process.pid}`);
  mkdirSync(partial, { recursive: true });
  await build({
    absWorkingDir: root,
    entryPoints: Object.entries(entries).map(([out, path]) => ({ in: path, out })),
    outdir: partial,
    outExtension: { ".js": ".mjs" },
    bundle: true,
    platform: "node",
    format: "esm",
    target: "node20",
    jsx: "automatic",
    packages: "external",
    logLevel: "warning",
  });
  for (const name of Object.keys(entries)) renameSync(join(partial, `${name}.mjs`), join(made, `${name}.mjs`));
  rmSync(partial, { recursive: true });
}
  return made;
};
