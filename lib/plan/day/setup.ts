import { PRIME_MOVER, SHAFT } from "../../model/facts/set.ts";
import type { Draw, Order, Resource, Span, Task, Use } from "../../schedule/problem.ts";
import { type AskedTimes, askedOf } from "./asked.ts";
import { leastFirst } from "./importance.ts";
import { answerOn, type DayInput, isSteam } from "./input.ts";
import { ALWAYS, type Carrying, carryingOf, LOAD } from "./load.ts";
import { ELECTRICIANS, ENGINEERS, INSPECTOR, PEOPLE_LANES, peopleOf, type Technician, techniciansFor, usesOfTest } from "./people.ts";
import { type Stores, storesOf } from "./stores.ts";
import { type TestTask, testTasks } from "./tests.ts";
import { COLD_UNTIL, daysOf, USUAL_MINUTES, workOf } from "./times.ts";
import { type DaySetup, type DayTask, type LeftOut, PHASES, type Phase } from "./types.ts";

const COLD = "cold";
/** Whoever measures a machine cold in the morning has it at rest from the evening before: it carries nobody through that night. */
const COLD_FOR_THE_DAY = 1000;

/** A task as it is told and as it is put in order. */
interface Drafted {
  readonly told: DayTask;
  readonly task: Task;
}

interface Drafting {
  readonly input: DayInput;
  readonly carrying: Carrying;
  readonly stores: Stores;
}

const setUse = (set: number): Use => ({ resource: `set ${set}`, amount: 1 });

const around = (
  id: string,
  phase: Phase,
  set: number | null,
  words: readonly [what: string, how: string],
  minutes: number,
  uses: readonly Use[],
  more: { readonly starts?: number; readonly draws?: readonly Draw[] } = {},
): Drafted => ({
  told: { id, phase, set, what: words[0], how: words[1], minutes, restart: 0, starts: more.starts ?? 0, hotStops: 0 },
  task: { id, minutes, uses, ...(more.draws === undefined ? {} : { draws: more.draws }) },
});

const loadUse = ({ carrying }: Drafting, set: number, motored = false): readonly Use[] => {
  const amount = carrying.weight(set, motored);
  return amount > 0 ? [{ resource: LOAD, amount }] : [];
};

/** Starts of a task by turns from the stores that the set has; before a loss of power they are full. */
const drawsOf = ({ stores }: Drafting, { set, startsAt, phase }: TestTask): readonly Draw[] => {
  const own = stores.of(set);
  return startsAt.flatMap((at, place): readonly Draw[] => {
    const store = own[place % Math.max(1, own.length)];
    if (store === undefined) return [];
    const full = stores.stored.find((one) => one.store.id === store)?.full;
    return [{ store, amount: 1, at, ...(phase === "recovery" && place === 0 && full !== undefined ? { wants: full } : {}) }];
  });
};

const MOTORED = "rp-motoring";

const draftTest = (test: TestTask, technicians: readonly Technician[], drafting: Drafting): Drafted => {
  const { input, carrying } = drafting;
  const { protection: _, methods, startsAt: __, offBoard, cold, with: others, ...told } = test;
  const everySet = test.phase === "recovery" ? input.plan.sets.map((___, set) => set) : [test.set, ...others];
  const motored = methods.some(({ id }) => id === MOTORED);
  const coldCarrier = cold && carrying.carriers.includes(test.set) && Number.isFinite(carrying.spare);
  return {
    told,
    task: {
      id: test.id,
      minutes: test.minutes,
      uses: [
        ...usesOfTest(test, technicians),
        ...everySet.map(setUse),
        ...(offBoard && test.phase !== "recovery" ? loadUse(drafting, test.set, motored) : []),
        ...(coldCarrier ? [{ resource: COLD, amount: 1, after: COLD_FOR_THE_DAY }] : []),
      ],
      draws: drawsOf(drafting, test),
    },
  };
};

