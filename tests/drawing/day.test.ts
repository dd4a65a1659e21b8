import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { dayDrawing } from "../../lib/drawing/day.ts";
import { axesOf, clockSpan, type DayFormat, daySpan } from "../../lib/drawing/dayAxis.ts";
import { loadTold } from "../../lib/drawing/dayLoad.ts";
import { storeTold } from "../../lib/drawing/dayStores.ts";
import { type Box, type Drawing, type Leading, plainIn, type Strokes, type Words } from "../../lib/drawing/shapes.ts";
import type { DayLane, DayPlan } from "../../lib/plan/day/types.ts";
import { dayPlan, line } from "./days.ts";
import { outside } from "./outside.ts";

const FORMATS: readonly DayFormat[] = ["page", "telephone"];

const leadingIn = ({ shapes }: Drawing): readonly Leading[] => shapes.flatMap((shape) => ("shapes" in shape ? [shape] : []));
const boxOf = ({ shapes }: Leading): Box["box"] => {
  const bar = shapes.find((shape) => "box" in shape);
  if (bar === undefined || !("box" in bar)) throw new Error("a task without a bar");
  return bar.box;
};
const wordsIn = (drawing: Drawing): readonly Words[] => plainIn(drawing).flatMap((shape) => ("words" in shape ? [shape] : []));
const strokesIn = (drawing: Drawing): readonly Strokes[] => plainIn(drawing).flatMap((shape) => ("strokes" in shape ? [shape] : []));

/** Where the hours stand, by what is written there. */
const hoursIn = (drawing: Drawing): ReadonlyMap<string, number> =>
  new Map(wordsIn(drawing).flatMap(({ words, at }) => (/^\d\d:00$/.test(words) ? [[words, at[0]] as const] : [])));

/** Names of any length, words too long for a line among them. */
const LETTERS = fc.stringMatching(/^[a-hA-H]{1,14}( [a-hA-H0-9]{1,12}){0,9}$/);
const KINDS = ["inspector", "technician", "crew", "set"] as const;

/** Any day at all: tasks that overlap, that lie outside the hours, lanes that do many things at once, stores and loads of any size. */
const plans: fc.Arbitrary<DayPlan> = fc
  .record({
    names: fc.array(fc.record({ label: LETTERS, kind: fc.constantFrom(...KINDS) }), { minLength: 1, maxLength: 14 }),
    from: fc.integer({ min: 0, max: 12 * 60 }),
    long: fc.integer({ min: 30, max: 11 * 60 }),
    rest: fc.integer({ min: 0, max: 60 }),
    tasks: fc.array(
      fc.record({
        begins: fc.integer({ min: 0, max: 22 * 60 }),
        minutes: fc.integer({ min: 1, max: 119 }),
        restart: fc.integer({ min: 0, max: 60 }),
        takes: fc.array(fc.nat({ max: 13 }), { minLength: 1, maxLength: 5 }),
        hotStops: fc.integer({ min: 0, max: 2 }),
        blind: fc.boolean(),
        test: fc.boolean(),
        what: LETTERS,
      }),
      { maxLength: 30 },
    ),
    levels: fc.array(fc.tuple(fc.integer({ min: 0, max: 1440 }), fc.double({ min: 0, max: 12, noNaN: true })), { maxLength: 12 }),
    stores: fc.integer({ min: 0, max: 9 }),
    load: fc.option(
      fc.record({
        neededKw: fc.integer({ min: 0, max: 90_000 }),
        limitPercent: fc.integer({ min: 50, max: 110 }),
        rated: fc.array(fc.integer({ min: 0, max: 90_000 }), { maxLength: 6 }),
      }),
    ),
  })
  .map(({ names, from, long, rest, tasks, levels, stores, load }) => {
    const lanes = names.map(({ label, kind }, place): DayLane => ({ id: `lane ${place}`, kind, label }));
    const points = [...levels].sort(([a], [b]) => a - b);
    return dayPlan({
      days: [{ date: "2026-03-24", from, to: from + long, breaks: rest === 0 ? [] : [{ from: from + 10, to: from + 10 + rest }] }],
      lanes,
      lines: [...tasks]
        .sort((a, b) => a.begins - b.begins)
        .map(({ begins, minutes, restart, takes, blind, test: isTest, what, hotStops }, place) => ({
          ...line({
            id: `T${place}`,
            phase: "walk-round",
            set: null,
            what,
            begins,
            minutes,
            hotStops,
            restart: Math.min(restart, minutes),
          }),
          ...(isTest ? { ref: `T${place}` } : {}),
          ...(blind ? { blind } : {}),
          takes: [...new Set(takes.filter((lane) => lane < lanes.length))].map((lane) => ({
            lane: `lane ${lane}`,
            to: begins + minutes - (lane % 2 === 0 ? Math.min(restart, minutes) : 0),
          })),
        })),
      stores: Array.from({ length: stores }, (_, place) => ({
        id: `store ${place}`,
        label: `Store ${place}`,
        ready: 3,
        holds: 12,
        floor: place,
        points,
        ...(place % 2 === 0 ? { gauge: { unit: "bar", empty: 10, full: 30 } as const } : {}),
      })),
      load: load === null ? null : { ...load, steps: load.rated.map((kw, place) => [place * 200, kw] as const) },
    });
  });

