import type { Worker } from "node:worker_threads";
import { newThread } from "../../letter/thread.ts";
import type { DrawnUp } from "../../plan/day/setup.ts";
import type { DayPlan } from "../../plan/day/types.ts";
import type { DayAnswer, DayJob } from "./dayWorker.ts";

/** Puts days in order beside the pages, so that nobody's page waits for somebody else's day. */
export interface DayThread {
  readonly dayOf: (setup: DrawnUp) => Promise<DayPlan>;
  readonly close: () => Promise<void>;
}

interface Waiting {
  readonly done: (plan: DayPlan) => void;
  readonly failed: (error: Error) => void;
}

/** Beyond this many milliseconds without a day done, the one in work is given up. The greatest days that are known take some two seconds. */
const LIMIT = 30_000;
/** Heap of the thread, in MiB. */
const MEMORY = 512;

/**
 * `address` is where the bundled worker lies. The thread starts with the first day, and anew after it fell or was at one day for more than `limit` milliseconds; who
 * waits then is told so. It keeps no program running.
 */
export const openDayThread = (address: URL, limit = LIMIT): DayThread => {
  let worker: Worker | undefined;
  let number = 0;
  let timer: NodeJS.Timeout | undefined;
  const waiting = new Map<number, Waiting>();
  /** Ends a thread, and with it all that it was asked for. */
  const fell = (which: Worker, why: string): void => {
    if (worker !== which) return;
    worker = undefined;
    clearTimeout(timer);
    void which.terminate();
    for (const { failed } of waiting.values()) failed(new Error(why));
    waiting.clear();
  };
  const timed = (one: Worker): void => {
    clearTimeout(timer);
    if (waiting.size > 0) timer = setTimeout(() => fell(one, `a day was not in order within ${limit / 1000} s`), limit);
  };
  const started = (): Worker => {
    const made = newThread(import.meta.url, "dayWorker", address, { resourceLimits: { maxOldGenerationSizeMb: MEMORY } });
    made.on("error", ({ message }: Error) => fell(made, message));
    made.on("exit", () => fell(made, "what puts days in order ended"));
    made.on("message", (answer: DayAnswer) => {
      const one = waiting.get(answer.number);
      waiting.delete(answer.number);
      timed(made);
      if (waiting.size === 0) made.unref();
      if ("why" in answer) one?.failed(new Error(answer.why));
      else one?.done(answer.plan);
    });
    return made;
  };
  return {
    dayOf: (setup) =>
      new Promise((done, failed) => {
        worker ??= started();
        number += 1;
        waiting.set(number, { done, failed });
        if (waiting.size === 1) timed(worker);
        worker.ref();
        worker.postMessage({ number, setup } satisfies DayJob);
      }),
    close: async () => {
      const stopped = worker;
      if (stopped !== undefined) fell(stopped, "the program is being stopped");
      await stopped?.terminate();
    },
  };
};
