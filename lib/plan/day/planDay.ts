import type { Span } from "../../schedule/problem.ts";
import type { AskedTimes } from "./asked.ts";
import { withLateBriefs } from "./briefs.ts";
import { courseOf, loadCourseOf, takesAway } from "./courses.ts";
import { workBetween } from "./fewer.ts";
import { soundOf } from "./kept.ts";
import { notesOf } from "./notes.ts";
import { overNights } from "./overNights.ts";
import type { DrawnUp } from "./setup.ts";
import type { Solved } from "./solve.ts";
import { A_DAY } from "./times.ts";
import type { DayLine, DayPlan, DayQuality, StoreCourse } from "./types.ts";

const linesOf = (setup: DrawnUp, { problem, order }: Solved): readonly DayLine[] => {
  const lanes = new Set(setup.lanes.map(({ id }) => id));
  const times = withLateBriefs(order.begins, problem, setup);
  return problem.tasks
    .flatMap((task): readonly DayLine[] => {
      const [begins, told] = [times.get(task.id), setup.tasks.find(({ id }) => id === task.id)];
      if (begins === undefined || told === undefined) return [];
      const ends = begins + task.minutes;
      const takes = task.uses.flatMap(({ resource, after = 0 }) =>
        lanes.has(resource) ? [{ lane: resource, to: Math.min(ends, ends + after) }] : [],
      );
      return [{ ...told, minutes: task.minutes, begins, ends, takes }];
    })
    .sort((one, other) => one.begins - other.begins || one.ends - other.ends);
};

/** Minutes that technicians are there, each from his first to his last task of every day, pauses not counted. */
const attendanceOf = (lines: readonly DayLine[], { lanes, work }: DrawnUp): number =>
  lanes
    .filter(({ kind }) => kind === "technician")
    .reduce((sum, { id }) => {
      const own = lines.filter(({ takes }) => takes.some(({ lane }) => lane === id));
      const days = [...new Set(own.map(({ begins }) => Math.floor(begins / A_DAY)))];
      return (
        sum +
        days.reduce((total, day) => {
          const here = own.filter(({ begins }) => Math.floor(begins / A_DAY) === day);
          return total + workBetween(Math.min(...here.map(({ begins }) => begins)), Math.max(...here.map(({ ends }) => ends)), work);
        }, 0)
      );
    }, 0);

const qualityOf = (lines: readonly DayLine[], setup: DrawnUp, { order, noneEndsBefore, leastAttendance }: Solved): DayQuality => {
  const ends = Math.max(setup.days[0]?.from ?? 0, ...lines.map((line) => line.ends));
  const attendance = attendanceOf(lines, setup);
  return {
    ends,
    noneEndsBefore,
    lengthGap: workBetween(noneEndsBefore, ends, setup.work),
    attendance,
    attendanceGap: Math.max(0, Math.min(order.attendance, attendance) - leastAttendance),
  };
};

/** So many orders are tried of a day: what is shown while somebody changes it is what is kept. More of them (200, 500) made no demo day shorter. */
const TRIES = 80;

/** Tests for which a time is asked are the last to be left out. */
const withWantedLast = (drawn: DrawnUp, { pins }: AskedTimes): DrawnUp => {
  const wanted = new Set(drawn.tasks.flatMap(({ id, ref }) => (ref !== undefined && pins.some(({ task }) => task === id) ? [ref] : [])));
  const isWanted = (ref: string): boolean => wanted.has(ref);
  return {
    ...drawn,
    leastFirst: [...drawn.leastFirst.filter((ref) => !isWanted(ref)), ...drawn.leastFirst.filter(isWanted)],
  };
};

/**
 * The order of a day: what does not fit is named, the least important first; the times asked for are kept or refused with the reason; and how good the order is is
 * said. The same input gives the same day. Pure.
 */
export const dayOf = (setUp: DrawnUp, asked: AskedTimes = setUp.asked, tries = TRIES): DayPlan => {
  const drawn = withWantedLast(setUp, asked);
  const sound = soundOf(drawn, asked);
  const { setup, result, refused, late } = overNights(sound, drawn, asked.pins, tries);
  const kept = { leftOut: sound.leftOut, refused: [...sound.refused, ...refused] };
  const lines = linesOf(setup, result);
  const [first, last] = [setup.days[0]?.from ?? 0, setup.days.at(-1)?.to ?? 0];
  const tasks = new Map(result.problem.tasks.map((task) => [task.id, task]));
  const placed = lines.map(({ id, begins }) => ({ begins, draws: tasks.get(id)?.draws ?? [] }));
  const used = new Set(lines.flatMap(({ takes }) => takes.map(({ lane }) => lane)));
  const whole: Span = { from: first, to: Math.max(last, ...lines.map(({ ends }) => ends)) };
  const stores = setup.stores.flatMap((shown): readonly StoreCourse[] => {
    const store = setup.problem.stores.find(({ id }) => id === shown.id);
    return store === undefined ? [] : [{ ...shown, holds: store.holds, floor: store.floor, points: courseOf(store, placed, whole) }];
  });
  return {
    days: setup.days,
    wish: setup.wish,
    lines,
    notes: notesOf(lines, stores, asked.pins, { ...setup, problem: result.problem }),
    lanes: setup.lanes.filter(({ id }) => used.has(id)),
    stores,
    load:
      setup.load === null
        ? null
        : loadCourseOf(
            setup.load,
            lines.map((line) => ({ ...line, away: takesAway(tasks.get(line.id)?.uses ?? []) })),
            first,
          ),
    quality: qualityOf(lines, setup, result),
    assumed: setup.assumed,
    leftOut: [...setup.leftOut, ...kept.leftOut, ...late],
    refused: kept.refused,
  };
};
