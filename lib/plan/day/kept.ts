import type { DayProblem, Task } from "../../schedule/problem.ts";
import { faultsIn } from "../../schedule/sound.ts";
import { type AskedTimes, fewestMinutes, type Pin, withMinutes, withPins } from "./asked.ts";
import { leftOutOf, whatOf, without } from "./fewer.ts";
import type { DrawnUp } from "./setup.ts";
import { allPlaced, type Placed } from "./solve.ts";
import type { LeftOut } from "./types.ts";
import { faultWords, momentWords, taskWords } from "./words.ts";

/** A problem in which nothing is barred by itself, with what was left out for it and what was passed over. */
export interface Sound {
  readonly problem: DayProblem;
  readonly leftOut: readonly LeftOut[];
  readonly refused: readonly string[];
}

const PIN_WORDS: Readonly<Record<Pin["is"], string>> = {
  "begins at": "begin at",
  "not before": "wait until",
  "done by": "be done by",
};

const pinWords = (pin: Pin, setup: DrawnUp): string => {
  const task = setup.tasks.find(({ id }) => id === pin.task);
  return `${task === undefined ? pin.task : taskWords(task)} cannot ${PIN_WORDS[pin.is]} ${momentWords(pin.at, setup.days)}`;
};

const withPinned = (problem: DayProblem, pins: readonly Pin[]): DayProblem => ({
  ...problem,
  tasks: problem.tasks.map((task) => withPins(task, pins)),
});

/** A problem with the lengths asked for and without what cannot be on any day, each with its reason. */
export const soundOf = (setup: DrawnUp, asked: AskedTimes): Sound => {
  const naming = { setup };
  const refused: string[] = [];
  const leftOut: LeftOut[] = [];
  const there = new Set(setup.problem.tasks.map(({ id }) => id));
  for (const { task } of [...asked.pins, ...asked.minutes])
    if (!there.has(task)) refused.push(`There is no “${task}” in this day; what was asked for it is passed over.`);
  const lengths = new Map(asked.minutes.map(({ task, minutes }) => [task, minutes]));
  const tasks = setup.problem.tasks.map((task): Task => {
    const minutes = lengths.get(task.id);
    if (minutes === undefined) return task;
    const told = setup.tasks.find(({ id }) => id === task.id);
    const fewest = told === undefined ? 1 : fewestMinutes(told);
    if (Number.isInteger(minutes) && minutes >= fewest) return withMinutes(task, minutes);
    refused.push(
      `${told === undefined ? task.id : taskWords(told)} cannot take ${minutes} min; at least ${fewest} min, its restart included.`,
    );
    return task;
  });
  const problem: DayProblem = { ...setup.problem, tasks };
  const dropped = new Set<string>();
  for (;;) {
    const now = without(problem, setup.tasks, dropped);
    const [fault] = faultsIn(now);
    const task = fault === undefined ? "" : "task" in fault ? fault.task : (fault.tasks[0] ?? "");
    if (fault === undefined) return { problem: now, leftOut, refused };
    const told = setup.tasks.find(({ id }) => id === task);
    const why = faultWords(fault, naming);
    // A whole test goes, not half of it. What is none cannot go: then there is no day.
    if (told?.ref === undefined)
      return { problem: { ...problem, tasks: [], orders: [] }, leftOut: [...leftOut, { what: whatOf(told, setup, task), why }], refused };
    dropped.add(told.ref);
    leftOut.push(...leftOutOf(told.ref, setup, why));
    for (const ref of setup.leaning[told.ref] ?? []) {
      if (dropped.has(ref)) continue;
      dropped.add(ref);
      leftOut.push(...leftOutOf(ref, setup, `${told.ref} is not on the day, and must be proven before it`));
    }
  }
};

interface Kept {
  readonly problem: DayProblem;
  readonly placed?: Placed | undefined;
  readonly refused: readonly string[];
}

/** What pins are kept in: a problem in which all finds a place, and what is left out of it. */
interface Keeping {
  readonly problem: DayProblem;
  readonly out: readonly LeftOut[];
  readonly setup: DrawnUp;
}

/** An order in which a pin is kept beside those that are, or why it cannot be. */
const tryKeeping = ({ problem, out, setup }: Keeping, pin: Pin, kept: readonly Pin[], placed: Placed | undefined): Placed | string => {
  const task = problem.tasks.find(({ id }) => id === pin.task);
  if (task === undefined) {
    const own = setup.tasks.find(({ id }) => id === pin.task);
    const why = out.find(({ ref }) => ref !== undefined && ref === own?.ref)?.why;
    return `it is on none of these days${why === undefined ? "" : `, since ${why}`}`;
  }
  const [first, last] = [setup.days[0]?.from ?? 0, setup.days.at(-1)?.to ?? 0];
  if (pin.at < first || pin.at > last) return "that is outside the hours of the visit";
  const own = kept.find((other) => other.task === pin.task);
  const [fault] = faultsIn(withPinned(problem, [...kept, pin]));
  if (fault !== undefined && own !== undefined) return `it is asked to ${PIN_WORDS[own.is]} ${momentWords(own.at, setup.days)} as well`;
  if (fault !== undefined && "nearest" in fault) {
    const begins = fault.kind === "cannot begin so early" ? fault.nearest : fault.nearest - task.minutes;
    return pin.is === "done by"
      ? `the earliest that it can end is ${momentWords(begins + task.minutes, setup.days)}`
      : `the earliest that it can begin is ${momentWords(begins, setup.days)}`;
  }
  if (fault !== undefined) return faultWords(fault, { setup });
  const all = allPlaced(withPinned(problem, [...kept, pin]), setup.sequences, placed === undefined ? undefined : { placed });
  if (all !== undefined) return all;
  const at = placed?.order.begins.get(pin.task);
  return `not all else finds a place then${at === undefined ? "" : `; without it, it begins at ${momentWords(at, setup.days)}`}`;
};

/**
 * A problem in which all finds a place, with those of the times asked for that leave it so, one after the other in the order in which they were asked for; the others are
 * refused with the reason and the nearest that could be.
 */
export const withKeptPins = (keeping: Keeping, placed: Placed | undefined, pins: readonly Pin[]): Kept => {
  const { problem, setup } = keeping;
  const kept: Pin[] = [];
  const refused: string[] = [];
  let now = placed;
  for (const pin of pins) {
    if (!setup.problem.tasks.some(({ id }) => id === pin.task)) continue;
    const found = tryKeeping(keeping, pin, kept, now);
    if (typeof found === "string") refused.push(`${pinWords(pin, setup)}: ${found}.`);
    else {
      kept.push(pin);
      now = found;
    }
  }
  return { problem: withPinned(problem, kept), placed: now, refused };
};
