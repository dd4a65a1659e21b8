import type { DayProblem, Draw } from "../../schedule/problem.ts";
import { ENGINEERS, INSPECTOR } from "./people.ts";
import type { DrawnUp } from "./setup.ts";
import { A_DAY, USUAL_MINUTES } from "./times.ts";
import type { DayTask } from "./types.ts";

/** A shaft is not started: what stops its generator by hand needs no proof over again. */
const isStarted = (set: number, { tasks }: DrawnUp): boolean => tasks.some(({ id, starts }) => id === `start ${set}` && starts > 0);

/**
 * Minutes in which sets that go on from the day before are started, seen to stop by hand, started again and warmed up, as many at once as there are engineers, and looked over
 * one after the other: as at a first start.
 */
const minutesOf = (sets: readonly number[], drawn: DrawnUp): number => {
  const { tasks, resources } = drawn.problem;
  const minutes = (id: string): number => tasks.find((task) => task.id === id)?.minutes ?? 0;
  const engineers = resources.find(({ id }) => id === ENGINEERS)?.capacity ?? 1;
  const warm = Math.max(...sets.map((set) => minutes(`start ${set}`) + (isStarted(set, drawn) ? USUAL_MINUTES.stopAgain : 0)));
  return warm * Math.ceil(sets.length / Math.max(1, engineers)) + sets.reduce((sum, set) => sum + minutes(`readings ${set}`), 0);
};

/** The id of the task by which such a day begins. */
export const idOf = (day: number): string => `morning ${day}`;

export const isMorning = ({ id }: Pick<DayTask, "id">): boolean => id.startsWith("morning ");

/** A day that begins with sets which go on from the day before, by their numbers. */
export interface Morning {
  readonly day: number;
  readonly sets: readonly number[];
}

/** What is done on a set that stands: looking it over and leaving it needs no start. */
const STANDING: readonly DayTask["phase"][] = ["walk-round", "at rest", "as left"];

/** Which sets were started on an earlier day and run again on a day, for each such day in order. Pure. */
export const morningsOf = (begins: ReadonlyMap<string, number>, { tasks, days }: DrawnUp): readonly Morning[] =>
  days.flatMap((_, day): readonly Morning[] => {
    const run = tasks.filter(({ id, set, phase, startsItself }) => {
      const at = begins.get(id);
      return set !== null && at !== undefined && Math.floor(at / A_DAY) === day && !STANDING.includes(phase) && startsItself !== true;
    });
    const sets = [...new Set(run.flatMap(({ set }) => (set === null ? [] : [set])))].filter((set) => {
      const start = begins.get(`start ${set}`);
      return start !== undefined && start < day * A_DAY;
    });
    return sets.length === 0 ? [] : [{ day, sets }];
  });

/** Mornings with those of a further order. */
export const joinedMornings = (one: readonly Morning[], other: readonly Morning[]): readonly Morning[] => {
  const both = [...one, ...other];
  return [...new Set(both.map(({ day }) => day))]
    .sort((a, b) => a - b)
    .map((day) => ({ day, sets: [...new Set(both.filter((own) => own.day === day).flatMap(({ sets }) => sets))].sort((a, b) => a - b) }));
};

/** What is told of a morning. */
export const toldOf = ({ day, sets }: Morning, drawn: DrawnUp): DayTask => {
  const names = sets.map((set) => drawn.lanes.find(({ id }) => id === `set ${set}`)?.label ?? "");
  const started = sets.filter((set) => isStarted(set, drawn));
  return {
    id: idOf(day),
    phase: "start",
    set: null,
    what: `Started again: ${names.join(", ")}`,
    how: `Goes on from the day before: ${started.length === 0 ? "" : "started, seen to stop by the hand stop, started again; "}warmed up, hold point again: no leak; readings at rated speed`,
    minutes: minutesOf(sets, drawn),
    restart: 0,
    starts: started.length * 2,
    hotStops: 0,
  };
};

/** A problem in which such days begin with starting these sets again. Pure. */
export const withMornings = (problem: DayProblem, mornings: readonly Morning[], drawn: DrawnUp): DayProblem => {
  const capacityOf = (id: string): number => problem.resources.find((one) => one.id === id)?.capacity ?? 0;
  const storeOf = (set: number): readonly Draw[] => {
    const draw = problem.tasks.find(({ id }) => id === `start ${set}`)?.draws?.[0];
    return draw === undefined ? [] : [{ store: draw.store, amount: 2 }];
  };
  return {
    ...problem,
    tasks: [
      ...problem.tasks,
      ...mornings.map(({ day, sets }) => {
        const [from, minutes] = [drawn.days[day]?.from ?? 0, minutesOf(sets, drawn)];
        return {
          id: idOf(day),
          minutes,
          uses: [
            { resource: INSPECTOR, amount: 1 },
            // As many as there are sets, so that a technician can be briefed meanwhile.
            { resource: ENGINEERS, amount: Math.min(capacityOf(ENGINEERS), sets.length) },
            ...sets.map((set) => ({ resource: `set ${set}`, amount: 1 })),
          ],
          draws: sets.flatMap(storeOf),
          earliest: from,
          latest: from + minutes,
        };
      }),
    ],
  };
};
