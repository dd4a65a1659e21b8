import { parentPort } from "node:worker_threads";
import { dayOf } from "../../plan/day/planDay.ts";
import type { DrawnUp } from "../../plan/day/setup.ts";
import type { DayPlan } from "../../plan/day/types.ts";

/** A day to be put in order, told apart by its number. */
export interface DayJob {
  readonly number: number;
  readonly setup: DrawnUp;
}

export type DayAnswer = { readonly number: number; readonly plan: DayPlan } | { readonly number: number; readonly why: string };

const answerTo = ({ number, setup }: DayJob): DayAnswer => {
  try {
    return { number, plan: dayOf(setup) };
  } catch (error) {
    return { number, why: error instanceof Error ? error.message : "the day could not be put in order" };
  }
};

parentPort?.on("message", (job: DayJob) => parentPort?.postMessage(answerTo(job)));
