import type { DayLane, DayLine, DayPlan, LoadCourse, StoreCourse } from "../../lib/plan/day/types.ts";

const LANES: readonly DayLane[] = [
  { id: "inspector", kind: "inspector", label: "Inspector" },
  { id: "technician 0", kind: "technician", label: "Technician for the control modules, Generator 1 and Generator 2" },
  { id: "crew", kind: "crew", label: "Engineers of the ship" },
  { id: "set 0", kind: "set", label: "Generator 1" },
  { id: "set 1", kind: "set", label: "Generator 2" },
  { id: "set 2", kind: "set", label: "Emergency set" },
];

type Given = Pick<DayLine, "id" | "phase" | "set" | "what" | "begins" | "minutes"> & Partial<DayLine>;

/** A task on the lanes of its set, the crew and the inspector, who is free when the restart begins; others where they are given. */
export const line = ({ begins, minutes, restart = 0, set, ...given }: Given, ...others: readonly string[]): DayLine => {
  const ends = begins + minutes;
  const lanes = [...(set === null ? [] : [`set ${set}`]), "crew", ...others];
  return {
    how: "as the letter says",
    starts: 0,
    hotStops: 0,
    ...given,
    begins,
    ends,
    minutes,
    restart,
    set,
    takes: [{ lane: "inspector", to: ends - restart }, ...lanes.map((lane) => ({ lane, to: ends }))],
  };
};

const test = (number: number, set: number, begins: number, minutes: number, what: string, more: Partial<DayLine> = {}): Given => ({
  id: `T${number}`,
  ref: `T${number}`,
  phase: "running",
  set,
  what,
  begins,
  minutes,
  ...more,
});

const at = (day: number, hour: number, minute = 0): number => day * 1440 + hour * 60 + minute;

const LINES: readonly DayLine[] = [
  line({ id: "papers", phase: "papers", set: null, what: "Papers: certificates, approved procedure", begins: at(0, 8), minutes: 30 }),
  line({ id: "brief", phase: "brief", set: null, what: "Briefing, stop word", begins: at(0, 8, 30), minutes: 15 }, "technician 0"),
  line({ id: "walk 0", phase: "walk-round", set: 0, what: "Walk-round, hold point: no leak", begins: at(0, 8, 45), minutes: 20 }),
  line(test(1, 0, at(0, 9, 5), 10, "Hand stop at the engine", { hotStops: 1, restart: 5, starts: 1 })),
  line(test(2, 0, at(0, 9, 15), 10, "Remote fuel shut-off", { hotStops: 1, restart: 5, starts: 1 })),
  line(test(3, 0, at(0, 9, 25), 35, "Low lube-oil pressure", { restart: 10, hotStops: 1, starts: 1, blind: true }), "technician 0"),
  line(test(4, 0, at(0, 10), 45, "High jacket-water temperature", { restart: 15, starts: 2, hotStops: 2, blind: true }), "technician 0"),
  line(test(5, 0, at(0, 10, 45), 40, "Overspeed", { restart: 10, starts: 1, grave: true }), "technician 0"),
  line({ id: "walk 1", phase: "walk-round", set: 1, what: "Walk-round, hold point: no leak", begins: at(0, 11, 25), minutes: 20 }),
  line(test(21, 1, at(0, 11, 45), 5, "Hand stop at the engine", { hotStops: 1 })),
  line(test(22, 1, at(0, 13), 30, "Low lube-oil pressure", { restart: 10, hotStops: 1, starts: 1 }), "technician 0"),
  line(test(23, 1, at(0, 13, 30), 45, "High jacket-water temperature", { restart: 10, starts: 1, hotStops: 1 })),
  line(test(24, 1, at(0, 14, 15), 40, "Overspeed", { restart: 10, starts: 1, grave: true })),
  line(test(25, 1, at(0, 14, 55), 35, "Reverse power")),
  line({ id: "close 0", phase: "close-out", set: null, what: "Close-out of the day", begins: at(0, 16, 30), minutes: 45 }),
  line({ id: "walk 2", phase: "walk-round", set: 2, what: "Walk-round, hold point: no leak", begins: at(1, 8, 30), minutes: 20 }),
  line(test(41, 2, at(1, 9), 30, "Low lube-oil pressure", { restart: 10, starts: 1, hotStops: 1 })),
  line(test(42, 2, at(1, 9, 30), 60, "Loss of power and recovery", { starts: 1 })),
  line({ id: "close 1", phase: "close-out", set: null, what: "Close-out", begins: at(1, 11), minutes: 45 }),
];

const STORES: readonly StoreCourse[] = [
  {
    id: "air",
    label: "Starting air of Generator 1 and Generator 2",
    ready: 3,
    gauge: { unit: "bar", empty: 12, full: 30 },
    holds: 9,
    floor: 3,
    points: [
      [0, 9],
      [at(0, 9, 10), 9],
      [at(0, 9, 10), 8],
      [at(0, 9, 20), 8.4],
      [at(0, 9, 20), 7.4],
      [at(0, 9, 50), 8.3],
      [at(0, 9, 50), 7.3],
      [at(0, 10, 30), 8],
      [at(0, 10, 30), 6],
      [at(0, 11, 15), 7.5],
      [at(0, 11, 15), 6.5],
      [at(0, 13, 20), 9],
      [at(0, 13, 20), 8],
      [at(0, 14, 5), 9],
      [at(0, 14, 5), 8],
      [at(0, 14, 45), 8.9],
      [at(0, 14, 45), 7.9],
      [at(0, 15, 30), 9],
      [at(1, 18), 9],
    ],
  },
  {
    id: "battery",
    label: "Battery of the emergency set",
    ready: 3,
    holds: 6,
    floor: 2,
    points: [
      [0, 6],
      [at(1, 9, 20), 6],
      [at(1, 9, 20), 5],
      [at(1, 9, 40), 5.1],
      [at(1, 9, 40), 4.1],
      [at(1, 18), 6],
    ],
  },
];

const LOAD: LoadCourse = {
  neededKw: 760,
  limitPercent: 85,
  steps: [
    [0, 1800],
    [at(0, 9, 5), 1000],
    [at(0, 11, 25), 1800],
    [at(0, 11, 45), 1000],
    [at(0, 15, 30), 1800],
  ],
};

/** Two days of an invented ship: three sets, a technician on the first, two stores, breaks; its load where it is wanted. */
export const dayPlan = (more: Partial<DayPlan> = {}): DayPlan => ({
  days: [
    { date: "2026-03-24", from: at(0, 8), to: at(0, 17), breaks: [{ from: at(0, 12), to: at(0, 13) }] },
    { date: "2026-03-25", from: at(1, 8, 30), to: at(1, 16), breaks: [{ from: at(1, 12), to: at(1, 12, 45) }] },
  ],
  wish: "attendance first",
  lines: LINES,
  notes: [],
  lanes: LANES,
  stores: STORES,
  load: LOAD,
  quality: { ends: at(1, 11, 45), noneEndsBefore: at(1, 11), lengthGap: 45, attendance: 300, attendanceGap: 30 },
  assumed: [],
  leftOut: [],
  refused: [],
  ...more,
});
