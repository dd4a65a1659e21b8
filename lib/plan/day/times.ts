import { daysAfter, daysBetween } from "../../figures/workingDays.ts";
import type { DaySettings } from "../../model/daySettings.ts";
import { clockMinutes, isOutside } from "../../model/daySettings.ts";
import type { Minute, Span } from "../../schedule/problem.ts";
import type { DayHours } from "./types.ts";

export const A_DAY = 1440;

/**
 * Minutes that the things around the tests take: common practice without a source, for the office to change. Minutes of the tests stand in the rulebook.
 */
export const USUAL_MINUTES = {
  papers: 45,
  brief: 20,
  technicianBrief: 10,
  walkRound: 20,
  warmUp: 20,
  warmUpSteam: 60,
  readings: 10,
  /** Cool-down, prelubrication, restart, hold point, left as found. */
  restart: 15,
  /** The hand stop seen to stop a set again, and the start after it, where it goes on from the day before. */
  stopAgain: 5,
  restartSteam: 30,
  /** Of the restart, from the stop to the start. */
  coolDown: 5,
  codesCleared: 15,
  underWay: 30,
  asLeft: 10,
  closeOut: 30,
} as const;

/** A set that has run is cold for a morning only: so many minutes from the beginning of a day a cold machine is measured. */
export const COLD_UNTIL = 150;

/** The most days that are planned; a window is seldom longer than a week. */
const MOST_DAYS = 14;

/** The days of a window with their hours and the pause in each. */
export const daysOf = (
  { from, to }: { readonly from: string; readonly to: string },
  { hours, pause }: Pick<DaySettings, "hours" | "pause">,
): readonly DayHours[] => {
  const count = Math.min(MOST_DAYS, daysBetween(from, to) + 1);
  return Array.from({ length: Math.max(1, count) }, (_, day) => {
    const on = (clock: string): Minute => day * A_DAY + clockMinutes(clock);
    return {
      date: daysAfter(from, day),
      from: on(hours.from),
      to: on(hours.to),
      breaks: pause === null || isOutside(pause, hours) ? [] : [{ from: on(pause.from), to: on(pause.to) }],
    };
  });
};

/** When people are at work: the hours of each day without its breaks. */
export const workOf = (days: readonly DayHours[]): readonly Span[] =>
  days.flatMap(({ from, to, breaks }) =>
    [...breaks, { from: to, to }].map((pause, place) => ({ from: breaks[place - 1]?.to ?? from, to: pause.from })),
  );

/** Minutes from midnight before the first day to "2026-03-24T13:00". */
export const minuteOf = (moment: string, first: string): Minute =>
  daysBetween(first, moment.slice(0, 10)) * A_DAY + clockMinutes(moment.slice(11));

/** "09:05" of a minute. */
export const clockOf = (minute: Minute): string => {
  const inDay = ((Math.round(minute) % A_DAY) + A_DAY) % A_DAY;
  return `${String(Math.floor(inDay / 60)).padStart(2, "0")}:${String(inDay % 60).padStart(2, "0")}`;
};

/** The date of a minute. */
export const dateOf = (minute: Minute, first: string): string => daysAfter(first, Math.floor(minute / A_DAY));

/** "1 h 20 min", "45 min". */
export const lengthWords = (minutes: number): string => {
  const [hours, rest] = [Math.floor(minutes / 60), Math.round(minutes % 60)];
  return hours === 0 ? `${rest} min` : rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
};
