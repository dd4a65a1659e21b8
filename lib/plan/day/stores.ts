import { plantAt } from "../../model/facts/plant.ts";
import { ELECTRIC, HYDRAULIC, startAt } from "../../model/facts/starting.ts";
import type { EnergyStore } from "../../schedule/problem.ts";
import { commonStarts, storedStarts } from "../figures/emergency.ts";
import { answerOn, type DayInput, onCommonStore, roleOf } from "./input.ts";
import type { Assumed, DayStore } from "./types.ts";

/** A store that is drawn from, as the problem and as the reader know it. */
export interface Stored {
  readonly store: EnergyStore;
  readonly shown: DayStore;
  /** What must be in it before a loss of power. */
  readonly full: number;
  /** What must be in it before leaving: nothing where the set has a second store as well, which is full. */
  readonly leaves: number;
}

export const COMMON = "store";

const ownId = (set: number): string => `store ${set}`;
const secondId = (set: number): string => `second store ${set}`;

/** Starts that a battery must still give before a loss of power and before leaving; a charger takes a day to fill it. SOLAS II-1/44 asks for three of an automatic emergency set. */
const READY_STARTS = 3;

/** A store that is recharged so many times sooner than the other is the one to start again from: nobody waits for the slow one. Common practice. */
const MUCH_SOONER = 4;

type Kind = "air" | "battery" | "accumulator";

const kindOf = (starter: string | number | undefined): Kind =>
  starter === ELECTRIC ? "battery" : starter === HYDRAULIC ? "accumulator" : "air";

const storedAs = (id: string, label: string, starts: number, kind: Kind, gauge: DayStore["gauge"], { read }: DayInput): Stored => {
  const { keepStarts, recharge } = read.visit.day;
  const full = kind === "battery" ? Math.min(starts, READY_STARTS) : starts;
  return {
    store: { id, holds: starts, first: starts, floor: Math.min(keepStarts, Math.max(0, starts - 1)), refill: starts / recharge[kind] },
    shown: { id, label, ready: full, ...(gauge === undefined ? {} : { gauge }) },
    full,
    leaves: full,
  };
};

const gaugeOf = (full: string | number | undefined, lowest: string | number | undefined): DayStore["gauge"] =>
  typeof full === "number" && typeof lowest === "number" && full > lowest ? { unit: "bar", empty: lowest, full } : undefined;

/** The stores that are known, with those that a set draws from; a set whose store is not known draws from none, and that is said. */
export interface Stores {
  readonly stored: readonly Stored[];
  /** Ids of the stores that the starts which are tests are taken from, in turn. */
  readonly of: (set: number) => readonly string[];
  /** Those that all other starts are taken from, in turn: one only where it is recharged much sooner than the other. */
  readonly again: (set: number) => readonly string[];
  readonly assumed: readonly Assumed[];
}

/** The stores of starting energy of a visit, for sets that are started at all. */
export const storesOf = (input: DayInput, starts: ReadonlyMap<number, number>): Stores => {
  const { read, plan } = input;
  const drawing = [...starts].filter(([, count]) => count > 0).map(([set]) => set);
  const common = drawing.filter((set) => onCommonStore(input, set));
  const known = common.length === 0 ? null : commonStarts(read.answers);
  const first = answerOn(input, common[0] ?? 0)(startAt.starter);
  const stored: Stored[] = [];
  const of = new Map<number, readonly string[]>();
  const open: number[] = [];
  if (known !== null && known.starts > 0) {
    const [full, lowest] = [read.answers.get(plantAt.fullPressure), read.answers.get(plantAt.lowestPressure)];
    stored.push(storedAs(COMMON, "Common starting store", known.starts, kindOf(first), gaugeOf(full, lowest), input));
  }
  for (const set of drawing) {
    const answer = answerOn(input, set);
    if (onCommonStore(input, set)) {
      if (known === null || known.starts === 0) open.push(set);
      else of.set(set, [COMMON]);
      continue;
    }
    const own =
      roleOf(input, set) === "emergency" || answer(startAt.store) === "its own" ? storedStarts({ answer, visit: read.visit }) : null;
    if (own === null || own.starts === 0) {
      open.push(set);
      continue;
    }
    const name = plan.sets[set]?.name ?? "";
    const gauge = gaugeOf(answer(startAt.fullPressure), answer(startAt.lowestPressure));
    stored.push(storedAs(ownId(set), `${name}: starting store`, own.starts, kindOf(answer(startAt.starter)), gauge, input));
    const second = answer(startAt.secondStarts);
    // One store full and the other charging is how such a set is left.
    const both = typeof second === "number" && second >= READY_STARTS;
    const first = stored.at(-1);
    if (both && first !== undefined) stored[stored.length - 1] = { ...first, leaves: 0 };
    if (typeof second === "number" && second > 0)
      stored.push(storedAs(secondId(set), `${name}: second starting store`, second, kindOf(answer(startAt.second)), undefined, input));
    of.set(set, typeof second === "number" && second > 0 ? [ownId(set), secondId(set)] : [ownId(set)]);
  }
  const refillOf = (id: string): number => stored.find(({ store }) => store.id === id)?.store.refill ?? 0;
  const soon = (own: readonly string[]): readonly string[] =>
    own.filter((id) => own.every((other) => refillOf(other) < MUCH_SOONER * refillOf(id)));
  const { recharge, keepStarts } = read.visit.day;
  const hours = (minutes: number): string => (minutes % 60 === 0 && minutes >= 60 ? `${minutes / 60} h` : `${minutes} min`);
  const unknown = open.map((set) => `${plan.sets[set]?.name ?? ""} (${starts.get(set) ?? 0})`);
  return {
    stored,
    of: (set) => of.get(set) ?? [],
    again: (set) => soon(of.get(set) ?? []),
    assumed: [
      ...(stored.length === 0
        ? []
        : [
            {
              text: `Stores are full at the beginning, are recharged all the time (air in ${hours(recharge.air)}, a battery in ${hours(recharge.battery)}, an accumulator in ${hours(recharge.accumulator)} from empty to full) and never drawn below ${keepStarts} ${keepStarts === 1 ? "start" : "starts"}.`,
              mark: "practice" as const,
            },
          ]),
      ...drawing.flatMap((set) => {
        const own = of.get(set) ?? [];
        return soon(own).includes(own[0] ?? "") || own.length === 0
          ? []
          : [
              {
                text: `${plan.sets[set]?.name ?? ""} is started again after stops from its second source, which is recharged sooner; the starts that are tests take both in turn.`,
                mark: "practice" as const,
              },
            ];
      }),
      ...(unknown.length === 0
        ? []
        : [
            {
              text: `How many starts are in store is not known; the day does not count them. Starts wanted: ${unknown.join(", ")}.`,
              mark: "practice" as const,
            },
          ]),
    ],
  };
};
