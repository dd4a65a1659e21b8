import type { Given } from "../flow/draft.ts";
import { NOT_KNOWN } from "../model/fact.ts";
import { testsOf } from "../plan/places.ts";
import type { Plan, PlanRequest } from "../plan/schema.ts";

/** How far a visit is from being settled. */
export interface Settlement {
  /** Questions that still decide how something is tested. */
  readonly questions: readonly string[];
  /** Requests that the vessel has neither confirmed nor is rid of. */
  readonly requests: readonly string[];
  /** Tests for which no acceptable way is left. */
  readonly without: readonly string[];
  /** Tests that are planned otherwise than the vessel was last told, and not by a way that it proposed itself. */
  readonly untold: readonly string[];
  readonly settled: boolean;
}

/** What the vessel knows of the ways: the plan of the last letter, and by the reference of each test the method that it proposed and that was taken. */
export interface KnownToVessel {
  readonly plan: Plan;
  readonly proposed: ReadonlyMap<string, string>;
}

const untoldOf = (plan: Plan, vessel: KnownToVessel | undefined): readonly string[] => {
  if (vessel === undefined) return [];
  const then = new Map(testsOf(vessel.plan).map(({ ref, decision }) => [ref, decision.methods.join()]));
  return testsOf(plan)
    .filter(({ ref, decision }) => then.get(ref) !== decision.methods.join())
    .filter(({ ref, deviation }) => deviation?.refused !== false || vessel.proposed.get(ref) !== deviation.method)
    .map(({ ref }) => ref);
};

/** Whether a fact that a request asks for is known to hold: answered, and not as a refusal would. */
const isHad = ({ at, refusedIs }: PlanRequest, answers: ReadonlyMap<string, Given>): boolean => {
  const given = at === undefined ? undefined : answers.get(at);
  return given !== undefined && given !== NOT_KNOWN && given !== refusedIs;
};

/**
 * Whether a plan is settled: no question decides any more and every request that the chosen ways need is confirmed. A request is confirmed where the
 * vessel said so, or where the fact that it asks for is known to hold. Those that only later ways would need ask nothing any more
 * once nothing decides. A test without an acceptable way is settled as such, and named. Once a letter has gone out, nothing is settled that the
 * vessel was told otherwise. Pure.
 */
export const settlementOf = (
  plan: Plan,
  confirmed: ReadonlySet<string>,
  answers: ReadonlyMap<string, Given>,
  vessel?: KnownToVessel,
): Settlement => {
  const questions = plan.questions.filter(({ decides }) => decides.length > 0).map(({ ref }) => ref);
  const requests = plan.requests
    // A photograph is another way to answer questions, never a thing needed for itself.
    .filter((request) => request.kind !== "photograph" && request.neededBy.length > 0)
    .filter((request) => !confirmed.has(request.ref) && !isHad(request, answers))
    .map(({ ref }) => ref);
  const without = testsOf(plan)
    .filter(({ decision }) => decision.outcome === "nothing acceptable")
    .map(({ ref }) => ref);
  const untold = untoldOf(plan, vessel);
  return { questions, requests, without, untold, settled: [questions, requests, untold].every((open) => open.length === 0) };
};