describe.each(FORMATS)("any day, for a %s", (format) => {
  test("nothing leaves the drawing, no bar its time, and no two bars lie on each other", () => {
    fc.assert(
      fc.property(plans, (plan) => {
        const axes = axesOf(plan, 0, format);
        for (const drawing of dayDrawing(plan, 0, format)) {
          expect(outside(drawing)).toEqual([]);
          const bars = leadingIn(drawing).map(boxOf);
          for (const [x, y, width, height] of bars) {
            expect(width).toBeGreaterThan(0);
            expect(x).toBeGreaterThanOrEqual((axes[0]?.left ?? 0) - 0.02);
            expect(x + width).toBeLessThanOrEqual((axes[0]?.right ?? 0) + 0.02);
            const under = bars.filter(
              ([left, top, wide, tall]) =>
                left < x + width - 0.02 && x < left + wide - 0.02 && top < y + height - 0.02 && y < top + tall - 0.02,
            );
            expect(under).toHaveLength(1);
          }
        }
      }),
      { numRuns: 150 },
    );
  });

  test("every task stands on each lane that it takes, as long as it takes it, to one scale", () => {
    fc.assert(
      fc.property(plans, (plan) => {
        const { from, to } = daySpan(plan, 0);
        const drawings = dayDrawing(plan, 0, format);
        const parts = axesOf(plan, 0, format);
        const scale = parts.map(({ left, right, span }) => (right - left) / (span.to - span.from));
        expect(new Set(scale.map((each) => each.toFixed(6))).size).toBe(1);
        expect(parts[0]?.span.from).toBe(from);
        expect(parts.at(-1)?.span.to).toBeGreaterThanOrEqual(to);
        for (const { id, begins, takes } of plan.lines) {
          const drawn = drawings.flatMap((drawing) => leadingIn(drawing).filter((bar) => bar.to === `task-${id}`));
          const wanted = takes.reduce((sum, take) => sum + take.to - begins, 0) * (scale[0] ?? 0);
          expect(Math.abs(drawn.reduce((sum, bar) => sum + boxOf(bar)[2], 0) - wanted)).toBeLessThan(0.03 * (drawn.length + 1));
        }
      }),
      { numRuns: 150 },
    );
  });
});

