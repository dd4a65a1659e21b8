import type { DayProblem, Draw, Order, Resource, Task, Use } from "../../lib/schedule/problem.ts";

/** Numbers that look drawn by lot, the same in every run (mulberry32: another generator than the search's own). */
export const drawnBy = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
};

const LONG = [{ from: 0, to: 100_000 }];

/**
 * A day of the type of `reference-values.md` §10: times in steps of five minutes; one inspector, two technicians, each set once, one set at a time that is
 * missed by the load, starts that share one air supply, taken for the start and 15 minutes of recharging after it.
 */
export const referenceDay = (sets: number, count: number, seed: number): DayProblem => {
  const draw = drawnBy(seed);
  const minutes = (most: number): number => 5 * (1 + Math.floor(draw() * most));
  const each = Array.from({ length: sets }, (_, set) => Math.floor((count - 2 + set) / sets));
  const tasks: Task[] = [{ id: "papers", minutes: 20, uses: [{ resource: "inspector", amount: 1 }] }];
  const orders: Order[] = [];
  each.forEach((own, set) => {
    let last = "papers";
    for (let place = 0; place < own; place += 1) {
      const id = `set ${set}, ${place}`;
      const uses: Use[] = [{ resource: `set ${set}`, amount: 1 }];
      if (draw() < 0.75) uses.push({ resource: "inspector", amount: 1 });
      if (draw() < 0.35) uses.push({ resource: "technicians", amount: 1 });
      if (place > 1 && draw() < 0.5) uses.push({ resource: "load", amount: 1 });
      if (place === 1 || draw() < 0.25) uses.push({ resource: "air", amount: 1, after: 15 });
      tasks.push({ id, minutes: minutes(6), uses });
      const chained = place < 3 || draw() < 0.4;
      orders.push({ before: chained ? last : `set ${set}, 2`, after: id });
      if (chained) last = id;
    }
  });
  const ends = tasks.slice(1).map(({ id }): Order => ({ before: id, after: "results" }));
  return {
    tasks: [...tasks, { id: "results", minutes: 15, uses: [{ resource: "inspector", amount: 1 }] }],
    orders: [...orders, ...ends],
    resources: [
      ...["inspector", "load", "air", ...each.map((_, set) => `set ${set}`)].map((id): Resource => ({ id, capacity: 1, open: LONG })),
      { id: "technicians", capacity: 2, open: LONG },
    ],
    stores: [],
    attending: ["technicians"],
  };
};

/** Any day: several days' opening times, technicians who come late, loads in kW, stores that are drawn from and recharged, beginnings and ends asked for. */
export const anyDay = (seed: number, count: number): DayProblem => {
  const draw = drawnBy(seed);
  const whole = (most: number): number => Math.floor(draw() * most);
  const open = [0, 1440, 2880].map((day) => ({ from: day + 480, to: day + 1020 }));
  const late = open.map(({ from, to }) => ({ from: from + 60 * whole(4), to }));
  const sets = 1 + whole(4);
  const tasks = Array.from({ length: count }, (_, place): Task => {
    const uses: Use[] = [];
    if (draw() < 0.8) uses.push({ resource: "inspector", amount: 1 });
    if (draw() < 0.3) uses.push({ resource: "technician", amount: 1 });
    if (draw() < 0.8) uses.push({ resource: `set ${whole(sets)}`, amount: 1, after: draw() < 0.2 ? 5 * whole(6) : 0 });
    if (draw() < 0.4) uses.push({ resource: "kW", amount: 100 + whole(400) });
    if (uses.length === 0) uses.push({ resource: "inspector", amount: 1 });
    const draws: Draw[] = draw() < 0.3 ? [{ store: "air", amount: 1 + whole(3), ...(draw() < 0.2 ? { wants: 8 } : {}) }] : [];
    const minutes = whole(90);
    // Now and then somebody is free before the task is over, and a start comes only in its course.
    const [first] = uses;
    if (first !== undefined && draw() < 0.3) uses[0] = { ...first, after: -whole(minutes) };
    if (draw() < 0.3) draws.push({ store: "air", amount: 1, at: whole(minutes) });
    return {
      id: `task ${place}`,
      minutes,
      uses,
      draws,
      ...(draw() < 0.1 ? { earliest: 480 + whole(600) } : {}),
      ...(draw() < 0.05 ? { latest: 1440 + 480 + whole(540) } : {}),
    };
  });
  const orders = tasks.flatMap(({ id }, place): readonly Order[] =>
    place > 0 && draw() < 0.7 ? [{ before: `task ${whole(place)}`, after: id, ...(draw() < 0.2 ? { gap: whole(40) } : {}) }] : [],
  );
  return {
    tasks,
    orders,
    resources: [
      { id: "inspector", capacity: 1, open },
      { id: "technician", capacity: 1, open: late },
      { id: "kW", capacity: 600, open },
      ...Array.from({ length: sets }, (_, set): Resource => ({ id: `set ${set}`, capacity: 1, open })),
    ],
    stores: [{ id: "air", holds: 10, first: 6 + whole(5), floor: 2, refill: 0.02 + draw() * 0.1 }],
    attending: ["technician"],
  };
};
