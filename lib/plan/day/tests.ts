import { PRIME_MOVER, SHAFT } from "../../model/facts/set.ts";
import type { Method } from "../../rulebook/types.ts";
import { effortOf } from "../effort.ts";
import { setIn, testsOf } from "../places.ts";
import { capital } from "../say.ts";
import type { PlanProtection } from "../schema.ts";
import { answerOn, type DayInput, isSteam, roleOf } from "./input.ts";
import { USUAL_MINUTES } from "./times.ts";
import { type DayTask, PHASES, type Phase } from "./types.ts";

/** Stops that are proven before anything blinds a channel or raises the speed (trade.md §2). */
const STOPS: ReadonlySet<string> = new Set(["handStop", "fuelShutOff", "fireRelease", "shaftDisconnect"]);

/** Tests that are nothing but starts: none of them is followed by a restart. */
const STARTS: ReadonlySet<string> = new Set(["emergencyStart", "lossOfPower"]);

/** Valves of one control are shut for all its sets together; these are at rest, or fed otherwise, and started afterwards. */
const TOGETHER = "fs-together";

/** What of a method is done in another part of the day than the rest. */
const PARTED: Readonly<Record<string, Partial<Record<Phase, { readonly minutes: number; readonly how: string }>>>> = {
  "wt-comparison": {
    "at rest": { minutes: 10, how: "cold winding compared with the air around it" },
    "on the board": { minutes: 5, how: "windings under load compared with one another" },
  },
};

/** A test of several sensors that takes longer than this many minutes is divided: nothing else would fit around it. */
const LONGEST_IN_ONE = 100;

/** In which part of the day a method is done. */
export const phaseOf = (kind: string, { id, setIs, needs, stops }: Method): Phase => {
  if (id === TOGETHER) return "at rest";
  switch (setIs) {
    case "cold":
    case "at rest":
      return "at rest";
    case "on the board":
      // The breaker, excitation and clutch by hand are what a shaft generator is stopped by.
      return STOPS.has(kind) ? "stops" : "on the board";
    case "under way":
      return "under way";
    case "without power":
      return "recovery";
    default:
      if (kind === "lossOfPower") return "recovery";
      if (STOPS.has(kind)) return "stops";
      if (needs.includes("overspeed-clear")) return "overspeed";
      return stops > 0 ? "stopping" : "running";
  }
};

/** A task that is a test, with the methods that it is done by. */
export interface TestTask extends DayTask {
  readonly protection: PlanProtection;
  readonly methods: readonly Method[];
  readonly set: number;
  readonly ref: string;
  /** Cold sets are measured before their first start of a day. */
  readonly cold: boolean;
  /** Minutes from its beginning to each start. */
  readonly startsAt: readonly number[];
  /** Whether the set's breaker opens, or it is away from the board anyhow. */
  readonly offBoard: boolean;
  /** Other sets on which the same act is done. */
  readonly with: readonly number[];
}

const sum = (numbers: readonly number[]): number => numbers.reduce((total, one) => total + one, 0);

/** Which part of a test a task is: what its phase is, of how many phases, and which of how many rounds at one sensor after the other. */
interface Part {
  readonly phase: Phase;
  readonly phases: number;
  readonly round: number;
  readonly rounds: number;
}

const idOf = (ref: string, { phase, phases, round }: Part): string =>
  [ref, ...(phases > 1 ? [phase] : []), ...(round > 1 ? [String(round)] : [])].join(" ");

