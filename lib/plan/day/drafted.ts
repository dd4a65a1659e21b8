import { PRIME_MOVER, SHAFT } from "../../model/facts/set.ts";
import type { Draw, Task, Use } from "../../schedule/problem.ts";
import { answerOn, type DayInput, isSteam } from "./input.ts";
import { type Carrying, LOAD } from "./load.ts";
import { ELECTRICIANS, ENGINEERS, INSPECTOR, type Technician, usesOfTest } from "./people.ts";
import type { Stores } from "./stores.ts";
import type { TestTask } from "./tests.ts";
import { USUAL_MINUTES } from "./times.ts";
import type { DayTask, Phase } from "./types.ts";

export const COLD = "cold";

/** Whoever measures a machine cold in the morning has it at rest from the evening before: it carries nobody through that night. */
const COLD_FOR_THE_DAY = 1000;

/** A task as it is told and as it is put in order. */
export interface Drafted {
  readonly told: DayTask;
  readonly task: Task;
}

export interface Drafting {
  readonly input: DayInput;
  readonly carrying: Carrying;
  readonly stores: Stores;
}

const setUse = (set: number): Use => ({ resource: `set ${set}`, amount: 1 });

export const around = (
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

const drawn = (store: string | undefined, at: number): readonly Draw[] => (store === undefined ? [] : [{ store, amount: 1, at }]);

/** Starts of a task: by turns from the stores that the set has, those that are no tests only from what is recharged soon; before a loss of power all are full. */
const drawsOf = ({ stores }: Drafting, { set, with: others, startsAt, startsItself, phase, minutes }: TestTask): readonly Draw[] => {
  // After one act for several sets each of them is started once, to be looked over.
  if (others.length > 0) return [set, ...others].flatMap((one) => drawn(stores.again(one)[0], minutes));
  const own = startsItself === true ? stores.of(set) : stores.again(set);
  const full: readonly Draw[] =
    phase === "recovery" ? stores.stored.map((one) => ({ store: one.store.id, amount: 0, wants: one.full })) : [];
  return [...full, ...startsAt.flatMap((at, place) => drawn(own[place % Math.max(1, own.length)], at))];
};

export const MOTORED = "rp-motoring";

export const draftTest = (test: TestTask, technicians: readonly Technician[], drafting: Drafting): Drafted => {
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
export const draftSet = (
  set: number,
  own: readonly TestTask[],
  technicians: readonly Technician[],
  drafting: Drafting,
): readonly Drafted[] => {
  const { input, stores } = drafting;
  const inspected: readonly Use[] = [{ resource: INSPECTOR, amount: 1 }, { resource: ENGINEERS, amount: 1 }, setUse(set)];
  const runs = own.some(({ phase }) => phase !== "at rest" && phase !== "recovery");
  const shaft = answerOn(input, set)(PRIME_MOVER) === SHAFT;
  const steam = isSteam(input, set);
  const store = shaft || steam ? undefined : stores.again(set)[0];
  const warm = steam ? USUAL_MINUTES.warmUpSteam : USUAL_MINUTES.warmUp;
  return [
    around(
      `walk-round ${set}`,
      "walk-round",
      set,
      [
        "Walk-round, set stopped",
        steam
          ? "Hold point: no oil or steam leak; guards, lagging, drains, data plate"
          : shaft
            ? "Hold point: no oil leak; guards over shaft, clutch and couplings, cables, data plate"
            : "Hold point: no wet fuel or lube-oil leak, above all on and around the turbocharger; guards, hoses, lagging, data plate",
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
              : [
                  "Start and warm up",
                  "By the agreed starter, looked over again where the walk-round was on another day; leaks watched from the first turn",
                ],
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

export const wholeVisit = ({ input, stores }: Drafting, tests: readonly TestTask[]): readonly Drafted[] => {
  const [underWay, recovers] = [tests.some(({ phase }) => phase === "under way"), tests.some(({ phase }) => phase === "recovery")];
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
      [
        "Close-out",
        `Every set as left${recovers ? ", once more after the loss of power" : ""}; stores full or charging, selectors in automatic; results and open points told to the ship and signed`,
      ],
      USUAL_MINUTES.closeOut,
      one,
      { draws: stores.stored.flatMap(({ store, leaves }) => (leaves === 0 ? [] : [{ store: store.id, amount: 0, wants: leaves }])) },
    ),
  ];
};
