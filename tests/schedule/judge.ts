import type { DayProblem, Minute } from "../../lib/schedule/problem.ts";

/**
 * Whether an order of a day keeps everything, written from the definitions alone and without the search's own code: minute by minute for what is taken at once, store
 * by store for what is drawn. Every breach in words.
 */
export const breaches = ({ tasks, orders, resources, stores }: DayProblem, begins: ReadonlyMap<string, Minute>): readonly string[] => {
  const found: string[] = [];
  const placed = tasks.flatMap((task) => {
    const at = begins.get(task.id);
    return at === undefined ? [] : [{ ...task, at, end: at + task.minutes }];
  });
  for (const { id, at, end, earliest, latest, uses } of placed) {
    if (!Number.isInteger(at)) found.push(`${id} begins at no whole minute`);
    if (earliest !== undefined && at < earliest) found.push(`${id} begins before ${earliest}`);
    if (latest !== undefined && end > latest) found.push(`${id} ends after ${latest}`);
    for (const { resource } of uses) {
      const open = resources.find((one) => one.id === resource)?.open ?? [];
      if (!open.some(({ from, to }) => at >= from && end <= to)) found.push(`${id} lies outside the times of ${resource}`);
    }
  }
  for (const { before, after, gap = 0 } of orders) {
    const [first, second] = [placed.find(({ id }) => id === before), placed.find(({ id }) => id === after)];
    if (second !== undefined && first === undefined) found.push(`${after} is placed and ${before} before it is not`);
    if (first !== undefined && second !== undefined && second.at < first.end + gap) found.push(`${after} begins before ${before} is over`);
  }
  for (const { id, capacity } of resources) {
    const used = placed.flatMap((task) =>
      task.uses.flatMap(({ resource, amount, after = 0 }) => (resource === id ? [{ from: task.at, to: task.end + after, amount }] : [])),
    );
    const last = Math.max(0, ...used.map(({ to }) => to));
    for (let minute = Math.min(last, ...used.map(({ from }) => from)); minute < last; minute += 1) {
      const at = used.reduce((sum, one) => (one.from <= minute && minute < one.to ? sum + one.amount : sum), 0);
      if (at > capacity + 1e-6) {
        found.push(`${id} is taken ${at} times of ${capacity} in minute ${minute}`);
        break;
      }
    }
  }
  const from = Math.min(...resources.flatMap(({ open }) => open.map((span) => span.from)));
  for (const { id, holds, first, floor, refill } of stores) {
    const drawn = placed
      .flatMap((task) =>
        (task.draws ?? []).flatMap((one) => (one.store === id ? [{ ...one, at: task.at + (one.at ?? 0), task: task.id }] : [])),
      )
      .sort((one, other) => one.at - other.at);
    let [level, then] = [first, from];
    for (const { at, amount, wants = 0, task } of drawn) {
      level = Math.min(holds, level + (at - then) * refill);
      then = at;
      // Two that begin in the same minute may be taken in either order: only what is wanted before is then in doubt.
      const together = drawn.some((other) => other.at === at && other.task !== task);
      if (level < wants - 1e-6 && !together) found.push(`${id} holds ${level} as ${task} begins, which wants ${wants}`);
      level -= amount;
      if (level < floor - 1e-6) found.push(`${id} comes under its floor with ${task}`);
    }
  }
  return found;
};
