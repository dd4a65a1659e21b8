import type { Order } from "../../schedule/problem.ts";
import type { Technician } from "./people.ts";
import type { TestTask } from "./tests.ts";
import { type DayTask, PHASES, type Phase } from "./types.ts";

export const before = (earlier: readonly DayTask[], later: readonly DayTask[]): readonly Order[] =>
  later.flatMap(({ id: after }) => earlier.map(({ id }) => ({ before: id, after })));

export const RANK: ReadonlyMap<Phase, number> = new Map(PHASES.map((phase, place) => [phase, place]));

/** A second device is proven after the first. */
const SECOND: Readonly<Record<string, string>> = { secondOverspeed: "overspeed", secondTurbineOverspeed: "turbineOverspeed" };

/** Whether something is done on one set alone, with the vessel where she lies. */
export const isApart = ({ phase }: DayTask): boolean => phase !== "recovery" && phase !== "under way";

/** By what a set is stopped by hand. */
export const HAND_STOPS: readonly string[] = ["handStop", "shaftDisconnect"];

/** The order of one set's own things: phase after phase, each after the last that is there; cold before all else at rest. */
const ordersOfSet = (own: readonly DayTask[], tests: readonly TestTask[]): readonly Order[] => {
  const ranks = [...new Set(own.filter(isApart).map(({ phase }) => RANK.get(phase) ?? 0))].sort((a, b) => a - b);
  const inRank = (rank: number | undefined): readonly DayTask[] => own.filter(({ phase }) => RANK.get(phase) === rank);
  const seconds = tests.flatMap((test): readonly Order[] => {
    const first = SECOND[test.protection.kind];
    return tests
      .filter(({ protection, phase }) => protection.kind === first && phase === test.phase)
      .map(({ id }) => ({ before: id, after: test.id }));
  });
  // One sensor after the other.
  const rounds = tests.flatMap((test, place): readonly Order[] => {
    const earlier = tests.slice(0, place).findLast(({ ref, phase }) => ref === test.ref && phase === test.phase);
    return earlier === undefined ? [] : [{ before: earlier.id, after: test.id }];
  });
  const cold = tests.filter((test) => test.cold);
  const readings = own.filter(({ id }) => id.startsWith("readings "));
  return [
    ...ranks.slice(1).flatMap((rank, place) => before(inRank(ranks[place]), inRank(rank))),
    ...before(
      cold,
      tests.filter((test) => test.phase === "at rest" && !test.cold),
    ),
    // The hold point comes as soon as the set has been warmed up, and the hand stop after it: none runs unseen or through a pause before it is proven to stop.
    ...before(
      readings,
      tests.filter(({ protection, phase }) => phase === "stops" && HAND_STOPS.includes(protection.kind)),
    ).map((order) => ({ ...order, directly: true as const })),
    ...before(
      own.filter(({ id }) => id.startsWith("start ")),
      readings,
    ).map((order) => ({ ...order, directly: true as const })),
    ...before(
      own.filter(({ phase }) => phase === "start"),
      own.filter(({ phase }) => phase === "under way"),
    ),
    ...rounds,
    ...seconds,
  ];
};

const SESSION = "session ";

/**
 * Sets that carry the ship are tested one after the other where no more of them may be away from the board: as many side by side as may be away at once.
 */
export const sessionOrders = (lines: readonly (readonly number[])[]): readonly Order[] =>
  lines.flatMap((line) => line.slice(1).map((set, place): Order => ({ before: `as left ${line[place] ?? 0}`, after: `${SESSION}${set}` })));

/** How many numbers of sets in which order: those with technicians together, at one end or the other. */
export const sequencesOf = (
  sets: readonly number[],
  technicians: ReadonlyMap<number, readonly Technician[]>,
): readonly (readonly number[])[] => {
  const key = (set: number): string => (technicians.get(set) ?? []).map(({ id }) => id).join();
  const withSome = [...sets].filter((set) => key(set) !== "").sort((a, b) => Number(key(a) > key(b)) - Number(key(a) < key(b)) || a - b);
  const without = sets.filter((set) => key(set) === "");
  const all = [[...withSome, ...without], [...without, ...withSome], sets, [...sets].reverse()];
  return all.filter((one, place) => all.findIndex((other) => other.join() === one.join()) === place);
};

/** Sets on which one act is done together. */
const togetherOf = ({ set, with: others }: TestTask): readonly number[] => [set, ...others];

/** A precedence of a sequence of sets, which falls away where a task is on the day. */
export interface SequenceOrder extends Order {
  readonly unless?: string;
}

/**
 * What of a set comes only after another set is left, where no two of them may be away from the board: for the walk-round already it is stopped. Before one act for several
 * sets all of them are looked over, one after the other, so that then their walk-rounds wait for none.
 */
export const sequenceOf = ({ before, after }: Order, told: readonly DayTask[], tests: readonly TestTask[]): readonly SequenceOrder[] => {
  const set = Number(after.slice(SESSION.length));
  const together = tests.find((test) => test.also !== undefined && togetherOf(test).includes(set))?.id;
  return told
    .filter((one) => one.set === set && one.phase !== "recovery" && one.also === undefined)
    .map(({ id, phase }) => ({ before, after: id, ...(phase === "walk-round" && together !== undefined ? { unless: together } : {}) }));
};

export const ordersOf = (told: readonly DayTask[], tests: readonly TestTask[], comes: readonly Technician[]): readonly Order[] => {
  const of = (...phases: readonly Phase[]): readonly DayTask[] => told.filter(({ phase }) => phases.includes(phase));
  const sets = [...new Set(told.flatMap(({ set }) => (set === null ? [] : [set])))];
  const recovery = of("recovery");
  const [leaves, returns] = [told.filter(({ id }) => id === "get under way"), told.filter(({ id }) => id === "alongside again")];
  const away = tests.filter(({ phase }) => phase === "under way");
  const alongside = told.filter((one) => one.set !== null && isApart(one));
  // One act for several sets is done once all of them have been looked over, and before any of them is started or left.
  const together = tests.filter(({ also }) => also !== undefined);
  const ofThem = (test: TestTask, looking: boolean): readonly DayTask[] =>
    alongside.filter(
      ({ set, phase, also }) =>
        also === undefined && (phase === "walk-round") === looking && set !== null && togetherOf(test).includes(set),
    );
  return [
    ...before(
      of("papers"),
      told.filter(({ id }) => id === "brief"),
    ),
    ...before(
      told.filter(({ id }) => id === "brief"),
      of("walk-round"),
    ),
    ...sets.flatMap((set) =>
      ordersOfSet(
        told.filter((one) => one.set === set && one.also === undefined),
        tests.filter((test) => test.set === set && test.also === undefined),
      ),
    ),
    ...comes.flatMap(({ id, need }): readonly Order[] =>
      tests
        .filter((test) => test.methods.some(({ needs }) => needs.includes(need)))
        .map((test) => ({ before: `brief ${id}`, after: test.id })),
    ),
    ...together.flatMap((test) => [
      ...before(
        told.filter(({ id }) => id === "brief"),
        [test],
      ),
      ...before(ofThem(test, true), [test]),
      ...before([test], ofThem(test, false)),
    ]),
    // What needs the vessel under way stands together after all that is done alongside; the loss of power is last.
    ...(leaves.length === 0
      ? []
      : [...before(alongside, leaves), ...before(leaves, away), ...before(away, returns), ...before(returns, recovery)]),
    ...before([...alongside, ...away], recovery),
    ...before([...recovery, ...(recovery.length > 0 ? [] : [...alongside, ...away, ...returns])], of("close-out")),
  ];
};
