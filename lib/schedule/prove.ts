import type { Reach } from "./bounds.ts";
import type { Indexed } from "./indexed.ts";
import { emptyProfile, firstPlace, NOWHERE, type Profile, place, takeBack } from "./placing.ts";
import type { Minute } from "./problem.ts";

/** So many partial orders are looked at before it is left unproven. */
const MOST_LOOKED_AT = 60_000;

/** An order that ends first, or that none ends earlier than the one known. */
export interface Proof {
  readonly end: Minute;
  /** Left out where the known one was not bettered. */
  readonly begins?: Float64Array;
}

/**
 * Walks all orders that place one task after the other as early as each can be, among which there is one that ends first (the end never gets later when a
 * task begins earlier, and a store drawn from earlier is recharged for longer). What cannot end before the best is cut off. Null where there are too many. Pure.
 */
export const provenEnd = (problem: Indexed, { tail }: Reach, known: Minute, bound: Minute): Proof | null => {
  const begins = new Float64Array(problem.count).fill(NOWHERE);
  const waits = problem.before.map((own) => own.length);
  const profile: Profile = emptyProfile(problem);
  const seen = new Set<string>();
  let looked = 0;
  let best: { end: Minute; begins?: Float64Array } = { end: known };

  /** The earliest that a task could begin by those before it that are placed. */
  const readyAt = (task: number): Minute =>
    (problem.before[task] ?? []).reduce(
      (latest, { task: one, gap }) => Math.max(latest, (begins[one] ?? 0) + (problem.minutes[one] ?? 0) + gap),
      problem.from,
    );

  const walk = (placed: number, end: Minute): boolean => {
    if (placed === problem.count) {
      if (end < best.end) best = { end, begins: Float64Array.from(begins) };
      return best.end > bound;
    }
    const key = begins.join();
    if (seen.has(key)) return true;
    seen.add(key);
    looked += 1;
    if (looked > MOST_LOOKED_AT) return false;
    const choices: { readonly task: number; readonly at: Minute }[] = [];
    for (let task = 0; task < problem.count; task += 1) {
      if ((begins[task] ?? NOWHERE) >= 0 || (waits[task] ?? 0) > 0) continue;
      const at = firstPlace(problem, profile, task, readyAt(task));
      // Every task that could be next has to be placed at some time: where one of them is late, all orders from here are.
      if (at < 0 || at + (tail[task] ?? 0) >= best.end) return true;
      choices.push({ task, at });
    }
    choices.sort((one, other) => one.at - other.at || (tail[other.task] ?? 0) - (tail[one.task] ?? 0));
    for (const { task, at } of choices) {
      begins[task] = at;
      place(problem, profile, task, at);
      for (const { task: next } of problem.after[task] ?? []) waits[next] = (waits[next] ?? 0) - 1;
      const goOn = walk(placed + 1, Math.max(end, at + (problem.minutes[task] ?? 0)));
      for (const { task: next } of problem.after[task] ?? []) waits[next] = (waits[next] ?? 0) + 1;
      takeBack(problem, profile, task, at);
      begins[task] = NOWHERE;
      if (!goOn) return false;
    }
    return true;
  };
  walk(0, problem.from);
  // Stopped short of the bound by the number of orders: nothing is proven.
  return looked > MOST_LOOKED_AT && best.end > bound ? null : best;
};
