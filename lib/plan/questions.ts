import type { Asked, DecidedProtection, DecidedVisit } from "../decide/visit.ts";
import { pointed } from "../decide/visit.ts";
import { type Condition, mentions } from "../logic/condition.ts";
import { type Bound, bind, NO, OPEN, truthOf } from "../logic/kleene.ts";
import { residual } from "../logic/residual.ts";
import { resolve } from "../model/fact.ts";
import { PRIME_MOVER } from "../model/facts/set.ts";
import { RULE_BASIS } from "../model/facts/visit.ts";
import type { PlacedFact } from "./answers.ts";
import type { Names } from "./say.ts";
import { sayBoundary } from "./say.ts";
import type { PlanQuestion } from "./schema.ts";

/** A question before it has its words: what is asked, and which protections hang on it or on its detail. */
export interface Draft {
  readonly fact: PlacedFact;
  readonly asked: Asked | null;
  readonly detailFor: readonly { readonly protection: string; readonly rank: number }[];
}

const detailsNeeded = (decided: DecidedVisit): ReadonlyMap<string, readonly { readonly protection: string; readonly rank: number }[]> => {
  const needed = new Map<string, { protection: string; rank: number }[]>();
  for (const { at, prepared, remaining, set, sisters, applies } of decided.protections) {
    const seen = new Set<string>();
    if (applies === NO) continue;
    for (const template of (prepared.compiled.protection.notes ?? []).flatMap(({ when }) => mentions(when))) {
      const place = resolve(template, set, sisters);
      if (seen.has(place)) continue;
      seen.add(place);
      needed.set(place, [...(needed.get(place) ?? []), { protection: at, rank: 0 }]);
    }
    remaining.forEach(({ methods }, rank) => {
      for (const { method } of prepared.compiled.methods) {
        if (!methods.includes(method.id)) continue;
        for (const template of method.details) {
          const place = resolve(template, set, sisters);
          if (seen.has(place)) continue;
          seen.add(place);
          needed.set(place, [...(needed.get(place) ?? []), { protection: at, rank }]);
        }
      }
    });
  }
  return needed;
};

const rankOf = ({ asked, detailFor }: Draft): number => Math.min(...(asked?.decides ?? detailFor).map(({ rank }) => rank));

/** The rule basis and what drives a set first, then the technique of a maker's procedure, since nothing is ordered before these; then by rank. */
const urgency = (draft: Draft): number => {
  if (draft.fact.at === RULE_BASIS) return 0;
  if (draft.fact.spec.at === PRIME_MOVER) return 0;
  return draft.fact.at.endsWith("/makerProcedure") && draft.asked !== null ? 1 : 2;
};

/** What is asked, in the order of asking: deciding facts and the details of methods that are still among the options. */
export const draftQuestions = (decided: DecidedVisit, placed: readonly PlacedFact[]): readonly Draft[] => {
  const asked = new Map(decided.questions.map((question) => [question.at, question]));
  const details = detailsNeeded(decided);
  const drafts = placed.flatMap((fact): readonly Draft[] => {
    if (fact.answer !== undefined || fact.applies === NO || fact.spec.carriedBy === "request" || fact.spec.use === "record") return [];
    const deciding = asked.get(fact.at) ?? null;
    const detailFor = details.get(fact.at) ?? [];
    return deciding === null && detailFor.length === 0 ? [] : [{ fact, asked: deciding, detailFor }];
  });
  const order = new Map(drafts.map((draft, place) => [draft, place]));
  return [...drafts].sort(
    (a, b) =>
      urgency(a) - urgency(b) ||
      Number(a.asked === null) - Number(b.asked === null) ||
      rankOf(a) - rankOf(b) ||
      (a.fact.set ?? -1) - (b.fact.set ?? -1) ||
      (order.get(a) ?? 0) - (order.get(b) ?? 0),
  );
};

type Linear = Extract<Bound, { kind: "linear" }>;

const linearsIn = (bound: Bound): readonly Linear[] => {
  if (bound.kind === "linear") return [bound];
  return bound.kind === "all" || bound.kind === "any" ? bound.parts.flatMap(linearsIn) : [];
};

/** The open inequalities of a protection that hang on a fact, each once, the way round in which the rulebook first has it. */
const inequalitiesOn = (at: string, decided: DecidedProtection): readonly Condition[] => {
  const { prepared, knowledge, influences, set, sisters } = decided;
  const { frame, methods } = prepared.compiled;
  const index = frame.variables.findIndex((variable) => resolve(variable.at, set, sisters) === at);
  if (!influences.some(({ fact }) => fact === index)) return [];
  const own = methods.flatMap(({ method }) => method.requirements.flatMap(({ when }) => linearsIn(bind(frame, when))));
  const open = own.filter((bound) => bound.indices.includes(index) && truthOf(bound, knowledge) === OPEN);
  const once = new Map(open.map((bound) => [[...bound.indices].sort().join(), bound]));
  return [...once.values()].map((bound) => pointed(residual(frame, bound, knowledge), decided));
};

/** For an open number, what of it counts in each protection it decides. */
const boundariesOf = (at: string, protections: readonly DecidedProtection[]): readonly Condition[] => {
  const found = protections.flatMap((decided) => inequalitiesOn(at, decided));
  return [...new Map(found.map((condition) => [JSON.stringify(condition), condition])).values()];
};

export interface QuestionContext {
  readonly names: Names;
  readonly refOf: (channel: string) => string;
  readonly questionRef: (at: string) => string;
  readonly setName: (set: number) => string;
  readonly protections: readonly DecidedProtection[];
}

const inWords = (question: string, boundaries: readonly Condition[], names: Names): string => {
  if (boundaries.length === 0) return question;
  return `${question} What counts: ${boundaries.map((condition) => sayBoundary(condition, names)).join("; ")}.`;
};

export const planQuestion = ({ fact, asked, detailFor }: Draft, context: QuestionContext): PlanQuestion => {
  const refer = (items: readonly { readonly protection: string; readonly rank: number }[]) =>
    items.map(({ protection, rank }) => ({ protection: context.refOf(protection), rank }));
  const { spec, set } = fact;
  const boundary = asked !== null && spec.domain.kind === "number" ? boundariesOf(fact.at, context.protections) : [];
  const question = inWords(spec.question, boundary, context.names);
  return {
    ref: context.questionRef(fact.at),
    at: fact.at,
    text: set === null ? question : `${context.setName(set)}: ${question}`,
    why: spec.why,
    decides: asked === null ? [] : refer(asked.decides),
    ...(detailFor.length === 0 ? {} : { detailFor: refer(detailFor) }),
    ...(boundary.length === 0 ? {} : { boundary }),
    ...(asked === null || asked.onlyIf === true ? {} : { onlyIf: asked.onlyIf }),
    ...(spec.photograph === undefined ? {} : { photograph: spec.photograph }),
  };
};