const taskOf = (protection: PlanProtection, part: Part, methods: readonly Method[], input: DayInput): TestTask => {
  const { phase, rounds } = part;
  const set = setIn(protection.at) ?? 0;
  const entry = input.rulebook.protections.find(({ kind }) => kind === protection.kind);
  const efforts = methods.map((method) => {
    const effort = effortOf(method, answerOn(input, set));
    return { ...effort, minutes: PARTED[method.id]?.[phase]?.minutes ?? effort.minutes };
  });
  const together = methods.some(({ id }) => id === TOGETHER);
  const minutes = sum(efforts.map((effort) => effort.minutes)) / rounds;
  const restarts = together ? 0 : sum(efforts.map((effort) => effort.starts)) / rounds;
  // A shaft turns on while its generator is taken off it.
  const turnsOn = answerOn(input, set)(PRIME_MOVER) === SHAFT;
  const starts = turnsOn ? 0 : restarts;
  const onlyStarts = STARTS.has(protection.kind);
  const each = onlyStarts ? 0 : isSteam(input, set) ? USUAL_MINUTES.restartSteam : USUAL_MINUTES.restart;
  // Several stops stand in one line: each is done, then the set restarted, then the next.
  const one = minutes / Math.max(1, restarts);
  const how = methods.map(({ id, name }) => PARTED[id]?.[phase]?.how ?? name).join("; ");
  return {
    id: idOf(protection.ref, part),
    phase,
    set,
    ref: protection.ref,
    what: capital(entry?.name ?? protection.kind),
    how: rounds > 1 ? `${how} (${part.round} of ${rounds})` : how,
    minutes: Math.ceil(minutes + restarts * each),
    restart: restarts === 0 ? 0 : each,
    starts,
    hotStops: together || turnsOn ? 0 : sum(efforts.map((effort) => effort.stops)) / rounds,
    ...(onlyStarts ? { startsItself: true as const } : {}),
    ...(methods.some(({ blinds }) => blinds) ? { blind: true as const } : {}),
    ...(methods.some(({ hazard }) => hazard === 2) ? { grave: true as const } : {}),
    protection,
    methods,
    cold: phase === "at rest" && methods.some(({ setIs }) => setIs === "cold"),
    startsAt: Array.from({ length: starts }, (_, place) =>
      Math.floor(onlyStarts ? place * one : place * (one + each) + one + Math.min(each, USUAL_MINUTES.coolDown)),
    ),
    with: [],
    offBoard: phase !== "on the board" || methods.some(({ proves }) => proves.final !== undefined && proves.final !== "open"),
  };
};

/** How often a test is done over in rounds of their own: as often as there are sensors, where all of them in one go would not end before a pause. */
const roundsOf = (methods: readonly Method[], set: number, input: DayInput): number => {
  const [method, ...others] = methods;
  if (method?.repeats === undefined || others.length > 0 || !method.repeats.endsWith("/sensors")) return 1;
  const { minutes } = effortOf(method, answerOn(input, set));
  return minutes > LONGEST_IN_ONE ? Math.round(minutes / method.minutes) : 1;
};

/** One act for all ship-service sets of a control: the first set's task stands for the others'. */
const joined = (tasks: readonly TestTask[], input: DayInput): readonly TestTask[] => {
  const together = tasks.filter(({ set, methods }) => methods.some(({ id }) => id === TOGETHER) && roleOf(input, set) === "ship service");
  const [first, ...others] = together;
  if (first === undefined || others.length === 0) return tasks;
  const one = {
    ...first,
    how: `${first.how}; the sets that carry the ship are fed otherwise meanwhile`,
    also: others.map(({ ref }) => ref),
    with: others.map(({ set }) => set),
    starts: together.length,
  };
  return tasks.filter((task) => !others.includes(task)).map((task) => (task === first ? one : task));
};

/** Every planned test by the parts of the day in which its methods are done, in the order of the plan. */
export const testTasks = (input: DayInput): readonly TestTask[] => {
  const tasks = testsOf(input.plan)
    .filter(({ decision }) => decision.outcome === "combination")
    .flatMap((protection) => {
      const entry = input.rulebook.protections.find(({ kind }) => kind === protection.kind);
      const methods = (entry?.methods ?? []).filter(({ id }) => protection.decision.methods.includes(id));
      const phasesOf = (method: Method): readonly Phase[] => {
        const parted = PARTED[method.id];
        return parted === undefined ? [phaseOf(protection.kind, method)] : PHASES.filter((phase) => parted[phase] !== undefined);
      };
      const phases = [...new Set(methods.flatMap(phasesOf))];
      return phases.flatMap((phase) => {
        const own = methods.filter((method) => phasesOf(method).includes(phase));
        const rounds = roundsOf(own, setIn(protection.at) ?? 0, input);
        return Array.from({ length: rounds }, (_, place) =>
          taskOf(protection, { phase, phases: phases.length, round: place + 1, rounds }, own, input),
        );
      });
    });
  return joined(tasks, input);
};
