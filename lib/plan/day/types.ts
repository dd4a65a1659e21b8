import type { Basis } from "../../rulebook/basis.ts";
import type { DayProblem, Minute, Span, Wish } from "../../schedule/problem.ts";

/** The parts of a day in their order. What stands later in the list comes later on the same set. */
export const PHASES = [
  "papers",
  "brief",
  "walk-round",
  "at rest",
  "start",
  "stops",
  "running",
  "stopping",
  "overspeed",
  "on the board",
  "codes cleared",
  "under way",
  "recovery",
  "as left",
  "close-out",
] as const;
export type Phase = (typeof PHASES)[number];

/** One thing of the day: a test, or what must stand around the tests. */
export interface DayTask {
  /** The same in the problem: "T3" for a test, else a name such as "walk 0". */
  readonly id: string;
  readonly phase: Phase;
  /** Its set; null where it belongs to the whole visit. */
  readonly set: number | null;
  /** Reference of the test; left out for what is none. */
  readonly ref?: string;
  /** References of the tests of other sets that are done with it in one act. */
  readonly also?: readonly string[];
  /** What it is: the protection, or "Walk-round, hold point: no leak". */
  readonly what: string;
  /** How it is done: the methods; or what is seen to. */
  readonly how: string;
  readonly minutes: number;
  /** Of these, at the end: restart and reinstatement. */
  readonly restart: number;
  /** Starts taken from a store. */
  readonly starts: number;
  /** Times the set is stopped while hot. */
  readonly hotStops: number;
  /** Nothing but starts, from rest: the set need not run before it. */
  readonly startsItself?: true;
  /** The channel is blind while the set runs. */
  readonly blind?: true;
  /** Hazard class 2: named for the inspector's consent. */
  readonly grave?: true;
}

/** Somebody or something whose time is drawn as a lane. */
export interface DayLane {
  /** The resource in the problem. */
  readonly id: string;
  readonly kind: "inspector" | "technician" | "crew" | "set";
  readonly label: string;
}

/** A store of starting energy of the problem as a reader knows it. */
export interface DayStore {
  readonly id: string;
  readonly label: string;
  /** What must be in it for its set to be ready: before a loss of power, through a night, before leaving. */
  readonly ready: number;
  /** What an amount in the store (starts) is on its gauge; left out where that is not known. */
  readonly gauge?: { readonly unit: "bar"; readonly empty: number; readonly full: number };
}

/** What the ship needs against what can carry it; null in a setup where a power of it is not known. */
export interface DayLoad {
  /** kW that must be on the board at any time: load and the largest consumer that may start by itself. */
  readonly neededKw: number;
  readonly limitPercent: number;
  /** Rated kW of each set that can carry the ship, by its place among the sets. */
  readonly ratedKw: ReadonlyMap<number, number>;
}

/** Something that was taken as so, with how sure we are of it. */
export interface Assumed {
  readonly text: string;
  readonly mark: Basis["mark"];
}

/** Something that is not on the day, and why. */
export interface LeftOut {
  readonly ref?: string;
  readonly what: string;
  readonly why: string;
}

/** One day of the visit: its date, and its hours in minutes from midnight before the first day. */
export interface DayHours {
  readonly date: string;
  readonly from: Minute;
  readonly to: Minute;
  /** When nobody works within them, in order and apart from each other. */
  readonly breaks: readonly Span[];
}

/** All that is put in order: made from decisions and settings, before any search. */
export interface DaySetup {
  readonly problem: DayProblem;
  readonly tasks: readonly DayTask[];
  readonly lanes: readonly DayLane[];
  readonly stores: readonly DayStore[];
  readonly load: DayLoad | null;
  readonly days: readonly DayHours[];
  readonly wish: Wish;
  readonly assumed: readonly Assumed[];
  /** What cannot be on any day, found before the search. */
  readonly leftOut: readonly LeftOut[];
}

/** A task with its time. */
export interface DayLine extends DayTask {
  readonly begins: Minute;
  readonly ends: Minute;
  /** Ids of the lanes that it takes, with the end for each, which may be before the task's. */
  readonly takes: readonly { readonly lane: string; readonly to: Minute }[];
}

/** What is in a store over time: the level at each of these minutes, straight between them. */
export interface StoreCourse extends DayStore {
  readonly holds: number;
  readonly floor: number;
  readonly points: readonly (readonly [at: Minute, level: number])[];
}

/** Rated kW on the board over time: from each of these minutes on. */
export interface LoadCourse {
  readonly neededKw: number;
  readonly limitPercent: number;
  readonly steps: readonly (readonly [from: Minute, ratedKw: number])[];
}

/** What is told of a day between its tasks: a time of the hours in which nobody has anything to do, and why; or how sets are left for the night. */
export interface DayNote extends Span {
  readonly says: string;
}

/** How good an order is: when it ends and how long technicians attend, each with what no order can be under. */
export interface DayQuality {
  readonly ends: Minute;
  readonly noneEndsBefore: Minute;
  /** Minutes of work between the two. */
  readonly lengthGap: number;
  /** Minutes that all technicians are there together, by day where it takes several. */
  readonly attendance: number;
  readonly attendanceGap: number;
}

/** The order of the day. Plain data. */
export interface DayPlan {
  readonly days: readonly DayHours[];
  readonly wish: Wish;
  /** By their beginnings. */
  readonly lines: readonly DayLine[];
  readonly notes: readonly DayNote[];
  readonly lanes: readonly DayLane[];
  readonly stores: readonly StoreCourse[];
  readonly load: LoadCourse | null;
  readonly quality: DayQuality;
  readonly assumed: readonly Assumed[];
  readonly leftOut: readonly LeftOut[];
  /** What of the settings cannot be kept and why, with the nearest that can, in words. */
  readonly refused: readonly string[];
}
