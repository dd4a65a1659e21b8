import type { Given } from "../flow/draft.ts";
import { NOT_KNOWN } from "../model/fact.ts";
import type { Plan, PlanRequest } from "../plan/schema.ts";

/** How far a visit is from being settled. */
export interface Settlement {
  /** Questions that still decide how something is tested. */
  readonly questions: readonly string[];
  /** Requests that the vessel has neither confirmed nor is rid of. */
  readonly requests: readonly string[];
  /** Tests for which no acceptable way is left. */
  readonly without: readonly string[];
  readonly settled: boolean;
}

/** Whether a fact that a request asks for is known to hold: answered, and not as a refusal would. */
const isHad = ({ at, refusedIs }: PlanRequest, answers: ReadonlyMap<string, Given>): boolean => {
  const given = at === undefined ? undefined : answers.get(at);
  return given !== undefined && given !== NOT_KNOWN && given !== refusedIs;
};

/**
 * Whether a plan is settled: no question decides any more and every request that the chosen ways need is confirmed. A request is confirmed where the
 * vessel said so, or where the fact that it asks for is known to hold. Those that only later ways would need ask nothing any more
 * once nothing decides. A test without an acceptable way is settled as such, and named. Pure.
 */
export const settlementOf = (plan: Plan, confirmed: ReadonlySet<string>, answers: ReadonlyMap<string, Given>): Settlement => {
  const questions = plan.questions.filter(({ decides }) => decides.length > 0).map(({ ref }) => ref);
  const requests = plan.requests
    // A photograph is another way to answer questions, never a thing needed for itself.
    .filter((request) => request.kind !== "photograph" && request.neededBy.length > 0)
    .filter((request) => !confirmed.has(request.ref) && !isHad(request, answers))
    .map(({ ref }) => ref);
  const without = plan.sets
    .flatMap(({ protections }) => protections)
    .filter(({ applies, decision }) => applies !== "no" && decision.outcome === "nothing acceptable")
    .map(({ ref }) => ref);
  return { questions, requests, without, settled: questions.length === 0 && requests.length === 0 };
};
