import { describe, expect, test } from "vitest";
import type { DayProblem } from "../../lib/schedule/problem.ts";
import { ordered } from "../../lib/schedule/search.ts";
import { faultsIn } from "../../lib/schedule/sound.ts";
import { provenByHighs } from "./exact.ts";
import { breaches } from "./judge.ts";
import { anyDay, referenceDay } from "./problems.ts";

describe("any day", () => {
  test.each(Array.from({ length: 120 }, (_, seed) => seed + 1))(
    "%i: keeps everything that binds it, and no bound lies over what was found",
    (seed) => {
      const day = anyDay(seed, 4 + (seed % 30));
      if (faultsIn(day).length > 0) return;
      for (const wish of ["day first", "attendance first"] as const) {
        const order = ordered(day, wish, { tries: 150 });
        expect(breaches(day, order.begins)).toEqual([]);
        expect([...order.begins.keys(), ...order.unplaced].sort()).toEqual(day.tasks.map(({ id }) => id).sort());
        if (order.unplaced.length > 0) continue;
        expect(order.atLeast.length).toBeLessThanOrEqual(order.length);
        expect(order.atLeast.attendance).toBeLessThanOrEqual(order.attendance);
      }
    },
  );

  test("what stays taken over the closing of a resource leaves it free on the next day", () => {
    const open = [0, 1, 2].map((day) => ({ from: day * 1440 + 480, to: day * 1440 + 630 }));
    const day: DayProblem = {
      tasks: ["one", "two", "three"].map((id) => ({ id, minutes: 10, uses: [{ resource: "cold", amount: 1, after: 1000 }] })),
      orders: [],
      resources: [{ id: "cold", capacity: 1, open }],
      stores: [],
      attending: [],
    };
    const order = ordered(day, "day first");
    expect([...order.begins.values()].sort((a, b) => a - b)).toEqual([480, 1920, 3360]);
    expect(order.atLeast.length).toBeLessThanOrEqual(order.length);
    expect(order.atLeast.length).toBeGreaterThan(2000);
  });

  test("what can begin at one minute only is kept free for, whatever comes first", () => {
    const open = [{ from: 480, to: 1080 }];
    const one = (id: string, minutes: number) => ({ id, minutes, uses: [{ resource: "inspector", amount: 1 }] });
    const day: DayProblem = {
      tasks: [one("papers", 45), one("walk", 60), { ...one("asked for", 30), earliest: 540, latest: 570 }, one("long", 200)],
      orders: [{ before: "papers", after: "asked for" }],
      resources: [{ id: "inspector", capacity: 1, open }],
      stores: [],
      attending: [],
    };
    const order = ordered(day, "day first", { tries: 0 });
    expect(order.unplaced).toEqual([]);
    expect(order.begins.get("asked for")).toBe(540);
    expect(breaches(day, order.begins)).toEqual([]);
  });

  test("a pause is no attendance: who attends comes no later to keep out of it", () => {
    const open = [
      { from: 480, to: 720 },
      { from: 780, to: 1080 },
    ];
    const one = (id: string, ...who: readonly string[]) => ({ id, minutes: 60, uses: who.map((resource) => ({ resource, amount: 1 })) });
    const day: DayProblem = {
      tasks: [
        one("papers", "inspector"),
        one("walk", "inspector"),
        one("first", "inspector", "technician"),
        one("second", "inspector", "technician"),
        one("third", "inspector", "technician"),
      ],
      orders: [
        { before: "papers", after: "walk" },
        { before: "walk", after: "first" },
      ],
      resources: ["inspector", "technician"].map((id) => ({ id, capacity: 1, open })),
      stores: [],
      attending: ["technician"],
    };
    // Without the pause there are 3 h of work from 10:00 to 14:00; with it counted, he had better come at 13:00.
    const counted = ordered(day, "attendance first");
    expect([counted.attendance, counted.begins.get("papers")]).toEqual([180, 480]);
    expect(Math.min(...["first", "second", "third"].map((id) => counted.begins.get(id) ?? 0))).toBe(780);
    const rested = ordered({ ...day, rests: [{ from: 720, to: 780 }] }, "attendance first");
    expect([rested.attendance, rested.atLeast.attendance]).toEqual([180, 180]);
    expect(Math.min(...["first", "second", "third"].map((id) => rested.begins.get(id) ?? 0))).toBe(600);
    expect(rested.length).toBe(840 - 480);
  });

  test("the same day is put into the same order", () => {
    const day = referenceDay(3, 34, 7);
    expect(ordered(day, "day first", { tries: 300 })).toEqual(ordered(structuredClone(day), "day first", { tries: 300 }));
  });
});

describe("against another solver", () => {
  test.each(Array.from({ length: 8 }, (_, seed) => seed + 1))(
    "a day of twelve tasks, %i, ends no later than HiGHS proves it must, and says so",
    async (seed) => {
      const day = referenceDay(2, 12, seed);
      const order = ordered(day, "day first");
      expect(breaches(day, order.begins)).toEqual([]);
      const proven = await provenByHighs(day, order.length);
      expect(order.length).toBe(proven);
      expect(order.atLeast.length).toBe(proven);
    },
    120_000,
  );
});

describe("days too large for any proof", () => {
  // Of the type of reference-values.md §10 (34 tasks on 3 sets, 54 on 5): no solver tried there proves these; within 5 % of the best of ten times as many orders
  // or, nearer still, of the bound, under which no order lies.
  test.each([
    [34, 3],
    [54, 5],
  ])("%i tasks on %i sets end within 5 %% of the best known", (count, sets) => {
    for (const seed of [1, 2, 3]) {
      const day = referenceDay(sets, count, seed);
      const order = ordered(day, "day first");
      expect(breaches(day, order.begins)).toEqual([]);
      const best = order.length <= 1.05 * order.atLeast.length ? order.length : ordered(day, "day first", { tries: 15_000 }).length;
      expect(order.length).toBeLessThanOrEqual(1.05 * best);
      expect(order.atLeast.length).toBeLessThanOrEqual(best);
    }
  });
});
