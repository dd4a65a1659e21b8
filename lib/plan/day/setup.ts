import { PRIME_MOVER, SHAFT } from "../../model/facts/set.ts";
import type { Resource, Span } from "../../schedule/problem.ts";
import { small } from "../say.ts";
import { type AskedTimes, askedOf } from "./asked.ts";
import { around, COLD, type Drafted, type Drafting, draftSet, draftTest, wholeVisit } from "./drafted.ts";
import { leastFirst } from "./importance.ts";
import { answerOn, type DayInput, forAnotherMover, isSteam } from "./input.ts";
import { ALWAYS, type Carrying, carryingOf, LOAD } from "./load.ts";
import { HAND_STOPS, isApart, ordersOf, RANK, type SequenceOrder, sequenceOf, sequencesOf, sessionOrders } from "./orders.ts";
import { PEOPLE_LANES, peopleOf, type Technician, techniciansFor } from "./people.ts";
import { storesOf } from "./stores.ts";
import { type TestTask, testTasks } from "./tests.ts";
import { COLD_UNTIL, daysOf, USUAL_MINUTES, workOf } from "./times.ts";
import type { DaySetup, LeftOut } from "./types.ts";

/** A setup with what an order needs besides: the sequences of sets that may be tried, each with its own precedences. */
export interface DrawnUp extends DaySetup {
  /** Precedences of sets that cannot be away from the board together, by each order in which they may be taken. */
  readonly sequences: readonly (readonly SequenceOrder[])[];
  /** References of tests, the least important first. */
  readonly leastFirst: readonly string[];
  /** What falls with a test, by their references: what is done only after it was proven. */
  readonly leaning: Readonly<Record<string, readonly string[]>>;
  /** When people are at work. */
  readonly work: readonly Span[];
  readonly asked: AskedTimes;
  /** What the set of each test is called. */
  readonly setOf: Readonly<Record<string, string>>;
}

/** Papers and briefs, then set by set phase by phase, then what is for all of them: as the trade would take them. */
const inNaturalOrder = (drafted: readonly Drafted[]): readonly Drafted[] => {
  const place = ({ told: { phase, set } }: Drafted): number => {
    const rank = RANK.get(phase) ?? 0;
    const late = phase === "recovery" || phase === "under way" || phase === "close-out";
    return late ? 1_000_000 + rank : set === null ? rank : 1000 * (set + 1) + rank;
  };
  return [...drafted].sort((one, other) => place(one) - place(other));
};

