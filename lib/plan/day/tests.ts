import type { Method } from "../../rulebook/types.ts";
import { effortOf } from "../effort.ts";
import { setIn, testsOf } from "../places.ts";
import { capital } from "../say.ts";
import type { PlanProtection } from "../schema.ts";
import { answerOn, type DayInput, isSteam, roleOf } from "./input.ts";
import { USUAL_MINUTES } from "./times.ts";
import type { DayTask, Phase } from "./types.ts";

/** Stops that are proven before anything blinds a channel or raises the speed (trade.md §2). */
const STOPS: ReadonlySet<string> = new Set(["handStop", "fuelShutOff", "fireRelease", "shaftDisconnect"]);

/** Tests that are nothing but starts: none of them is followed by a restart. */
const STARTS: ReadonlySet<string> = new Set(["emergencyStart", "lossOfPower"]);

/** Valves of one control are shut for all its sets together; these are at rest, or fed otherwise, and started afterwards. */
const TOGETHER = "fs-together";

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

const taskOf = (protection: PlanProtection, phase: Phase, methods: readonly Method[], parts: number, input: DayInput): TestTask => {
  const set = setIn(protection.at) ?? 0;
  const entry = input.rulebook.protections.find(({ kind }) => kind === protection.kind);
  const efforts = methods.map((method) => effortOf(method, answerOn(input, set)));
  const together = methods.some(({ id }) => id === TOGETHER);
  const [minutes, starts, stops] = [
    sum(efforts.map((effort) => effort.minutes)),
    together ? 0 : sum(efforts.map((effort) => effort.starts)),
    together ? 0 : sum(efforts.map((effort) => effort.stops)),
  ];
  const onlyStarts = STARTS.has(protection.kind);
  const each = onlyStarts ? 0 : isSteam(input, set) ? USUAL_MINUTES.restartSteam : USUAL_MINUTES.restart;
  const times = Math.max(1, starts);
  // Several stops stand in one line: each is done, then the set restarted, then the next.
  const one = minutes / times;
  const whole = Math.ceil(minutes + starts * each);
  return {
    id: parts > 1 ? `${protection.ref} ${phase}` : protection.ref,
    phase,
    set,
    ref: protection.ref,
    what: capital(entry?.name ?? protection.kind),
    how: methods.map(({ name }) => name).join("; "),
    minutes: whole,
    restart: starts === 0 ? 0 : each,
    starts,
    hotStops: stops,
    ...(methods.some(({ blinds }) => blinds) ? { blind: true as const } : {}),
    ...(methods.some(({ hazard }) => hazard === 2) ? { grave: true as const } : {}),
    protection,
    methods,
    cold: methods.some(({ setIs }) => setIs === "cold"),
    startsAt: Array.from({ length: starts }, (_, place) =>
      Math.floor(onlyStarts ? place * one : place * (one + each) + one + Math.min(each, USUAL_MINUTES.coolDown)),
    ),
    with: [],
    offBoard: phase !== "on the board" || methods.some(({ proves }) => proves.final !== undefined && proves.final !== "open"),
  };
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
      const phases = [...new Set(methods.map((method) => phaseOf(protection.kind, method)))];
      return phases.map((phase) =>
        taskOf(
          protection,
          phase,
          methods.filter((method) => phaseOf(protection.kind, method) === phase),
          phases.length,
          input,
        ),
      );
    });
  return joined(tasks, input);
};
