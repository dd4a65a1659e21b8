import { type Condition, rename } from "../logic/condition.ts";
import { NO } from "../logic/kleene.ts";
import { type FactSpec, resolve } from "../model/fact.ts";
import type { Need } from "../rulebook/types.ts";
import type { Engine } from "./engine.ts";
import { type Facts, keyOf, knowledgeOf } from "./knowledge.ts";
import { onlyIfOf } from "./onlyIf.ts";
import { decidedInstead } from "./price.ts";
import { type Decided, decideProtection, type Remaining } from "./protection.ts";

export interface DecidedProtection extends Decided {
  /** What alike sets share: worked out once for all protections that know the same. */
  readonly core: Decided;
  /** Pointer of the channel in the visit file, "/sets/0/overspeed". */
  readonly at: string;
  readonly set: number;
  readonly sisters: string;
}

export interface Decides {
  readonly protection: string;
  readonly rank: number;
}

/** A deciding open fact that a question must carry. */
export interface Asked {
  readonly at: string;
  readonly fact: FactSpec;
  readonly set: number | null;
  readonly decides: readonly Decides[];
  /** Without this it cannot matter; `true` where it can matter at once. */
  readonly onlyIf: Condition;
}

export interface Price {
  readonly protection: string;
  readonly to: Remaining;
}

/** Something the vessel is asked to arrange. */
export interface Wanted {
  readonly need: Need;
  /** The availability fact, where it hangs on one. */
  readonly at: string | null;
  readonly sisters: string | null;
  /** Protections whose first option needs it. */
  readonly neededBy: readonly string[];
  /** Protections that may come to it later. */
  readonly laterFor: readonly string[];
  readonly onlyIf: Condition;
  readonly prices: readonly Price[];
}

export interface DecidedVisit {
  readonly protections: readonly DecidedProtection[];
  readonly questions: readonly Asked[];
  readonly wanted: readonly Wanted[];
}

/** Every protection of every set decided, set by set in rulebook order, without what is asked and wanted. */
export const decideEach = (engine: Engine, facts: Facts): readonly DecidedProtection[] => {
  return facts.sets.flatMap(({ sisters }, set) =>
    engine.rulebook.protections.flatMap(({ kind }) => {
      const compiled = facts.leftOut?.has(kind) === true ? undefined : engine.compiled(kind);
      if (compiled === undefined) return [];
      const at = `/sets/${set}/${kind}`;
      const method = facts.insisted.get(at);
      const knowledge = knowledgeOf(facts, engine.leads, compiled, set);
      const key = `${kind}|${method ?? ""}|${keyOf(compiled.frame, knowledge)}`;
      const decided = engine.remembered(key, () => decideProtection(engine, kind, knowledge, method));
      return decided === undefined ? [] : [{ ...decided, core: decided, at, set, sisters }];
    }),
  );
};

/** Conditions of the rulebook speak in templates; those of a plan in pointers of its visit file. */
export const pointed = (condition: Condition, { set, sisters }: Pick<DecidedProtection, "set" | "sisters">): Condition =>
  rename(condition, (at) => resolve(at, set, sisters));

interface Carried {
  readonly fact: FactSpec;
  readonly set: number | null;
  readonly decides: readonly Decides[];
  readonly conditions: readonly Condition[];
}

const setOf = (template: string, set: number): number | null => (template.startsWith("/sets/*/") ? set : null);

/** Remembers, for each decided core and fact, what was worked out for it; lives as long as one call. */
const rememberedByCore = <Value>(make: (core: Decided, fact: number) => Value): ((core: Decided, fact: number) => Value) => {
  const known = new Map<Decided, Map<number, Value>>();
  return (core, fact) => {
    const facts = known.get(core) ?? new Map<number, Value>();
    known.set(core, facts);
    const found = facts.get(fact);
    if (found !== undefined || facts.has(fact)) return found as Value;
    const value = make(core, fact);
    facts.set(fact, value);
    return value;
  };
};

