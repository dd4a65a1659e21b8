import { Worker } from "node:worker_threads";
import { failure, type Result, success } from "../kernel/result.ts";
import type { Letter } from "./blocks.ts";
import type { Answer, Job } from "./worker.ts";

/** Renders letters in a worker of its own, so that a layout that never ends takes nothing with it. */
export interface Renderer {
  /** Starts the worker ahead of the first letter. */
  readonly warm: () => void;
  readonly render: (letter: Letter) => Promise<Result<Uint8Array>>;
  readonly close: () => Promise<void>;
}

export interface Limits {
  /** After this long, in milliseconds, a letter is given up. */
  readonly timeout: number;
  /** Heap of the worker, in MiB. */
  readonly memory: number;
}

const LIMITS: Limits = { timeout: 20_000, memory: 512 };

/** Beside the bundled program lies the bundled worker. */
const BUNDLED = new URL("./worker.mjs", import.meta.url);

const startWorker = (address: URL, memory: number): Worker => {
  const made = new Worker(address, { resourceLimits: { maxOldGenerationSizeMb: memory } });
  // Between two letters nobody listens; an error then must not end the program.
  made.on("error", () => undefined);
  return made;
};

export const openRenderer = (limits: Limits = LIMITS, address: URL = BUNDLED): Renderer => {
  let worker: Worker | undefined;
  let number = 0;
  const stop = async (): Promise<void> => {
    const stopped = worker;
    worker = undefined;
    await stopped?.terminate();
  };
  const render = (letter: Letter): Promise<Result<Uint8Array>> =>
    new Promise((done) => {
      worker ??= startWorker(address, limits.memory);
      const running = worker;
      number += 1;
      const job: Job = { number, letter };
      const finish = (result: Result<Uint8Array>, restart: boolean): void => {
        clearTimeout(timer);
        running.off("message", onMessage).off("error", onError).off("exit", onExit);
        if (restart) void stop().then(() => done(result));
        else done(result);
      };
      const onMessage = (answer: Answer): void => {
        if (answer.number === job.number) finish("pdf" in answer ? success(answer.pdf) : failure(answer.why), false);
      };
      const onError = (error: unknown): void =>
        finish(failure(`the letter could not be rendered: ${error instanceof Error ? error.message : "unknown reason"}`), true);
      const onExit = (): void => finish(failure("the renderer ended before the letter was done"), true);
      const timer = setTimeout(
        () => finish(failure(`the letter was not laid out within ${limits.timeout / 1000} s`), true),
        limits.timeout,
      );
      running.on("message", onMessage).on("error", onError).on("exit", onExit);
      running.postMessage(job);
    });
  const warm = (): void => {
    worker ??= startWorker(address, limits.memory);
  };
  return { warm, render, close: stop };
};
