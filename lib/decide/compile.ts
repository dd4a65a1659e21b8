import { all, type Condition, is, mentions, never } from "../logic/condition.ts";
import { type Frame, frameOf, type Variable } from "../logic/frame.ts";
import { type Bound, bind } from "../logic/kleene.ts";
import { APPROVED, RULE_BASIS } from "../model/facts/visit.ts";
import type { Basis } from "../rulebook/basis.ts";
import type { Bar, Method, Need, Opener, Protection, Rulebook, TechniqueBar } from "../rulebook/types.ts";

/** A requirement of a method bound to the protection's frame. */
export interface Clause {
  readonly bar: Bar;
  readonly when: Condition;
  readonly bound: Bound;
  readonly otherwise: string;
  readonly basis: readonly Basis[];
}

export interface CompiledMethod {
  readonly method: Method;
  /** Vetoes, then rule bars, then practical bars, then needs: the first that is false names the bar. */
  readonly clauses: readonly Clause[];
  readonly needs: readonly Need[];
}

/** One protection of the rulebook, ready to be decided for any set. Pointers stay templates. */
export interface CompiledProtection {
  readonly protection: Protection;
  readonly frame: Frame;
  readonly applies: Bound;
  readonly methods: readonly CompiledMethod[];
}

export const WRITTEN_ACCEPTANCE = "written-acceptance";
export const APPROVED_PROCEDURE = "approved-procedure";

const needOf = (rulebook: Rulebook, id: string): Need | undefined => rulebook.needs.find((need) => need.id === id);

export const approvedStepAt = (kind: string): string => `/sets/*/${kind}/approvedStep`;

/** Where a procedure approved for the vessel has this method as its step. */
export const isApprovedStep = (kind: string, method: string): Condition => all(is(APPROVED, "aboard"), is(approvedStepAt(kind), method));

/** The condition under which a need can be met in any of its ways; always, where it hangs on no fact. */
export const needMet = (need: Need): Condition =>
  need.at === undefined ? true : is(need.at, ...(need.ways ?? []).flatMap((way) => way.values));

const openerHolds = (rulebook: Rulebook, protection: Protection, method: Method, opener: Opener): Condition => {
  if (opener === "danger") return protection.danger;
  if (opener === "approved step") return method.approvable === true ? isApprovedStep(protection.kind, method.id) : never;
  const acceptance = needOf(rulebook, WRITTEN_ACCEPTANCE);
  return acceptance === undefined ? never : needMet(acceptance);
};

/** What a rule basis asks of a technique: another basis binds, or one of the things that the rule names holds. */
export const ruleCondition = (
  rulebook: Rulebook,
  protection: Protection,
  method: Method,
  ruleBasis: string,
  openers: readonly Opener[],
): Condition => {
  const others = rulebook.ruleBases.map(({ id }) => id).filter((id) => id !== ruleBasis);
  const open = openers.map((opener) => openerHolds(rulebook, protection, method, opener));
  if (open.includes(true)) return true;
  return {
    any: [
      is(RULE_BASIS, ...others),
      ...open.flatMap((condition) => (typeof condition === "object" && "any" in condition ? condition.any : [condition])),
    ],
  };
};

/** The bars that any rule basis lays on a method's technique. */
export const barsOn = (rulebook: Rulebook, method: Method): readonly { readonly ruleBasis: string; readonly bar: TechniqueBar }[] =>
  rulebook.ruleBases.flatMap((ruleBasis) =>
    ruleBasis.bars.filter((bar) => bar.technique === method.technique).map((bar) => ({ ruleBasis: ruleBasis.id, bar })),
  );

const ORDER: Readonly<Record<Bar, number>> = { veto: 0, rule: 1, practical: 2 };

const conditionsOf = (rulebook: Rulebook, protection: Protection, method: Method): readonly Omit<Clause, "bound">[] => {
  const ruled = barsOn(rulebook, method).map(({ ruleBasis, bar }) => ({
    bar: "rule" as const,
    when: ruleCondition(rulebook, protection, method, ruleBasis, bar.openedBy),
    otherwise: bar.otherwise,
    basis: bar.basis,
  }));
  const own = [...method.requirements, ...ruled].sort((a, b) => ORDER[a.bar] - ORDER[b.bar]);
  const met = method.needs.flatMap((id) => {
    const need = needOf(rulebook, id);
    if (need?.at === undefined) return [];
    return [
      {
        bar: "practical" as const,
        when: needMet(need),
        otherwise: `not possible because it cannot be had: ${need.text}`,
        basis: method.basis,
      },
    ];
  });
  return [...own, ...met].filter(({ when }) => when !== true);
};

/** The facts that conditions mention, in the protection's diagram order; facts it does not list come last. */
const variablesOf = (rulebook: Rulebook, { diagramOrder = [] }: Protection, conditions: readonly Condition[]): readonly Variable[] => {
  const named = new Set(conditions.flatMap(mentions));
  const place = new Map(diagramOrder.map((at, position) => [at, position]));
  return rulebook.facts
    .filter((fact) => named.has(fact.at))
    .map(({ at, domain }) => ({ at, domain }))
    .sort((a, b) => (place.get(a.at) ?? diagramOrder.length) - (place.get(b.at) ?? diagramOrder.length));
};

/** Binds one protection of the rulebook to the facts it mentions. */
export const compileProtection = (rulebook: Rulebook, protection: Protection): CompiledProtection => {
  const raw = protection.methods.map((method) => ({ method, conditions: conditionsOf(rulebook, protection, method) }));
  const steps = protection.methods.some(({ approvable }) => approvable === true) ? [isApprovedStep(protection.kind, "")] : [];
  const every = [protection.applies, ...steps, ...raw.flatMap(({ conditions }) => conditions.map(({ when }) => when))];
  const frame = frameOf(variablesOf(rulebook, protection, every));
  return {
    protection,
    frame,
    applies: bind(frame, protection.applies),
    methods: raw.map(({ method, conditions }) => ({
      method,
      clauses: conditions.map((condition) => ({ ...condition, bound: bind(frame, condition.when) })),
      needs: method.needs.flatMap((id) => needOf(rulebook, id) ?? []),
    })),
  };
};