test("lanes, stores and load stand over the same hours", () => {
  for (const format of FORMATS) {
    const [drawing] = dayDrawing(dayPlan(), 0, format);
    if (drawing === undefined) throw new Error("no drawing");
    const hours = hoursIn(drawing);
    const x = (at: string): number => {
      const [hour = "", minute = ""] = at.split(":");
      const [nine = 0, ten = 0] = [hours.get("09:00"), hours.get("10:00")];
      return nine + ((Number(hour) - 9) * 60 + Number(minute)) * ((ten - nine) / 60);
    };
    const bar = leadingIn(drawing).find(({ says }) => says === "T3 Low lube-oil pressure, Generator 1, 09:25 to 10:00");
    if (bar === undefined) throw new Error("no bar of T3");
    const [left, , width] = boxOf(bar);
    expect(left).toBeCloseTo(x("09:25"), 1);
    // The inspector, who stands first, is free when the restart begins.
    expect(left + width).toBeCloseTo(x("09:50"), 1);
    const courses = strokesIn(drawing).filter(({ pen, strokes }) => pen === "heavy" && (strokes[0]?.length ?? 0) > 4);
    const drops = courses.map(({ strokes: [points = []] }) =>
      points.flatMap((point, place) => (point[0] === points[place - 1]?.[0] ? [point[0]] : [])),
    );
    expect(drops[0]?.slice(0, 2).map((at) => at.toFixed(1))).toEqual([x("09:10").toFixed(1), x("09:20").toFixed(1)]);
    expect(drops.at(-1)?.[0]).toBeCloseTo(x("09:05"), 1);
  }
});

test("the marks carry what they say without colour, and the key tells only those that are there", () => {
  const [first, second] = [dayDrawing(dayPlan(), 0), dayDrawing(dayPlan(), 1)].map((drawings) =>
    drawings.flatMap(wordsIn).map(({ words }) => words),
  );
  for (const words of ["restart and reinstatement", "hot stop", "channel blind", "technician attends", "wants the inspector’s consent"])
    expect(first).toContain(words);
  expect(second).toContain("hot stop");
  for (const words of ["channel blind", "technician attends", "wants the inspector’s consent"]) expect(second).not.toContain(words);
  const drawing = dayDrawing(dayPlan(), 0)[0];
  const of = (ref: string): readonly Leading[] =>
    drawing === undefined ? [] : leadingIn(drawing).filter(({ to }) => to === `task-${ref}`);
  const hatched = ({ shapes }: Leading): boolean => shapes.some((shape) => "strokes" in shape && shape.pen === "thin");
  // Inspector, technician, crew, set, in the order of the lanes: he is not wanted for the restart.
  expect(of("T3").map(hatched)).toEqual([false, true, true, true]);
  expect(of("T25").map(hatched)).toEqual([false, false, false]);
  expect(of("T5").every(({ shapes }) => shapes.some((shape) => "box" in shape && shape.heavy === true))).toBe(true);
  expect(
    of("T4").flatMap(({ shapes }) => shapes.flatMap((shape) => ("strokes" in shape && shape.filled === true ? shape.strokes : []))),
  ).toHaveLength(2);
});

test("each day has its own tasks, and a load that is not known is not drawn", () => {
  const plan = dayPlan({ load: null });
  const refs = [0, 1].map((day) => new Set(dayDrawing(plan, day).flatMap((drawing) => leadingIn(drawing).map(({ to }) => to))));
  expect(refs[0]?.has("task-T5")).toBe(true);
  expect(refs[1]?.has("task-T5")).toBe(false);
  expect(refs[1]?.has("task-T41")).toBe(true);
  expect(refs[1]?.has("task-walk-2")).toBe(true);
  expect(dayDrawing(plan, 0)[0]?.says).not.toContain("Rated");
  expect(dayDrawing(dayPlan(), 0)[0]?.says).toContain("Rated on the board, least 1000\u00a0kW from 09:05");
  expect(dayDrawing(plan, 7)).toEqual([]);
});

