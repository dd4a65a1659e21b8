import { all, type Condition, is } from "../../logic/condition.ts";
import type { Domain } from "../../logic/frame.ts";
import type { Unit } from "../../units/units.ts";
import { choice, type FactSpec, type PhotographId } from "../fact.ts";
import { APPROVED } from "./visit.ts";

/** What the facts of one protection have in common. */
export interface ProtectionWords {
  readonly kind: string;
  /** As a reader names it, "low lube-oil pressure". */
  readonly name: string;
  /** The sets it belongs to; a truth that always holds where it belongs to all. */
  readonly base: Condition;
}

/** A condition and another, without a needless level. */
export const both = (...conditions: readonly Condition[]): Condition => {
  const parts = conditions.flatMap((condition) =>
    condition === true ? [] : condition !== null && "all" in condition ? condition.all : [condition],
  );
  const [only] = parts;
  if (only === undefined) return true;
  return parts.length === 1 ? only : all(...parts);
};

const childOf = (condition: Condition): Pick<FactSpec, "parent"> => (condition === true ? {} : { parent: condition });

/** Facts that only apply where a condition holds, beside what each of them asks for itself. */
export const under = (condition: Condition, facts: readonly FactSpec[]): readonly FactSpec[] =>
  facts.map((fact) => ({ ...fact, ...childOf(both(condition, fact.parent ?? true)) }));

export interface Asked {
  readonly look?: string;
  readonly photograph?: PhotographId;
  readonly unit?: Unit;
  readonly difference?: true;
  readonly labels?: Readonly<Record<string, string>>;
  readonly parent?: Condition;
}

const fact =
  (use: FactSpec["use"], carriedBy: FactSpec["carriedBy"]) =>
  (at: string, name: string, domain: Domain, question: string, why: string, more: Asked = {}): FactSpec => ({
    at,
    domain,
    use,
    carriedBy,
    name,
    question,
    why,
    ...more,
  });

/** A fact that decides methods. */
export const deciding = fact("deciding", "question");
/** A fact that fills in a figure or a step. */
export const detail = fact("detail", "question");
/** A fact that is only kept and compared. */
export const kept = fact("record", "question");
/** A state of ship or plant that the vessel is asked to offer. */
export const offered = (at: string, name: string, question: string, why: string): FactSpec =>
  fact("deciding", "request")(at, name, choice("offered", "refused"), question, why);

/** Which step of an approved procedure covers this protection. */
export const approvedStepFact = (
  { kind, name, base }: ProtectionWords,
  steps: readonly string[],
  labels: Readonly<Record<string, string>>,
): FactSpec => ({
  at: `/sets/*/${kind}/approvedStep`,
  name: `${name}: approved test step`,
  domain: choice("none", ...steps, "another step"),
  use: "deciding",
  carriedBy: "question",
  labels,
  question: `Which method is the step of the approved procedure for ${name}?`,
  why: "Where there is an approved step, it is the plan; departing from it goes to the authority.",
  look: "approved test procedure aboard, with its date",
  parent: both(base, is(APPROVED, "aboard")),
});

/** Whether and how a protection is fitted. */
export const fittedFact = (
  { kind, name, base }: ProtectionWords,
  values: readonly string[],
  question: string,
  more: Asked = {},
): FactSpec => ({
  at: `/sets/*/${kind}/fitted`,
  name: `${name}: fitted as`,
  domain: choice(...values),
  use: "deciding",
  carriedBy: "question",
  question,
  why: "It decides whether there is anything to prove, and what must be seen.",
  look: "set-point list; safety panel drawing",
  ...more,
  ...childOf(base),
});
