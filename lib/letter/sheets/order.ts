import type { DayPlan } from "../../plan/day/types.ts";
import type { Plan } from "../../plan/schema.ts";
import type { Test } from "./testSheet.ts";

/** The planned tests of a set in the order of the day, and after them those that are not on it, in the plan's order. None is left out. */
export const testsOn = (set: number, plan: Plan, day: DayPlan | null): readonly Test[] => {
  const tests = (plan.sets[set]?.protections ?? [])
    .filter(({ applies, decision }) => applies !== "no" && decision.outcome === "combination")
    .map((protection) => ({ set, protection }));
  const refs = (day?.lines ?? []).flatMap(({ ref }) => ref ?? []);
  const placeOf = ({ protection }: Test): number => {
    const place = refs.indexOf(protection.ref);
    return place < 0 ? refs.length : place;
  };
  return tests.toSorted((one, other) => placeOf(one) - placeOf(other));
};

/** Protections of a set that no acceptable way is left for. */
export const withoutWay = (set: number, plan: Plan): readonly Test[] =>
  (plan.sets[set]?.protections ?? [])
    .filter(({ applies, decision }) => applies !== "no" && decision.outcome === "nothing acceptable")
    .map((protection) => ({ set, protection }));