/** Every open fact that can still change a decision, with what it decides where. */
const decidingFacts = (engine: Engine, protections: readonly DecidedProtection[]): ReadonlyMap<string, Carried> => {
  const carried = new Map<string, { fact: FactSpec; set: number | null; decides: Decides[]; conditions: Condition[] }>();
  const onlyIf = rememberedByCore((core, place) => {
    const influence = core.influences[place];
    return influence === undefined ? true : onlyIfOf(core, influence);
  });
  for (const decided of protections) {
    for (const [place, influence] of decided.influences.entries()) {
      const template = decided.prepared.compiled.frame.variables[influence.fact]?.at ?? "";
      const fact = engine.specs.get(template);
      if (fact === undefined) continue;
      const at = resolve(template, decided.set, decided.sisters);
      const entry = carried.get(at) ?? { fact, set: setOf(template, decided.set), decides: [], conditions: [] };
      carried.set(at, entry);
      entry.decides.push({ protection: decided.at, rank: influence.rank });
      entry.conditions.push(pointed(onlyIf(decided.core, place), decided));
    }
  }
  return carried;
};

/** Needed under any of these conditions; always, where one of them always holds. */
const eitherOf = (conditions: readonly Condition[]): Condition => {
  if (conditions.includes(true)) return true;
  const distinct = [...new Map(conditions.map((condition) => [JSON.stringify(condition), condition])).values()];
  const [only] = distinct;
  if (only === undefined) return true;
  return distinct.length === 1 ? only : { any: distinct };
};

/** By code unit, so that no locale can change the order. */
const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

type Instead = (core: Decided, fact: number) => Remaining | null;

const priced = (protections: readonly DecidedProtection[], instead: Instead, { at: template }: Need, at: string): readonly Price[] =>
  protections.flatMap((decided) => {
    const fact = template === undefined ? undefined : decided.prepared.compiled.frame.indexOf.get(template);
    if (fact === undefined || template === undefined || resolve(template, decided.set, decided.sisters) !== at) return [];
    const to = instead(decided.core, fact);
    return to === null ? [] : [{ protection: decided.at, to }];
  });

const wantedOf = (engine: Engine, protections: readonly DecidedProtection[], carried: ReadonlyMap<string, Carried>): readonly Wanted[] => {
  interface Draft {
    readonly need: Need;
    readonly at: string | null;
    readonly sisters: string | null;
    readonly neededBy: string[];
    readonly laterFor: string[];
  }
  const drafts = new Map<string, Draft>();
  const draftFor = (need: Need, decided: DecidedProtection): Draft => {
    const at = need.at === undefined ? null : resolve(need.at, decided.set, decided.sisters);
    const key = `${need.id}|${at ?? ""}`;
    const draft = drafts.get(key) ?? {
      need,
      at,
      sisters: need.at?.includes("/sisters/") ? decided.sisters : null,
      neededBy: [],
      laterFor: [],
    };
    drafts.set(key, draft);
    return draft;
  };
  for (const decided of protections) {
    for (const id of [...(decided.remaining[0]?.needs ?? []), ...(decided.applies === NO ? [] : engine.rulebook.always)]) {
      const need = engine.needs.byId.get(id);
      if (need !== undefined) draftFor(need, decided).neededBy.push(decided.at);
    }
    for (const { fact } of decided.influences) {
      const need = engine.needs.byFact.get(decided.prepared.compiled.frame.variables[fact]?.at ?? "");
      if (need === undefined) continue;
      const draft = draftFor(need, decided);
      if (!draft.neededBy.includes(decided.at)) draft.laterFor.push(decided.at);
    }
  }
  const instead = rememberedByCore((core, fact) => {
    const need = engine.needs.byFact.get(core.prepared.compiled.frame.variables[fact]?.at ?? "");
    return need?.refusedIs === undefined ? null : decidedInstead(engine, core, fact, need.refusedIs);
  });
  const { order } = engine.needs;
  return [...drafts.values()]
    .map((draft) => ({
      ...draft,
      onlyIf: draft.neededBy.length > 0 || draft.at === null ? true : eitherOf(carried.get(draft.at)?.conditions ?? []),
      prices: draft.at === null ? [] : priced(protections, instead, draft.need, draft.at),
    }))
    .sort((a, b) => (order.get(a.need.id) ?? 0) - (order.get(b.need.id) ?? 0) || compareText(a.at ?? "", b.at ?? ""));
};

/** The whole core: facts in, decisions, questions and requests with their prices out. Pure and deterministic. */
export const decideVisit = (engine: Engine, facts: Facts): DecidedVisit => {
  const protections = decideEach(engine, facts);
  const carried = decidingFacts(engine, protections);
  const questions = [...carried].flatMap(([at, { fact, set, decides, conditions }]) =>
    fact.carriedBy === "question" ? [{ at, fact, set, decides, onlyIf: eitherOf(conditions) }] : [],
  );
  return { protections, questions, wanted: wantedOf(engine, protections, carried) };
};
