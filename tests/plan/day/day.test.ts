import { describe, expect, test } from "vitest";
import { dayOf } from "../../../lib/plan/day/planDay.ts";
import { type DrawnUp, drawnUp } from "../../../lib/plan/day/setup.ts";
import { minuteOf } from "../../../lib/plan/day/times.ts";
import type { DayLine, DayPlan } from "../../../lib/plan/day/types.ts";
import { testsOf } from "../../../lib/plan/places.ts";
import { breaches } from "../../schedule/judge.ts";
import { anyVisit, DEMOS, demo, inputOf } from "./visits.ts";

const FEW = 40;

/** What binds the lines of a day, of a problem made for it: judged minute by minute by code that is not the search's. */
const brokenIn = ({ problem }: DrawnUp, { lines }: DayPlan): readonly string[] => {
  const there = new Map(lines.map((line) => [line.id, line]));
  const both = (one: string, other: string): boolean => there.has(one) && there.has(other);
  return breaches(
    {
      ...problem,
      tasks: problem.tasks.filter(({ id }) => there.has(id)).map((task) => ({ ...task, minutes: there.get(task.id)?.minutes ?? 0 })),
      orders: problem.orders.filter(({ before, after }) => both(before, after)),
    },
    new Map(lines.filter(({ id }) => problem.tasks.some((task) => task.id === id)).map(({ id, begins }) => [id, begins])),
  );
};

/** Starts that are the test are made from rest, and a loss of power starts what stands by: neither wants the set running before. */
const startsByItself = ({ phase, how }: DayLine): boolean => phase === "recovery" || /^start in each selector position/.test(how);

const overlap = (one: Pick<DayLine, "begins" | "ends">, other: Pick<DayLine, "begins" | "ends">): boolean =>
  one.begins < other.ends && other.begins < one.ends;

/** The order of the day as `trade.md` §2 has it, read off the lines alone. */
const againstTheTrade = ({ lines }: DayPlan): readonly string[] => {
  const wrong: string[] = [];
  const sets = [...new Set(lines.flatMap(({ set }) => (set === null ? [] : [set])))];
  for (const set of sets) {
    // An act for several sets at once is done while they are at rest or fed otherwise, before any of them is started.
    const own = lines.filter((line) => line.set === set && line.also === undefined);
    const first = (test: (line: DayLine) => boolean): number => Math.min(...own.filter(test).map(({ begins }) => begins));
    const last = (test: (line: DayLine) => boolean): number => Math.max(...own.filter(test).map(({ ends }) => ends));
    const before = (what: string, earlier: (line: DayLine) => boolean, later: (line: DayLine) => boolean): void => {
      if (last(earlier) > first(later)) wrong.push(`set ${set}: ${what}`);
    };
    const runs = ({ phase }: DayLine): boolean => ["stops", "running", "stopping", "overspeed", "on the board"].includes(phase);
    before(
      "no test runs before the walk-round",
      ({ phase }) => phase === "walk-round",
      (line) => line.phase !== "walk-round",
    );
    before("no test runs before the start and its readings", ({ phase }) => phase === "start", runs);
    before(
      "what is tested at rest is done before the start",
      ({ phase }) => phase === "at rest",
      ({ phase }) => phase === "start",
    );
    before(
      "the stops are proven before a channel is blind",
      ({ phase }) => phase === "stops",
      ({ blind, phase }) => blind === true && phase !== "at rest",
    );
    before(
      "the stops are proven before the speed is raised",
      ({ phase }) => phase === "stops",
      ({ phase }) => phase === "overspeed",
    );
    before(
      "what stops the set comes after what does not",
      ({ phase }) => phase === "running",
      ({ phase }) => phase === "stopping",
    );
    before(
      "the overspeed comes after the other stops",
      ({ phase }) => phase === "stopping",
      ({ phase }) => phase === "overspeed",
    );
    before(
      "parallel running comes after the overspeed",
      ({ phase }) => phase === "overspeed",
      ({ phase }) => phase === "on the board",
    );
    before(
      "the set is left as found last",
      (line) => runs(line) || line.phase === "at rest",
      ({ phase }) => phase === "as left",
    );
  }
  // Whatever goes on from the day before is started again and looked over before anything else of that day.
  for (const set of sets) {
    const own = lines.filter(
      (line) => line.set === set && line.also === undefined && line.phase !== "walk-round" && line.phase !== "at rest",
    );
    for (const line of own) {
      const day = Math.floor(line.begins / 1440);
      const [start] = own;
      if (
        start === undefined ||
        start.phase !== "start" ||
        Math.floor(start.begins / 1440) === day ||
        startsByItself(line) ||
        line.phase === "as left"
      )
        continue;
      const morning = lines.find(({ id }) => id === `morning ${day}`);
      if (morning === undefined || morning.ends > line.begins) wrong.push(`${line.id} goes on from the day before without a start`);
    }
  }
  // Before one act for several sets, after which each of them is started, each has been looked over.
  for (const line of lines.filter(({ also }) => also !== undefined))
    for (const set of line.takes.flatMap(({ lane }) => (lane.startsWith("set ") ? [Number(lane.slice(4))] : [])))
      if (lines.some(({ phase, set: other, ends }) => phase === "walk-round" && other === set && ends > line.begins))
        wrong.push(`${line.id} starts set ${set} before it was looked over`);
  const tests = lines.filter(({ phase, set }) => set !== null && phase !== "recovery");
  for (const recovery of lines.filter(({ phase }) => phase === "recovery"))
    if (tests.some(({ ends }) => ends > recovery.begins)) wrong.push("the loss of power comes last");
  for (const [place, line] of lines.entries())
    for (const other of lines.slice(place + 1)) {
      if (line.set !== null && line.set === other.set && overlap(line, other)) wrong.push(`${line.id} and ${other.id} at once on one set`);
      const seen = (one: DayLine) => one.takes.find(({ lane }) => lane === "inspector");
      const [mine, theirs] = [seen(line), seen(other)];
      if (mine && theirs && line.begins < theirs.to && other.begins < mine.to && line.ends > line.begins && other.ends > other.begins)
        wrong.push(`the inspector sees ${line.id} and ${other.id} at once`);
    }
  return wrong;
};

