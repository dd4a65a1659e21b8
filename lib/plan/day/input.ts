import type { Condition } from "../../logic/condition.ts";
import { resolve } from "../../model/fact.ts";
import { DIESEL, PRIME_MOVER, STEAM } from "../../model/facts/set.ts";
import { startAt } from "../../model/facts/starting.ts";
import type { ReadVisit } from "../../model/read.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Plan } from "../schema.ts";

/** What the order of a day is made from. */
export interface DayInput {
  readonly plan: Plan;
  readonly read: ReadVisit;
  readonly rulebook: Rulebook;
}

/** The answer to a fact of a set; undefined where it is not known. */
export const answerOn =
  ({ read }: Pick<DayInput, "read">, set: number) =>
  (template: string): string | number | undefined =>
    read.answers.get(resolve(template, set, read.sets[set]?.sisters ?? "A"));

export const isSteam = (input: DayInput, set: number): boolean => answerOn(input, set)(PRIME_MOVER) === STEAM;

/** Whether a condition cannot hold of a diesel. */
const notOfDiesels = (condition: Condition): boolean => {
  if (typeof condition === "boolean") return !condition;
  if ("is" in condition) return condition.at === PRIME_MOVER && !condition.is.includes(DIESEL);
  if ("any" in condition) return condition.any.every(notOfDiesels);
  return "all" in condition && condition.all.some(notOfDiesels);
};

/** Whether a test is for another prime mover than a diesel, as which a set is taken whose prime mover is not known. */
export const forAnotherMover = (input: DayInput, set: number, kind: string): boolean =>
  answerOn(input, set)(PRIME_MOVER) === undefined &&
  notOfDiesels(input.rulebook.protections.find((one) => one.kind === kind)?.applies ?? true);

export const roleOf = ({ plan }: DayInput, set: number): string => plan.sets[set]?.role ?? "";

/** Whether a set takes its starts from the store that ship-service sets have in common: as the figures of the plan count them. */
export const onCommonStore = (input: DayInput, set: number): boolean =>
  roleOf(input, set) === "ship service" && !isSteam(input, set) && answerOn(input, set)(startAt.store) !== "its own";
