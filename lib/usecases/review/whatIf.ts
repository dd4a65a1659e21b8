import { setImmediate as breathe } from "node:timers/promises";
import { policyFieldsChanged, type WouldChange, withPolicy, wouldChange } from "../../compare/whatIf.ts";
import type { World } from "../../kernel/ports.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import { messageOf } from "../../model/fault.ts";
import type { OfficePolicy } from "../../model/officePolicy.ts";
import { readVisit } from "../../model/read.ts";
import { type Planner, plannerWith } from "../../plan/build.ts";
import { decisionsIn, type PlanDecision } from "../../plan/decisions.ts";
import { toReview } from "../../plan/reviewable.ts";
import type { Plan } from "../../plan/schema.ts";
import { readRulebook } from "../../rulebook/schema.ts";
import type { WhatIf, WhatIfPlan } from "../../store/plans.ts";
import type { Json, Store } from "../../store/store.ts";
import { unlessUnderWay } from "../alone.ts";
import { policyInForce, policyVersion } from "../policy/inForce.ts";
import { rulebookName } from "./keepPlan.ts";
import { keptDecisions } from "./runAgain.ts";

/** What is tried: a policy against the one in force, this program’s rulebook, or a rulebook from a file, against the plans as they were kept. */
export type Tried =
  | { readonly sort: "policy"; readonly number: number; readonly note: string; readonly before: OfficePolicy; readonly after: OfficePolicy }
  | { readonly sort: "rulebook"; readonly name: string }
  | { readonly sort: "file"; readonly name: string; readonly rulebook: Json };

/** What it would come to for one plan. */
export interface Outcome {
  readonly changes: readonly WouldChange[];
  /** How many tests the office’s policy wants reviewed, before and then; left out where no policy is tried. */
  readonly review?: readonly [number, number];
  /** Why the plan could not be made; left out where it could. */
  readonly fault?: string;
}

interface Kept {
  readonly file: string;
  readonly decisions: readonly PlanDecision[];
}

type Made = { readonly plan: Plan; readonly decisions: readonly PlanDecision[] };

const madeBy = (planner: Planner, file: object): Result<Made> => {
  const read = readVisit(file, planner.rulebook.facts, planner.known);
  if (!read.ok) return failure(...read.faults.map(messageOf));
  const plan = planner.plan(read.value);
  return success({ plan, decisions: decisionsIn(planner, read.value, plan).decisions });
};

const reviewed = ({ plan }: Made, policy: OfficePolicy): number => toReview(plan, policy.review).length;

/** What a trial comes to for one kept plan. Pure. */
export const outcomeOf = (tried: Tried, planner: Planner, { file, decisions }: Kept): Outcome => {
  const document = JSON.parse(file) as object;
  const failed = (faults: readonly string[]): Outcome => ({ changes: [], fault: faults.slice(0, 3).join("; ") });
  if (tried.sort !== "policy") {
    const made = madeBy(planner, document);
    return made.ok ? { changes: wouldChange(decisions, made.value.decisions) } : failed(made.faults);
  }
  const before = madeBy(planner, document);
  const after = madeBy(planner, withPolicy(document, policyFieldsChanged(tried.before.plan, tried.after.plan)));
  if (!before.ok) return failed(before.faults);
  if (!after.ok) return failed(after.faults);
  return {
    changes: wouldChange(before.value.decisions, after.value.decisions),
    review: [reviewed(before.value, tried.before), reviewed(after.value, tried.after)],
  };
};

export interface WhatIfWorld {
  readonly store: Store;
  readonly world: World;
  readonly planner: Planner;
  /** Milliseconds since 1970. */
  readonly clock: () => number;
}

const plannerFor = (tried: Tried, planner: Planner): Planner => {
  const file = tried.sort === "file" ? readRulebook(tried.rulebook) : null;
  // Without figures and warnings, which decide nothing.
  return plannerWith(file?.ok === true ? file.value : planner.rulebook, null);
};

/** What is tried as it is kept, the same for everybody who looks at it. */
const triedOf = async ({ store, world, planner }: WhatIfWorld, what: Trying): Promise<Result<Tried>> => {
  if (what.sort === "rulebook") return success({ sort: "rulebook", name: rulebookName(planner) });
  if (what.sort === "file") {
    const read = readRulebook(what.document);
    if (!read.ok) return read;
    return success({ sort: "file", name: `${read.value.version} from ${what.name}`, rulebook: what.document as Json });
  }
  const [inForce, draft] = [await policyInForce(store, world.now().slice(0, 10)), await policyVersion(store, what.number)];
  if (draft === null) return failure(`Policy: given number ${what.number}; wanted one that was written`);
  return success({ sort: "policy", number: what.number, note: draft.note, before: inForce.policy, after: draft.policy });
};