/** What stands around the tests of one set: walk-round, start, readings, codes, as left. */
const draftSet = (set: number, own: readonly TestTask[], technicians: readonly Technician[], drafting: Drafting): readonly Drafted[] => {
  const { input, stores } = drafting;
  const inspected: readonly Use[] = [{ resource: INSPECTOR, amount: 1 }, { resource: ENGINEERS, amount: 1 }, setUse(set)];
  const runs = own.some(({ phase }) => phase !== "at rest" && phase !== "recovery");
  const shaft = answerOn(input, set)(PRIME_MOVER) === SHAFT;
  const steam = isSteam(input, set);
  const store = shaft || steam ? undefined : stores.of(set)[0];
  const warm = steam ? USUAL_MINUTES.warmUpSteam : USUAL_MINUTES.warmUp;
  return [
    around(
      `walk-round ${set}`,
      "walk-round",
      set,
      [
        "Walk-round, set stopped",
        "Hold point: no wet fuel or lube-oil leak, above all on and around the turbocharger; guards, hoses, lagging, data plate",
      ],
      USUAL_MINUTES.walkRound,
      [...inspected, ...loadUse(drafting, set)],
    ),
    ...(runs
      ? [
          around(
            `start ${set}`,
            "start",
            set,
            shaft
              ? ["Shaft turning, generator excited", "As agreed with bridge and berth; warmed through"]
              : ["Start and warm up", "By the agreed starter; leaks watched from the first turn"],
            warm,
            [{ resource: ENGINEERS, amount: 1 }, setUse(set), ...loadUse(drafting, set)],
            shaft ? {} : { starts: 1, ...(store === undefined ? {} : { draws: [{ store, amount: 1 }] }) },
          ),
          around(
            `readings ${set}`,
            "start",
            set,
            [
              "Readings at rated speed",
              "Hold point again: no leak. Speed, oil pressure, water temperature, volts, hertz at the local panel",
            ],
            USUAL_MINUTES.readings,
            [...inspected, ...loadUse(drafting, set)],
          ),
        ]
      : []),
    ...technicians
      .filter(({ need }) => need === "service-engineer")
      .map((technician) =>
        around(
          `codes ${set}`,
          "codes cleared",
          set,
          ["Codes and derates cleared", "Run on load; the technician stays until then"],
          USUAL_MINUTES.codesCleared,
          [{ resource: technician.id, amount: 1 }, { resource: ENGINEERS, amount: 1 }, setUse(set)],
        ),
      ),
    around(
      `as left ${set}`,
      "as left",
      set,
      ["As left", "Everything restored, seals and set points seen, codes cleared, selector in automatic"],
      USUAL_MINUTES.asLeft,
      inspected,
    ),
  ];
};

const wholeVisit = ({ input, stores }: Drafting, underWay: boolean): readonly Drafted[] => {
  const { day } = input.read.visit;
  const all: readonly Use[] = [
    { resource: INSPECTOR, amount: 1 },
    { resource: ENGINEERS, amount: day.engineers },
    { resource: ELECTRICIANS, amount: day.electricians },
  ];
  const one: readonly Use[] = [
    { resource: INSPECTOR, amount: 1 },
    { resource: ENGINEERS, amount: 1 },
  ];
  return [
    around(
      "papers",
      "papers",
      null,
      ["Papers", "Drawings, set points, last record, procedures, certificates in date"],
      USUAL_MINUTES.papers,
      one,
    ),
    around(
      "brief",
      "brief",
      null,
      ["Hazard brief", "Stop word and hand signals; anyone may stop the work; protective equipment"],
      USUAL_MINUTES.brief,
      all,
    ),
    ...(underWay
      ? [
          around(
            "get under way",
            "under way",
            null,
            ["Vessel gets under way", "Clear water, bridge told before each test"],
            USUAL_MINUTES.underWay,
            all,
          ),
          around(
            "alongside again",
            "under way",
            null,
            ["Vessel alongside or at anchor again", "Before any loss of power"],
            USUAL_MINUTES.underWay,
            all,
          ),
        ]
      : []),
    around(
      "close-out",
      "close-out",
      null,
      ["Close-out", "Stores full, selectors in automatic, results and open points told to the ship and signed"],
      USUAL_MINUTES.closeOut,
      one,
      { draws: stores.stored.map(({ store, full }) => ({ store: store.id, amount: 0, wants: full })) },
    ),
  ];
};

