import type { DayProblem, Task } from "../../schedule/problem.ts";
import { type DayFault, faultsIn } from "../../schedule/sound.ts";
import { type AskedTimes, fewestMinutes, type Pin, withMinutes, withPins } from "./asked.ts";
import { leftOutOf, type Trying, whatOf, without } from "./fewer.ts";
import type { DrawnUp } from "./setup.ts";
import { LOOK, solved } from "./solve.ts";
import type { LeftOut } from "./types.ts";
import { faultWords, momentWords, taskWords } from "./words.ts";

interface Sound {
  readonly problem: DayProblem;
  readonly leftOut: readonly LeftOut[];
  readonly refused: readonly string[];
  readonly pins: readonly Pin[];
}

const PIN_WORDS: Readonly<Record<Pin["is"], string>> = {
  "begins at": "begin at",
  "not before": "begin no earlier than",
  "done by": "be done by",
};

const pinWords = (pin: Pin, setup: DrawnUp): string => {
  const task = setup.tasks.find(({ id }) => id === pin.task);
  return `${task === undefined ? pin.task : taskWords(task)} cannot ${PIN_WORDS[pin.is]} ${momentWords(pin.at, setup.days)}`;
};

const isTimeFault = (fault: DayFault): fault is Extract<DayFault, { readonly nearest: number }> => "nearest" in fault;

/** A problem with the times asked for, without what cannot be on any day and without pins that cannot be kept; each with its reason. */
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
    const fewest = fewestMinutes(task);
    if (Number.isInteger(minutes) && minutes >= fewest) return withMinutes(task, minutes);
    const told = setup.tasks.find(({ id }) => id === task.id);
    refused.push(
      `${told === undefined ? task.id : taskWords(told)} cannot take ${minutes} min; at least ${fewest} min, its restart included.`,
    );
    return task;
  });
  let pins = asked.pins.filter(({ task }) => there.has(task));
  let problem: DayProblem = { ...setup.problem, tasks };
  const dropped = new Set<string>();
  for (let round = 0; round < 200; round += 1) {
    const now = without({ ...problem, tasks: problem.tasks.map((task) => withPins(task, pins)) }, setup.tasks, dropped);
    const [fault] = faultsIn(now);
    if (fault === undefined) return { problem: now, leftOut, refused, pins };
    const task = "task" in fault ? fault.task : (fault.tasks[0] ?? "");
    const own = pins.filter((pin) => pin.task === task);
    const pin = own.at(-1);
    if (pin !== undefined && (isTimeFault(fault) || own.length > 1)) {
      const [first] = own;
      const why =
        first === undefined || first === pin
          ? faultWords(fault, naming)
          : `it is asked to ${PIN_WORDS[first.is]} ${momentWords(first.at, setup.days)} as well`;
      refused.push(`${pinWords(pin, setup)}: ${why}.`);
      pins = pins.filter((one) => one !== pin);
      continue;
    }
    const told = setup.tasks.find(({ id }) => id === task);
    // A whole test goes, not half of it.
    dropped.add(told?.ref ?? task);
    const why = faultWords(fault, naming);
    leftOut.push(...(told?.ref === undefined ? [{ what: whatOf(told, setup, task), why }] : leftOutOf(told.ref, setup, why)));
    if (told === undefined) problem = { ...problem, tasks: problem.tasks.filter(({ id }) => id !== task) };
  }
  return { problem: { ...problem, tasks: [], orders: [] }, leftOut, refused, pins };
};

/** A problem with other times asked for than it has. */
const withOnly = (problem: DayProblem, pins: readonly Pin[]): DayProblem => ({
  ...problem,
  tasks: problem.tasks.map((task) => {
    const { earliest: _, latest: __, ...rest } = task;
    return withPins(rest, pins);
  }),
});

/**
 * Where all would fit but for the times that are asked for, these are given up one by one, the last first, as long as that places more. Where not all fits
 * anyhow they are kept, and what is asked for goes before what is not.
 */
export const withKeptPins = (sound: Sound, trying: Trying): Sound => {
  const { setup, wish } = trying;
  const missing = (problem: DayProblem): number => solved(problem, setup.sequences, wish, LOOK).order.unplaced.length;
  let [now, least] = [sound, sound.pins.length === 0 ? 0 : missing(sound.problem)];
  if (least > 0 && missing(withOnly(sound.problem, [])) > 0) return sound;
  for (const pin of [...sound.pins].reverse()) {
    if (least === 0) break;
    const pins = now.pins.filter((one) => one !== pin);
    const problem = withOnly(now.problem, pins);
    const count = missing(problem);
    if (count >= least) continue;
    const at = solved(problem, setup.sequences, wish, LOOK).order.begins.get(pin.task);
    const nearest = at === undefined ? "" : `; it could begin at ${momentWords(at, setup.days)}`;
    now = { ...now, problem, pins, refused: [...now.refused, `${pinWords(pin, setup)}: not all else would fit then${nearest}.`] };
    least = count;
  }
  return now;
};
