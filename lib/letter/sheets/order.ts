import { refsOf } from "../../drawing/dayLanes.ts";
import { isMorning } from "../../plan/day/mornings.ts";
import { clockOf } from "../../plan/day/times.ts";
import type { DayLine, DayPlan } from "../../plan/day/types.ts";
import { momentWords } from "../../plan/day/words.ts";
import type { Plan } from "../../plan/schema.ts";
import { SAY } from "../catalogue.ts";
import { capital } from "../words.ts";
import type { Test } from "./test.ts";

/** Whether a test is done on the day; all of them while there is no order of the day. */
export const isOnDay = (ref: string, day: DayPlan | null): boolean => day === null || day.lines.some((line) => refsOf(line).includes(ref));

/** How many minutes the day has for a test, what follows it counted in; nothing where it has none. */
const minutesOnDay = (ref: string, day: DayPlan | null): number | null => {
  const own = (day?.lines ?? []).filter((line) => refsOf(line).includes(ref));
  return own.length === 0 ? null : own.reduce((sum, { minutes }) => sum + minutes, 0);
};

/** When a test is on the day, with the date where there are several days; that it is on none. Nothing while there is no order of the day. */
const timeOf = (ref: string, day: DayPlan | null): string => {
  if (day === null) return "";
  // A test of two acts, one at rest and one running, stands in the day twice.
  const own = day.lines.filter((line) => refsOf(line).includes(ref));
  if (own.length === 0) return SAY.carry.notOn(day.days.length);
  return capital(own.map(({ begins, ends }) => SAY.carry.timeOf(momentWords(begins, day.days), clockOf(ends))).join("; "));
};

/** The planned tests of a set in the order of the day, and after them those that are not on it, in the plan's order. None is left out. */
export const testsOn = (set: number, plan: Plan, day: DayPlan | null): readonly Test[] => {
  const tests = (plan.sets[set]?.protections ?? [])
    .filter(({ applies, decision }) => applies !== "no" && decision.outcome === "combination")
    .map((protection) => ({ set, protection, when: timeOf(protection.ref, day), onDay: minutesOnDay(protection.ref, day) }));
  const refs = (day?.lines ?? []).flatMap(refsOf);
  const placeOf = ({ protection }: Test): number => {
    const place = refs.indexOf(protection.ref);
    return place < 0 ? refs.length : place;
  };
  return tests.toSorted((one, other) => placeOf(one) - placeOf(other));
};

/** Whether a test is on no day although there is an order of the day. */
export const isLeftOut = ({ when, onDay }: Test): boolean => when !== "" && onDay === null;

/** How many tests there are, and how many of them are on the days where that is not all. */
export const countWords = (tests: readonly Test[]): string => {
  const on = tests.filter((test) => !isLeftOut(test)).length;
  return on === tests.length ? SAY.carry.testsIn(on) : SAY.carry.testsOf(on, tests.length);
};

/** The sets that share the starts of a line evenly: those of one act for several, or those that a morning starts again from a store. */
const sharing = (line: DayLine, { lanes, lines }: DayPlan): readonly string[] => {
  const sets = lanes.filter(({ id, kind }) => kind === "set" && line.takes.some(({ lane }) => lane === id)).map(({ id }) => id);
  return isMorning(line)
    ? sets.filter((id) => lines.some((own) => own.id === `start ${own.set}` && own.starts > 0 && id === laneOf(own.set)))
    : sets;
};

const laneOf = (set: number | null): string => `set ${set}`;

const startsIn = (line: DayLine, set: number, day: DayPlan): number => {
  if (!isMorning(line) && line.also === undefined) return line.set === set ? line.starts : 0;
  const sets = sharing(line, day);
  return sets.includes(laneOf(set)) ? line.starts / sets.length : 0;
};

/** The starts and hot stops of a set that stand on the days. */
export const startsOn = (set: number, day: DayPlan): Pick<DayLine, "starts" | "hotStops"> => ({
  starts: day.lines.reduce((sum, line) => sum + startsIn(line, set, day), 0),
  hotStops: day.lines.reduce((sum, line) => sum + (line.set === set ? line.hotStops : 0), 0),
});

/** Protections of a set that no acceptable way is left for. */
export const withoutWay = (set: number, plan: Plan): readonly Test[] =>
  (plan.sets[set]?.protections ?? [])
    .filter(({ applies, decision }) => applies !== "no" && decision.outcome === "nothing acceptable")
    .map((protection) => ({ set, protection, when: "", onDay: null }));