const before = (earlier: readonly DayTask[], later: readonly DayTask[]): readonly Order[] =>
  later.flatMap(({ id: after }) => earlier.map(({ id }) => ({ before: id, after })));

const RANK: ReadonlyMap<Phase, number> = new Map(PHASES.map((phase, place) => [phase, place]));

/** A second device is proven after the first. */
const SECOND: Readonly<Record<string, string>> = { secondOverspeed: "overspeed", secondTurbineOverspeed: "turbineOverspeed" };

/** The order of one set's own things: phase after phase, each after the last that is there; cold before all else at rest. */
const ordersOfSet = (own: readonly DayTask[], tests: readonly TestTask[]): readonly Order[] => {
  const apart = (one: DayTask): boolean => one.phase !== "recovery" && one.phase !== "under way";
  const ranks = [...new Set(own.filter(apart).map(({ phase }) => RANK.get(phase) ?? 0))].sort((a, b) => a - b);
  const inRank = (rank: number | undefined): readonly DayTask[] => own.filter(({ phase }) => RANK.get(phase) === rank);
  const seconds = tests.flatMap((test): readonly Order[] => {
    const first = SECOND[test.protection.kind];
    return tests
      .filter(({ protection, phase }) => protection.kind === first && phase === test.phase)
      .map(({ id }) => ({ before: id, after: test.id }));
  });
  const cold = tests.filter((test) => test.cold);
  const readings = own.filter(({ id }) => id.startsWith("readings "));
  return [
    ...ranks.slice(1).flatMap((rank, place) => before(inRank(ranks[place]), inRank(rank))),
    ...before(
      cold,
      tests.filter((test) => test.phase === "at rest" && !test.cold),
    ),
    ...before(
      own.filter(({ id }) => id.startsWith("start ")),
      readings,
    ),
    ...before(
      own.filter(({ phase }) => phase === "start"),
      own.filter(({ phase }) => phase === "under way"),
    ),
    ...seconds,
  ];
};

/**
 * Sets that carry the ship are tested one after the other where no more of them may be away from the board: as many side by side as may be away at once.
 */
const sessionOrders = (lines: readonly (readonly number[])[]): readonly Order[] =>
  lines.flatMap((line) => line.slice(1).map((set, place): Order => ({ before: `as left ${line[place] ?? 0}`, after: `session ${set}` })));

/** How many numbers of sets in which order: those with technicians together, at one end or the other. */
const sequencesOf = (sets: readonly number[], technicians: ReadonlyMap<number, readonly Technician[]>): readonly (readonly number[])[] => {
  const key = (set: number): string => (technicians.get(set) ?? []).map(({ id }) => id).join();
  const withSome = [...sets].filter((set) => key(set) !== "").sort((a, b) => key(a).localeCompare(key(b), "en") || a - b);
  const without = sets.filter((set) => key(set) === "");
  const all = [[...withSome, ...without], [...without, ...withSome], sets];
  return all.filter((one, place) => all.findIndex((other) => other.join() === one.join()) === place);
};

