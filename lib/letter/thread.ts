import { Worker, type WorkerOptions } from "node:worker_threads";

/** Node 20 starts a worker without the loader that runs sources; this loads it first. */
const WITH_LOADER = `const { loader, worker } = require("node:worker_threads").workerData;
import(loader).then(({ register }) => { register(); return import(worker); });`;

/**
 * Starts a worker. `here` is where the caller runs: beside the bundled program lies the bundled worker `name`; a program that runs from its
 * sources takes the worker's source beside its own. `address` is used instead where it is given.
 */
export const newThread = (here: string, name: string, address: URL | undefined, options: WorkerOptions): Worker => {
  if (address !== undefined) return new Worker(address, options);
  // Said so that a bundler does not look for the file while it bundles.
  const beside = (file: string): URL => new URL(here.replace(/[^/]*$/, file));
  if (!here.endsWith(".ts")) return new Worker(beside(`${name}.mjs`), options);
  const loader = import.meta.resolve("tsx/esm/api");
  return new Worker(WITH_LOADER, { ...options, eval: true, workerData: { loader, worker: beside(`${name}.ts`).href } });
};
