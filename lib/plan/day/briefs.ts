import type { DayProblem, Minute } from "../../schedule/problem.ts";
import type { DrawnUp } from "./setup.ts";
import { A_DAY } from "./times.ts";

/** When the first of the tasks begins that a brief comes before; infinity where none is placed. */
const firstAfter = (brief: string, { orders }: DayProblem, begins: ReadonlyMap<string, Minute>): Minute =>
  Math.min(...orders.filter(({ before }) => before === brief).flatMap(({ after }) => begins.get(after) ?? []));

/**
 * The beginnings of an order with each technician's brief as late before his first task as there are hours for it: a search that places all as early as can be would have
 * him come for the brief and wait. Whoever is in charge briefs him, so that nothing else is moved. Pure.
 */
export const withLateBriefs = (
  begins: ReadonlyMap<string, Minute>,
  problem: DayProblem,
  { work }: DrawnUp,
): ReadonlyMap<string, Minute> => {
  const late = new Map(begins);
  for (const technician of problem.attending) {
    const brief = problem.tasks.find(({ id }) => id === `brief ${technician}`);
    const now = brief === undefined ? undefined : begins.get(brief.id);
    if (brief === undefined || now === undefined || brief.latest !== undefined) continue;
    const first = firstAfter(brief.id, problem, begins);
    const hours = work.findLast(({ from }) => from + brief.minutes <= first);
    if (hours === undefined || !Number.isFinite(first)) continue;
    late.set(brief.id, Math.max(now, Math.min(first, hours.to) - brief.minutes));
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
