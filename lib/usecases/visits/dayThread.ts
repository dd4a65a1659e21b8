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

/** `address` is where the bundled worker lies. The thread starts with the first day, and anew after it fell; it keeps no program running. */
export const openDayThread = (address: URL): DayThread => {
  let worker: Worker | undefined;
  let number = 0;
  const waiting = new Map<number, Waiting>();
  const fell = (why: string): void => {
    worker = undefined;
    for (const { failed } of waiting.values()) failed(new Error(why));
    waiting.clear();
  };
  const started = (): Worker => {
    const made = newThread(import.meta.url, "dayWorker", address, {});
    made.on("error", ({ message }: Error) => fell(message));
    made.on("exit", () => {
      if (worker === made) fell("what puts days in order ended");
    });
    made.on("message", (answer: DayAnswer) => {
      const one = waiting.get(answer.number);
      waiting.delete(answer.number);
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
        worker.ref();
        worker.postMessage({ number, setup } satisfies DayJob);
      }),
    close: async () => {
      await worker?.terminate();
    },
  };
};
