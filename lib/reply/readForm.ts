import { newThread } from "../letter/thread.ts";
import type { FormRead } from "./formReader.ts";

/** Reads the form of a PDF file. Never fails and always ends: a file that takes too long or too much memory is "too slow". */
export type ReadForm = (bytes: Uint8Array) => Promise<FormRead>;

export interface ReaderLimits {
  /** After this long, in milliseconds, a file is given up. */
  readonly timeout: number;
  /** Heap of the worker, in MiB. */
  readonly memory: number;
}

const LIMITS: ReaderLimits = { timeout: 20_000, memory: 512 };

/**
 * A reader with a worker of its own for each file, so that a file made to harm takes nothing with it. `address` is where the bundled worker
 * lies; by itself it is looked for beside the program.
 */
export const formReader =
  (limits: ReaderLimits = LIMITS, address?: URL): ReadForm =>
  (bytes) =>
    new Promise((done) => {
      const worker = newThread(import.meta.url, "formReader", address, { resourceLimits: { maxOldGenerationSizeMb: limits.memory } });
      const finish = (read: Awaited<ReturnType<ReadForm>>): void => {
        clearTimeout(timer);
        worker.removeAllListeners();
        // What it still says while it is being ended is of no consequence.
        worker.on("error", () => undefined);
        worker.terminate().then(() => done(read));
      };
      const timer = setTimeout(() => finish({ found: "too slow" }), limits.timeout);
      worker.on("message", (read: FormRead) => finish(read));
      worker.on("error", () => finish({ found: "too slow" }));
      worker.on("exit", () => finish({ found: "too slow" }));
      worker.postMessage(bytes);
    });