export type Trying =
  | { readonly sort: "policy"; readonly number: number }
  | { readonly sort: "rulebook" }
  | { readonly sort: "file"; readonly name: string; readonly document: unknown };

/** Begins to try something on all kept plans; its id. It is then run by `runWhatIf`. */
export const beginWhatIf = async (office: WhatIfWorld, what: Trying, who: string): Promise<Result<string>> => {
  const { store, world } = office;
  const tried = await triedOf(office, what);
  if (!tried.ok) return tried;
  const plans = (await store.plansSince(0)).map(({ visit }) => visit);
  if (plans.length === 0)
    return failure("There is no plan yet to try it on: one counts from when its review is asked for or a letter is made of it");
  const id = world.newId();
  await store.beginWhatIf({ id, about: JSON.parse(JSON.stringify(tried.value)) as Json, who, when: world.now(), plans });
  return success(id);
};

/** So many plans are tried between two writes. */
const AT_ONCE = 20;

/** Pages and handlers are bundled apart from each other; what this process is at hangs on it, so that it can be stopped. */
const shared = globalThis as typeof globalThis & { forehailTrials?: Set<Promise<unknown>>; forehailStops?: boolean };
shared.forehailTrials ??= new Set();
const running = shared.forehailTrials;

const runPart = async ({ store, planner }: WhatIfWorld, { id, about, plans }: WhatIf): Promise<void> => {
  const tried = about as unknown as Tried;
  const by = plannerFor(tried, planner);
  const done = new Set((await store.whatIfPlans(id)).map(({ visit }) => visit));
  const left = plans.filter((visit) => !done.has(visit));
  for (let place = 0; place < left.length; place += AT_ONCE) {
    const some = left.slice(place, place + AT_ONCE);
    const outcomes: WhatIfPlan[] = [];
    for (const { visit, file, decisions, sets } of await store.planFiles(some)) {
      const kept = keptDecisions({ decisions }, sets);
      const outcome = outcomeOf(tried, by, { file, decisions: kept });
      outcomes.push({ visit, outcome: JSON.parse(JSON.stringify(outcome)) as Json });
      // Whoever waits for a page meanwhile is answered between two plans.
      await breathe();
      if (shared.forehailStops === true) break;
    }
    if (shared.forehailStops === true) return store.keepWhatIfPlans(id, outcomes);
    const met = new Set(outcomes.map(({ visit }) => visit));
    const gone = some
      .filter((visit) => !met.has(visit))
      .map((visit) => ({ visit, outcome: { changes: [], fault: "it is kept no longer" } }));
    await store.keepWhatIfPlans(id, [...outcomes, ...gone]);
  }
};

const actOf = (id: string): string => `what if ${id}`;

/** Whether any copy of the program is at it. */
export const isRunning = async ({ store, clock }: Pick<WhatIfWorld, "store" | "clock">, id: string): Promise<boolean> =>
  (await store.actUnderWay(actOf(id), clock())) !== null;

/** Tries it on the plans that are left, unless somebody is at it; where it was cut off, it goes on from there. */
export const runWhatIf = async (office: WhatIfWorld, whatIf: WhatIf): Promise<void> => {
  const run = unlessUnderWay(office, actOf(whatIf.id), () => runPart(office, whatIf));
  running.add(run);
  await run.finally(() => running.delete(run));
};

/** Starts a trial without waiting for it; what goes wrong is printed, and its page offers to go on. */
export const startWhatIf = (office: WhatIfWorld, whatIf: WhatIf): void => {
  runWhatIf(office, whatIf).catch((error: unknown) => process.stderr.write(`what if ${whatIf.id}: ${String(error)}\n`));
};

/** Ends every trial of this process between two plans, for good: the process is about to end. What is done is kept. */
export const stopWhatIfs = async (): Promise<void> => {
  shared.forehailStops = true;
  await Promise.allSettled(running);
};

/** What a trial has come to so far. */
export interface WhatIfNow {
  readonly whatIf: WhatIf;
  readonly tried: Tried;
  readonly done: number;
  readonly outcomes: readonly { readonly visit: string; readonly outcome: Outcome }[];
}

export const whatIfNow = async (store: Store, id: string): Promise<WhatIfNow | null> => {
  const whatIf = await store.whatIf(id);
  if (whatIf === null) return null;
  const outcomes = (await store.whatIfPlans(id)).map(({ visit, outcome }) => ({ visit, outcome: outcome as unknown as Outcome }));
  return { whatIf, tried: whatIf.about as unknown as Tried, done: outcomes.length, outcomes };
};
