import type { DayProblem, Minute } from "../../schedule/problem.ts";
import { ENGINEERS } from "./people.ts";
import type { DrawnUp } from "./setup.ts";
import { A_DAY } from "./times.ts";

const STEP = 5;

/** When the first of the tasks begins that a brief comes before; infinity where none is placed. */
const firstAfter = (brief: string, { orders }: DayProblem, begins: ReadonlyMap<string, Minute>): Minute =>
  Math.min(...orders.filter(({ before }) => before === brief).flatMap(({ after }) => begins.get(after) ?? []));

/**
 * The beginnings of an order with each technician's brief as late before his first task as an engineer is free for it: a search that places all as early as can be would
 * have him come for the brief and wait. Nothing else is moved. Pure.
 */
export const withLateBriefs = (
  begins: ReadonlyMap<string, Minute>,
  problem: DayProblem,
  { work }: DrawnUp,
): ReadonlyMap<string, Minute> => {
  const late = new Map(begins);
  const capacity = problem.resources.find(({ id }) => id === ENGINEERS)?.capacity ?? 0;
  const minutesOf = (id: string): number => problem.tasks.find((task) => task.id === id)?.minutes ?? 0;
  for (const technician of problem.attending) {
    const brief = problem.tasks.find(({ id }) => id === `brief ${technician}`);
    const now = brief === undefined ? undefined : late.get(brief.id);
    if (brief === undefined || now === undefined || brief.latest !== undefined) continue;
    const first = firstAfter(brief.id, problem, late);
    if (!Number.isFinite(first)) continue;
    const engineersAt = (from: Minute, to: Minute): number =>
      Math.max(
        0,
        ...[from, ...[...late.values()].filter((at) => at > from && at < to)].map((minute) =>
          problem.tasks.reduce((sum, task) => {
            const at = late.get(task.id);
            const own = task.uses.find(({ resource }) => resource === ENGINEERS);
            const busy =
              task !== brief && at !== undefined && own !== undefined && at <= minute && minute < at + task.minutes + (own.after ?? 0);
            return busy ? sum + own.amount : sum;
          }, 0),
        ),
      );
    for (let at = first - minutesOf(brief.id); at > now; at -= STEP) {
      const inHours = work.some(({ from, to }) => from <= at && at + brief.minutes <= to);
      if (!inHours || engineersAt(at, at + brief.minutes) + 1 > capacity) continue;
      late.set(brief.id, at);
      break;
    }
  }
  return late;
};

/**
 * A problem in which no technician is briefed on an earlier day than that of his first task in an order, so that nobody comes a day for ten minutes; the same problem where
 * none is. Pure.
 */
export const briefedOnTheirDay = (problem: DayProblem, begins: ReadonlyMap<string, Minute>): DayProblem => {
  const days = new Map(
    problem.attending.flatMap((technician) => {
      const brief = `brief ${technician}`;
      const [own, first] = [begins.get(brief), firstAfter(brief, problem, begins)];
      const day = Math.floor(first / A_DAY);
      return own !== undefined && Number.isFinite(first) && Math.floor(own / A_DAY) < day ? [[brief, day * A_DAY] as const] : [];
    }),
  );
  if (days.size === 0) return problem;
  return {
    ...problem,
    tasks: problem.tasks.map((task) => ({
      ...task,
      ...(days.has(task.id) ? { earliest: Math.max(task.earliest ?? 0, days.get(task.id) ?? 0) } : {}),
    })),
  };
};