/** Each planned test stands on a line or among what is left out, never both and never neither. */
const accountedFor = (visit: Parameters<typeof drawnUp>[0], { lines, leftOut }: DayPlan): void => {
  const out = new Set(leftOut.flatMap(({ ref }) => ref ?? []));
  const on = new Set(lines.flatMap(({ ref, also = [] }) => (ref === undefined ? [] : [ref, ...also])));
  for (const { ref, decision } of testsOf(visit.plan)) {
    if (decision.outcome === "does not apply") continue;
    expect([ref, on.has(ref), out.has(ref)]).toEqual([ref, !out.has(ref), !on.has(ref)]);
  }
  for (const { why } of leftOut) expect(why.length).toBeGreaterThan(10);
};

/** Rated power on the board is enough at every step, where the powers are known. */
const loadCarried = ({ load }: DayPlan): void => {
  if (load === null) return;
  for (const [, rated] of load.steps) expect((rated * load.limitPercent) / 100 + 1e-6).toBeGreaterThanOrEqual(load.neededKw);
};

const neverUnderFloor = ({ stores }: DayPlan): void => {
  for (const { points, floor, holds } of stores)
    for (const [, level] of points) {
      expect(level).toBeGreaterThanOrEqual(floor - 1e-6);
      expect(level).toBeLessThanOrEqual(holds + 1e-6);
    }
};

/** The hold point comes directly after the warming up, and what was never proven to stop is not run: no running test of a set whose stops are left out. */
const safelyRun = (setup: DrawnUp, { lines, leftOut }: DayPlan): void => {
  for (const start of lines.filter(({ id }) => id.startsWith("start ")))
    expect([start.id, lines.find(({ id }) => id === `readings ${start.set}`)?.begins]).toEqual([start.id, start.ends]);
  const out = new Set(leftOut.flatMap(({ ref }) => ref ?? []));
  for (const stop of lines.filter(({ what, phase }) => phase === "stops" && what.startsWith("Hand stop")))
    expect([stop.id, lines.find(({ id }) => id === `readings ${stop.set}`)?.ends]).toEqual([stop.id, stop.begins]);
  for (const [stop, leaning] of Object.entries(setup.leaning))
    if (out.has(stop))
      expect([stop, lines.filter(({ ref }) => ref !== undefined && leaning.includes(ref)).map(({ id }) => id)]).toEqual([stop, []]);
};

