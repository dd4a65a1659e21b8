import type { CompiledProtection } from "../decide/compile.ts";
import type { Engine } from "../decide/engine.ts";
import type { Facts } from "../decide/knowledge.ts";
import { type DecidedProtection, decideEach } from "../decide/visit.ts";
import { canonical, digestOf } from "../kernel/digest.ts";
import type { Condition } from "../logic/condition.ts";
import { type Bound, bind, NO, truthOf, YES } from "../logic/kleene.ts";
import { NOT_KNOWN } from "../model/fact.ts";
import { LOCAL_RULES, RULE_BASIS } from "../model/facts/visit.ts";
import type { Policy } from "../model/policy.ts";
import type { Part } from "../rulebook/types.ts";

/**
 * One thing that a decision rests on: a choice with its answer ("not known" among them, with the answers that are left where some fell
 * away), or a condition on numbers with whether it holds. Numbers stand so, since 612 kW and 598 kW under one limit decide alike.
 */
export interface DecidingFact {
  /** The fact's template, or the condition as canonical JSON of templates. */
  readonly of: string;
  readonly value: string;
}

/** What the engine decides for one protection of one set left to itself, and the facts that this rests on. */
export interface Signed {
  readonly kind: string;
  readonly set: number;
  readonly facts: readonly DecidingFact[];
  /** Of kind and facts: equal where these are. */
  readonly mark: string;
  readonly methods: readonly string[];
  readonly unproven: readonly Part[];
  readonly outcome: "combination" | "does not apply" | "nothing acceptable";
}

export const MAY_STAY_OPEN = "/policy/mayStayOpen";
export const LOCAL = "/policy/localRules";

interface Leaf {
  readonly of: string;
  readonly bound: Extract<Bound, { readonly kind: "linear" }>;
}

const leavesIn = (condition: Condition): readonly Condition[] => {
  if (condition === true) return [];
  if ("all" in condition) return condition.all.flatMap(leavesIn);
  if ("any" in condition) return condition.any.flatMap(leavesIn);
  return "is" in condition ? [] : [condition];
};

const kept = new WeakMap<CompiledProtection, readonly Leaf[]>();

/** Every condition on numbers that decides a protection, once. */
const leavesOf = (compiled: CompiledProtection): readonly Leaf[] => {
  const known = kept.get(compiled);
  if (known !== undefined) return known;
  const conditions = [compiled.protection.applies, ...compiled.methods.flatMap(({ clauses }) => clauses.map(({ when }) => when))];
  const leaves = new Map<string, Leaf>();
  for (const condition of conditions.flatMap(leavesIn)) {
    const bound = bind(compiled.frame, condition);
    if (bound.kind === "linear") leaves.set(canonical(condition), { of: canonical(condition), bound });
  }
  const made = [...leaves.values()];
  kept.set(compiled, made);
  return made;
};

const answerLeft = (values: readonly string[], mask: number): string => {
  const left = values.filter((_, place) => (mask >> place) & 1);
  if (left.length === 1) return left[0] ?? NOT_KNOWN;
  return left.length === values.length ? NOT_KNOWN : `${NOT_KNOWN}|${left.join("|")}`;
};

const factsOf = ({ prepared: { compiled }, knowledge, because }: DecidedProtection, policy: Policy): readonly DecidingFact[] => {
  const named = new Set(because);
  const choices = because.flatMap((index): readonly DecidingFact[] => {
    const variable = compiled.frame.variables[index];
    if (variable?.domain.kind !== "choice") return [];
    return [{ of: variable.at, value: answerLeft(variable.domain.values, knowledge.masks[index] ?? 0) }];
  });
  const numbers = leavesOf(compiled)
    .filter(({ bound }) => bound.indices.every((index) => named.has(index)))
    .map(({ of, bound }) => {
      const truth = truthOf(bound, knowledge);
      return { of, value: truth === YES ? "yes" : truth === NO ? "no" : NOT_KNOWN };
    });
  const basis = choices.find(({ of }) => of === RULE_BASIS)?.value ?? "";
  const local = basis === LOCAL_RULES || basis.startsWith(NOT_KNOWN) ? [{ of: LOCAL, value: policy.localRules?.name ?? "none" }] : [];
  return [...choices, ...numbers, { of: MAY_STAY_OPEN, value: [...policy.mayStayOpen].sort().join(", ") }, ...local];
};

const signed = (decided: DecidedProtection, policy: Policy): Signed => {
  const facts = factsOf(decided, policy);
  const first = decided.remaining[0];
  return {
    kind: decided.kind,
    set: decided.set,
    facts,
    mark: digestOf([decided.kind, facts.map(({ of, value }) => [of, value])]),
    methods: first?.methods ?? [],
    unproven: first?.unproven ?? [],
    outcome: first === undefined || first.outcome === "nothing left" ? "nothing acceptable" : first.outcome,
  };
};

/**
 * The signature of every decision of a visit: what the engine decides left to itself, whatever the inspector insisted on, and the facts
 * on which that rests. What does not apply is left out. Two decisions with equal marks were decided alike by the same rulebook. Pure.
 */
export const signaturesOf = (engine: Engine, facts: Facts, policy: Policy): readonly Signed[] =>
  decideEach(engine, { ...facts, insisted: new Map() })
    .filter(({ applies }) => applies !== NO)
    .map((decided) => signed(decided, policy));