/** A setup with what an order needs besides: the sequences of sets that may be tried, each with its own precedences. */
export interface DrawnUp extends DaySetup {
  /** Precedences of sets that cannot be away from the board together, by each order in which they may be taken. */
  readonly sequences: readonly (readonly Order[])[];
  /** References of tests, the least important first. */
  readonly leastFirst: readonly string[];
  /** When people are at work. */
  readonly work: readonly Span[];
  readonly asked: AskedTimes;
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
  const all = testTasks(input);
  const nothingLeft = (set: number): boolean => carrying.carriers.includes(set) && carrying.atOnce < 1;
  const tests = all.filter(({ set, phase }) => phase === "recovery" || !nothingLeft(set));
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
  const underWay = tests.some(({ phase }) => phase === "under way");
  const drafted: readonly Drafted[] = inNaturalOrder([
    ...wholeVisit(drafting, underWay),
    ...comes.map((one) =>
      around(
        `brief ${one.id}`,
        "brief",
        null,
        [`Brief for the ${one.label.toLowerCase()}`, "Stop word, hazards, who works what"],
        USUAL_MINUTES.technicianBrief,
        [
          { resource: one.id, amount: 1 },
          { resource: ENGINEERS, amount: 1 },
        ],
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
          (order) => firstsOf(Number(order.after.slice("session ".length)), told).map((after) => ({ ...order, after })),
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
    assumed: [...carrying.assumed, ...stores.assumed],
    leftOut: [
      ...notPlanned(input),
      ...cannotBeSpared(
        all.filter((test) => !tests.includes(test)),
        input,
        carrying,
      ),
    ],
    sequences,
    leastFirst: leastFirst(plan),
    work: workOf(days, day),
    asked: askedOf(day, visit.window.from),
  };
};

/** Starts are counted for what is started from a store: no shaft and no turbine is. */
const isStarted = (starts: ReadonlyMap<number, number>, input: DayInput): ReadonlyMap<number, number> =>
  new Map([...starts].filter(([set]) => !isSteam(input, set) && answerOn(input, set)(PRIME_MOVER) !== SHAFT));

/** What of a set wants it away from the board: for the walk-round already it is stopped. */
const firstsOf = (set: number, told: readonly DayTask[]): readonly string[] =>
  told.filter((one) => one.set === set && one.phase !== "recovery").map(({ id }) => id);

const ordersOf = (told: readonly DayTask[], tests: readonly TestTask[], comes: readonly Technician[]): readonly Order[] => {
  const of = (...phases: readonly Phase[]): readonly DayTask[] => told.filter(({ phase }) => phases.includes(phase));
  const sets = [...new Set(told.flatMap(({ set }) => (set === null ? [] : [set])))];
  const recovery = of("recovery");
  const [leaves, returns] = [told.filter(({ id }) => id === "get under way"), told.filter(({ id }) => id === "alongside again")];
  const away = tests.filter(({ phase }) => phase === "under way");
  const alongside = told.filter(({ set, phase }) => set !== null && phase !== "recovery" && phase !== "under way");
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
        told.filter((one) => one.set === set),
        tests.filter((test) => test.set === set),
      ),
    ),
    ...comes.flatMap(({ id, need }): readonly Order[] =>
      tests
        .filter((test) => test.methods.some(({ needs }) => needs.includes(need)))
        .map((test) => ({ before: `brief ${id}`, after: test.id })),
    ),
    // What needs the vessel under way stands together after all that is done alongside; the loss of power is last.
    ...(leaves.length === 0
      ? []
      : [...before(alongside, leaves), ...before(leaves, away), ...before(away, returns), ...before(returns, recovery)]),
    ...before([...alongside, ...away], recovery),
    ...before([...recovery, ...(recovery.length > 0 ? [] : [...alongside, ...away, ...returns])], of("close-out")),
  ];
};

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

const cannotBeSpared = (tests: readonly TestTask[], input: DayInput, { load, carriers }: Carrying): readonly LeftOut[] =>
  tests.map((test) => {
    const name = input.plan.sets[test.set]?.name ?? "";
    const others = carriers.filter((set) => set !== test.set);
    const rest = load === null ? 0 : others.reduce((sum, set) => sum + (load.ratedKw.get(set) ?? 0), 0);
    const why =
      others.length === 0
        ? "no other set is left to carry the ship; with shore power on the board, or its supply kept otherwise and confirmed by the vessel, it could be done"
        : `the others cannot carry ${Math.round(load?.neededKw ?? 0)} kW within ${load?.limitPercent ?? 0} %; they could carry ${Math.floor((rest * (load?.limitPercent ?? 0)) / 100)} kW`;
    return { ref: test.ref, what: `${name}: ${test.what}`, why };
  });