/** Everything that is put in order for a visit, before any search. Pure. */
export const drawnUp = (input: DayInput): DrawnUp => {
  const { plan, read } = input;
  const { day, visit } = read.visit;
  const days = daysOf(visit.window, day);
  const carrying = carryingOf(input);
  const everyTest = testTasks(input);
  const all = everyTest.filter(({ set, protection }) => !forAnotherMover(input, set, protection.kind));
  const nothingLeft = (set: number): boolean => carrying.carriers.includes(set) && carrying.atOnce < 1;
  // Whoever cannot be spared to have its stops proven is not tripped for a loss of power either.
  const someBound = carrying.carriers.some(nothingLeft);
  const tests = all.filter(({ set, methods }) => !nothingLeft(set) && !(someBound && methods.some(({ id }) => id === REAL_LOSS)));
  const sets = [...new Set(tests.map(({ set }) => set))].sort((a, b) => a - b);
  const starts = new Map(
    sets.map((set) => {
      const own = tests.filter((test) => test.set === set);
      const running = own.some(({ phase }) => phase !== "at rest" && phase !== "recovery");
      return [set, own.reduce((sum, test) => sum + test.starts, 0) + (running ? 1 : 0)] as const;
    }),
  );
  const stores = storesOf(input, isStarted(starts, input));
  const drafting: Drafting = { input, carrying, stores };
  const technicians = new Map(
    sets.map((set) => [
      set,
      techniciansFor(
        tests.filter((test) => test.set === set).flatMap(({ methods }) => methods),
        set,
        input,
      ),
    ]),
  );
  const comes = [...new Map([...technicians.values()].flat().map((one) => [one.id, one])).values()];
  const drafted: readonly Drafted[] = inNaturalOrder([
    ...wholeVisit(drafting, tests),
    ...comes.map((one) =>
      around(
        `brief ${one.id}`,
        "brief",
        null,
        [`Brief for the ${small(one.label)}`, "By the engineer in charge, before his first test: stop word, hazards, who works what"],
        USUAL_MINUTES.technicianBrief,
        [{ resource: one.id, amount: 1 }],
      ),
    ),
    ...sets.flatMap((set) =>
      draftSet(
        set,
        tests.filter((test) => test.set === set),
        technicians.get(set) ?? [],
        drafting,
      ),
    ),
    ...tests.map((test) => draftTest(test, techniciansFor(test.methods, test.set, input), drafting)),
  ]);
  const told = drafted.map((one) => one.told);
  const orders = ordersOf(told, tests, comes);
  const chains = Math.max(1, Math.min(carrying.atOnce, carrying.carriers.length));
  const away = sets.filter((set) => carrying.carriers.includes(set) && tests.some((test) => test.set === set && test.phase !== "recovery"));
  const bound = Number.isFinite(carrying.spare) && away.length > chains;
  const sequences = !bound
    ? [[]]
    : sequencesOf(away, technicians).map((sequence) =>
        sessionOrders(Array.from({ length: chains }, (_, chain) => sequence.filter((__, place) => place % chains === chain))).flatMap(
          (order) => sequenceOf(order, told, tests),
        ),
      );
  const tasks = drafted.map(({ task }) => task);
  return {
    problem: {
      tasks,
      orders,
      resources: resourcesOf(drafting, sets, comes, days),
      stores: stores.stored.map(({ store }) => store),
      attending: comes.map(({ id }) => id),
      // What of a set had better be done in one go, before the next is begun.
      together: sets.map((set) => told.filter((one) => one.set === set && one.also === undefined && isApart(one)).map(({ id }) => id)),
      rests: days.flatMap(({ breaks }) => breaks),
    },
    tasks: told,
    lanes: [
      ...PEOPLE_LANES.filter(({ id }) => tasks.some(({ uses }) => uses.some(({ resource }) => resource === id))),
      ...comes.map(({ id, kind, label }) => ({ id, kind, label })),
      ...sets.map((set) => ({ id: `set ${set}`, kind: "set" as const, label: plan.sets[set]?.name ?? "" })),
    ],
    stores: stores.stored.map(({ shown }) => shown),
    load: carrying.load,
    days,
    wish: day.wish,
    assumed: [
      ...carrying.assumed,
      ...stores.assumed,
      ...(tests.some(({ also }) => also !== undefined)
        ? [
            {
              text: "While the valves of the remote fuel shut-off are shut, the sets that carry the ship are fed otherwise; how is agreed with the vessel before that day. The power on the board is drawn without counting them out.",
              mark: "practice" as const,
            },
          ]
        : []),
      {
        text: `A restart takes ${USUAL_MINUTES.restart} min, of a turbine ${USUAL_MINUTES.restartSteam} min: cooling-down before the stop and prelubrication after it as the maker asks, start, hold point. A set without a prime mover that is known is taken as a diesel.`,
        mark: "practice" as const,
      },
    ],
    leftOut: [
      ...notPlanned(input),
      ...notOfThisMover(
        everyTest.filter((test) => !all.includes(test)),
        input,
      ),
      ...cannotBeSpared(
        all.filter((test) => !tests.includes(test)),
        input,
        carrying,
      ),
    ],
    sequences,
    leastFirst: leastFirst(plan),
    leaning: leaningOn(tests),
    work: workOf(days),
    asked: askedOf(day, visit.window.from),
    setOf: Object.fromEntries(plan.sets.flatMap(({ name, protections }) => protections.map(({ ref }) => [ref, name]))),
  };
};

const OIL_TRIPS: readonly string[] = ["lubeOilPressure", "bearingOilPressure", "lossOfPower"];

