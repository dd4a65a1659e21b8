import highs from "highs";
import type { DayProblem } from "../../lib/schedule/problem.ts";

const STEP = 5;

/**
 * The earliest end of a day of the reference type, proven by another solver (HiGHS, a mixed-integer program with a variable for each task and beginning): times in
 * steps of five minutes, no stores, no opening times but one. `most` is an end that is known to be reached. Throws where it is not proven.
 */
export const provenByHighs = async ({ tasks, orders, resources }: DayProblem, most: number): Promise<number> => {
  const solver = await highs();
  const steps = most / STEP;
  const long = (minutes: number): number => minutes / STEP;
  const name = (task: number, at: number): string => `x${task}_${at}`;
  const last = (task: number): number => steps - long(tasks[task]?.minutes ?? 0);
  const starts = (task: number): readonly number[] => Array.from({ length: last(task) + 1 }, (_, at) => at);
  const begin = (task: number, sign: "+" | "-"): string =>
    starts(task)
      .filter((at) => at > 0)
      .map((at) => `${sign} ${at} ${name(task, at)}`)
      .join(" ");
  const rows: string[] = tasks.map(
    (_, task) =>
      `${starts(task)
        .map((at) => `+ 1 ${name(task, at)}`)
        .join(" ")} = 1`,
  );
  const placeOf = (id: string): number => tasks.findIndex((task) => task.id === id);
  for (const { before, after, gap = 0 } of orders)
    rows.push(`${begin(placeOf(after), "+")} ${begin(placeOf(before), "-")} >= ${long((tasks[placeOf(before)]?.minutes ?? 0) + gap)}`);
  for (const { id, capacity } of resources)
    for (let step = 0; step < steps + 20; step += 1) {
      const parts = tasks.flatMap(({ minutes, uses }, task) => {
        const own = uses.find(({ resource }) => resource === id);
        if (own === undefined) return [];
        const held = long(minutes + (own.after ?? 0));
        return starts(task)
          .filter((at) => at <= step && step < at + held)
          .map((at) => `+ ${own.amount} ${name(task, at)}`);
      });
      if (parts.length > 1) rows.push(`${parts.join(" ")} <= ${capacity}`);
    }
  rows.push(...tasks.map(({ minutes }, task) => `length ${begin(task, "-")} >= ${long(minutes)}`));
  const binaries = tasks.flatMap((_, task) => starts(task).map((at) => name(task, at)));
  const program = `Minimize\n obj: length\nSubject To\n${rows.map((row, place) => ` c${place}: ${row.replaceAll(/ (?=[+-] )/g, "\n ")}`).join("\n")}\nBinary\n ${binaries.join("\n ")}\nEnd\n`;
  const solved = solver.solve(program, { mip_rel_gap: 0 });
  if (solved.Status !== "Optimal") throw new Error(`not proven: ${solved.Status}`);
  return Math.round(solved.ObjectiveValue) * STEP;
};