test("what the courses show is told in figures, between the points too", () => {
  const { stores, load } = dayPlan();
  const [air, battery] = stores;
  if (air === undefined || battery === undefined || load === null) throw new Error("no courses");
  const first = daySpan(dayPlan(), 0);
  expect(clockSpan(first.from, first.to)).toBe("08:00 to 18:00");
  // 6 of 9 starts over 12 to 30 bar.
  expect(storeTold(air, first)).toEqual({
    full: "30\u00a0bar",
    floor: "18\u00a0bar",
    lowest: "24\u00a0bar at 10:30",
    highest: "30\u00a0bar at 08:00",
  });
  // From 7.3 at 09:50 to 8 at 10:30: half of it gained at 10:10.
  expect(storeTold(air, { from: 610, to: 620 }).lowest).toBe("27.3\u00a0bar at 10:10");
  // A time that begins with a start begins after it: 6, and 1.5 more in the next 45 minutes.
  expect(storeTold(air, { from: 630, to: 640 }).highest).toBe("24.7\u00a0bar at 10:40");
  expect(storeTold(battery, first).lowest).toBe("6\u00a0starts at 08:00");
  expect(storeTold({ ...battery, floor: 1 }, first).floor).toBe("1\u00a0start");
  expect(loadTold(load, first)).toEqual({
    needed: "760\u00a0kW",
    least: "1000\u00a0kW from 09:05",
    limit: "850\u00a0kW, 85\u00a0% of it",
  });
});

test("a store that stays full is told and takes no room, one that is drawn from has its course", () => {
  const [first, second] = [0, 1].map((day) => dayDrawing(dayPlan({ load: null }), day)[0]);
  expect(first?.says).toContain("Battery of the emergency set: full 6\u00a0starts, floor 2\u00a0starts, nothing drawn.");
  expect(first?.says).toContain("lowest 24\u00a0bar at 10:30.");
  expect(second?.says).toContain("lowest 4.1\u00a0starts at 09:40.");
  const courses = (drawing: Drawing | undefined): number =>
    drawing === undefined ? 0 : strokesIn(drawing).filter(({ pen }) => pen === "heavy").length;
  // On the first day a course, its mark in the key, and how long the technician attends with his mark; on the second course and mark.
  expect([courses(first), courses(second)]).toEqual([4, 2]);
});

test("tests that are done in one act stand under their references, as many as have room", () => {
  const both = (minutes: number): readonly string[] => {
    const lines = [
      { ...line({ id: "T2", ref: "T2", phase: "at rest", set: 0, what: "Start interlocks", begins: 600, minutes }), also: ["T12", "T22"] },
    ];
    const [drawing] = dayDrawing(dayPlan({ lines }), 0);
    return [
      ...new Set(
        drawing === undefined
          ? []
          : leadingIn(drawing).flatMap(({ shapes }) => shapes.flatMap((shape) => ("words" in shape ? [shape.words] : []))),
      ),
    ];
  };
  expect(both(60)).toEqual(["T2, T12, T22"]);
  expect(both(30)).toEqual(["T2 +2"]);
  expect(both(15)).toEqual(["T2 +2"]);
});

test("a day of many sets goes over several drawings of one scale, each short enough for a page", () => {
  const lanes = Array.from({ length: 16 }, (_, place): DayLane => ({ id: `set ${place}`, kind: "set", label: `Generator ${place + 1}` }));
  const lines = lanes.map((_, place) =>
    line({ id: `T${place}`, ref: `T${place}`, phase: "running", set: place, what: "Overspeed", begins: 540, minutes: 40 }),
  );
  const drawings = dayDrawing(dayPlan({ lanes, lines }), 0);
  expect(drawings.length).toBeGreaterThan(1);
  for (const { height } of drawings) expect(height).toBeLessThan(800);
  expect(new Set(drawings.map((drawing) => JSON.stringify([...hoursIn(drawing)]))).size).toBe(1);
  expect(drawings.flatMap((drawing) => leadingIn(drawing))).toHaveLength(16);
});