/** What is done on a set only after another test of it (trade.md §2): all that runs after its stops, its oil trips after its stand-by oil pump. */
const leaningOn = (tests: readonly TestTask[]): DrawnUp["leaning"] =>
  Object.fromEntries(
    tests.flatMap(({ ref, set, protection: { kind } }) => {
      const own = tests.filter((test) => test.set === set && test.ref !== ref && test.also === undefined);
      if (HAND_STOPS.includes(kind))
        return [[ref, [...new Set(own.flatMap((test) => (test.phase === "at rest" ? [] : [test.ref])))]] as const];
      if (kind === "standbyOilPump")
        return [[ref, own.flatMap((test) => (OIL_TRIPS.includes(test.protection.kind) ? [test.ref] : []))] as const];
      return [];
    }),
  );

/** The running set is tripped for it. */
const REAL_LOSS = "lp-real";

/** Starts are counted for what is started from a store: no shaft and no turbine is. */
const isStarted = (starts: ReadonlyMap<number, number>, input: DayInput): ReadonlyMap<number, number> =>
  new Map([...starts].filter(([set]) => !isSteam(input, set) && answerOn(input, set)(PRIME_MOVER) !== SHAFT));

const resourcesOf = (
  { input, carrying }: Drafting,
  sets: readonly number[],
  comes: readonly Technician[],
  days: DaySetup["days"],
): readonly Resource[] => {
  const every = [...new Set([...sets, ...input.plan.sets.map((_, set) => set)])];
  const mornings = days.map(({ from }) => ({ from, to: from + COLD_UNTIL }));
  return [
    ...peopleOf(input, days, comes),
    ...every.map((set): Resource => ({ id: `set ${set}`, capacity: 1, open: ALWAYS })),
    { id: LOAD, capacity: Number.isFinite(carrying.spare) ? carrying.spare : 0, open: ALWAYS },
    { id: COLD, capacity: Math.max(1, carrying.atOnce), open: mornings },
  ];
};

/** Tests that have no acceptable way are on no day. */
const notPlanned = ({ plan, rulebook }: DayInput): readonly LeftOut[] =>
  plan.sets.flatMap(({ name, protections }) =>
    protections
      .filter(({ applies, decision }) => applies !== "no" && decision.outcome === "nothing acceptable")
      .map(({ ref, kind }) => ({
        ref,
        what: `${name}: ${rulebook.protections.find((one) => one.kind === kind)?.name ?? kind}`,
        why: "no acceptable way is left as things stand",
      })),
  );

/** A set is one machine: the day has its tests as a diesel's, until it is known to be another. */
const notOfThisMover = (tests: readonly TestTask[], { plan }: DayInput): readonly LeftOut[] =>
  [...new Map(tests.map((test) => [test.ref, test])).values()].map(({ ref, set, what }) => ({
    ref,
    what: `${plan.sets[set]?.name ?? ""}: ${what}`,
    why: "it is for another prime mover than a diesel, as which this set is taken until its prime mover is known",
  }));

const cannotBeSpared = (tests: readonly TestTask[], input: DayInput, { load, carriers }: Carrying): readonly LeftOut[] =>
  // A test of two acts is left out once.
  [...new Map(tests.map((test) => [test.ref, test])).values()].map((test) => {
    const name = input.plan.sets[test.set]?.name ?? "";
    const others = carriers.filter((set) => set !== test.set);
    const rest = load === null ? 0 : others.reduce((sum, set) => sum + (load.ratedKw.get(set) ?? 0), 0);
    const why = !carriers.includes(test.set)
      ? "the set that runs is tripped for it, and its own stops cannot be proven before, since no other set is left to carry the ship"
      : others.length === 0
        ? "no other set is left to carry the ship; with shore power on the board, or its supply kept otherwise and confirmed by the vessel, it could be done"
        : `the others cannot carry ${Math.round(load?.neededKw ?? 0)} kW within ${load?.limitPercent ?? 0} %; they could carry ${Math.floor((rest * (load?.limitPercent ?? 0)) / 100)} kW`;
    return { ref: test.ref, what: `${name}: ${test.what}`, why };
  });