/** Every stretch of work of twenty minutes and more is filled or told, and what is told is empty. */
const waitsTold = ({ lines, notes, days }: DayPlan): void => {
  const last = Math.max(0, ...lines.map(({ ends }) => ends));
  for (const wait of notes) {
    expect(wait.says.length).toBeGreaterThan(10);
    expect(lines.filter(({ begins, ends }) => begins < wait.to && ends > wait.from).map(({ id }) => id)).toEqual([]);
  }
  for (const { from, to, breaks } of days)
    for (let at = from; at + 20 <= Math.min(to, last); at += 5) {
      const span = { begins: at, ends: at + 20 };
      if (breaks.some((pause) => pause.from < span.ends && pause.to > at)) continue;
      const told = [...lines, ...notes.map((wait) => ({ begins: wait.from, ends: wait.to }))];
      expect([at, told.some((one) => overlap(one, span))]).toEqual([at, true]);
    }
};

/** A set that runs on a later day than that of its start is started again on it, and nothing else is told as started again. */
const startedAgain = ({ lines, lanes }: DayPlan): void => {
  const dayOfLine = ({ begins }: DayLine): number => Math.floor(begins / 1440);
  const mornings = lines.filter(({ id }) => id.startsWith("morning "));
  const name = (set: number): string => lanes.find(({ id }) => id === `set ${set}`)?.label ?? "?";
  const wanted = lines.flatMap((line) => {
    const start = lines.find(({ id }) => id === `start ${line.set}`);
    if (start === undefined || line.set === null || startsByItself(line) || ["walk-round", "at rest", "as left"].includes(line.phase))
      return [];
    return dayOfLine(start) < dayOfLine(line) ? [`${dayOfLine(line)} ${name(line.set)}`] : [];
  });
  const told = mornings.flatMap((line) =>
    line.what
      .replace("Started again: ", "")
      .split(", ")
      .map((set) => `${dayOfLine(line)} ${set}`),
  );
  expect(told.toSorted()).toEqual([...new Set(wanted)].toSorted());
  // Each of them is seen to stop by hand before it goes on, for which it is started twice; a shaft is not started at all.
  for (const { what, how, starts } of mornings) {
    const started = lanes.filter(
      ({ id, label }) =>
        what.replace("Started again: ", "").split(", ").includes(label) &&
        lines.some((line) => `start ${line.set}` === line.id && line.starts > 0 && id === `set ${line.set}`),
    );
    expect([what, starts, how.includes("seen to stop by the hand stop")]).toEqual([what, 2 * started.length, started.length > 0]);
  }
};

describe.each(Array.from({ length: 70 }, (_, seed) => seed + 1))("any visit, %i", (seed) => {
  test("keeps everything that binds it, or says what it does not", () => {
    const document = anyVisit(seed);
    const input = inputOf(document);
    const setup = drawnUp(input);
    const day = dayOf(setup, setup.asked, FEW);
    expect(brokenIn(setup, day)).toEqual([]);
    expect(againstTheTrade(day)).toEqual([]);
    accountedFor(input, day);
    loadCarried(day);
    neverUnderFloor(day);
    waitsTold(day);
    startedAgain(day);
    safelyRun(setup, day);
    expect(day.quality.noneEndsBefore).toBeLessThanOrEqual(day.quality.ends);
    const { day: settings, visit } = input.read.visit;
    for (const { task, is, time } of settings.pins) {
      const at = minuteOf(time, visit.window.from);
      const line = day.lines.find(({ id }) => id === task);
      const kept =
        line === undefined || (is === "begins at" ? line.begins === at : is === "not before" ? line.begins >= at : line.ends <= at);
      const told = day.refused.some((words) => words.includes(line?.ref ?? line?.what ?? task));
      expect([task, is, kept || told]).toEqual([task, is, true]);
    }
    // Same input, same day, in whatever order the file has its keys.
    if (seed % 5 > 0) return;
    const turned = Object.fromEntries(Object.entries(document).reverse());
    expect(dayOf(drawnUp(inputOf(turned)), undefined, FEW)).toEqual(day);
  });
});

describe.each(DEMOS)("demo visit %s", (name) => {
  test("has a day in which everything stands, and which says how good it is", () => {
    const input = inputOf(demo(name));
    const setup = drawnUp(input);
    const day = dayOf(setup);
    expect(day.lines.length).toBeGreaterThan(10);
    expect(day.refused).toEqual([]);
    expect(brokenIn(setup, day)).toEqual([]);
    expect(againstTheTrade(day)).toEqual([]);
    accountedFor(input, day);
    loadCarried(day);
    neverUnderFloor(day);
    waitsTold(day);
    startedAgain(day);
    safelyRun(setup, day);
  });
});
