import { type Condition, is } from "../logic/condition.ts";
import { type Bound, bind } from "../logic/kleene.ts";
import type { Method, Need, Part, Proves, Rulebook, Way } from "../rulebook/types.ts";
import { type Combination, combinationsOf, provenBy, unprovenIn } from "./combine.ts";
import { APPROVED_PROCEDURE, barsOn, type CompiledProtection, isApprovedStep, ruleCondition, WRITTEN_ACCEPTANCE } from "./compile.ts";
import { compareRanks, type Rank, rankOf } from "./rank.ts";

/**
 * A combination together with how each need is met, so that its rank does not depend on facts. `conjuncts` are places
 * in the table's list of literals, in reading order; all must hold.
 */
export interface Option {
  readonly combination: Combination;
  readonly methods: readonly string[];
  readonly proves: Proves;
  readonly unproven: readonly Part[];
  readonly rank: Rank;
  /** Ids of what must be arranged for it. */
  readonly needs: readonly string[];
  readonly conjuncts: readonly number[];
}

/** All options of a protection, best first, and the conditions they are made of. */
export interface Table {
  readonly literals: readonly Bound[];
  readonly options: readonly Option[];
}

interface Met {
  readonly conjuncts: readonly number[];
  readonly ways: readonly Way[];
}

type PlacesOf = (condition: Condition) => readonly number[];

/** Gives each condition a place of its own; the condition that always holds gets none. */
const newLiterals = (compiled: CompiledProtection) => {
  const places = new Map<string, number>();
  const literals: Bound[] = [];
  const placesOf = (condition: Condition): readonly number[] => {
    if (condition === true) return [];
    const key = JSON.stringify(condition);
    const found = places.get(key);
    if (found !== undefined) return [found];
    places.set(key, literals.length);
    literals.push(bind(compiled.frame, condition));
    return [literals.length - 1];
  };
  return { literals, placesOf };
};

/** Every choice of one way for each need, given what each need's ways stand for. */
const choices = (needs: readonly (readonly Met[])[]): readonly Met[] =>
  needs.reduce<readonly Met[]>(
    (met, ways) =>
      met.flatMap((before) =>
        ways.map((way) => ({ conjuncts: [...before.conjuncts, ...way.conjuncts], ways: [...before.ways, ...way.ways] })),
      ),
    [{ conjuncts: [], ways: [] }],
  );

const waysOf = (need: Need, placesOf: PlacesOf): readonly Met[] =>
  (need.ways ?? []).map((way) => ({ conjuncts: need.at === undefined ? [] : placesOf(is(need.at, ...way.values)), ways: [way] }));

/** What the rules still ask of a method that may be the approved step and may have the authority's written acceptance. */
const ruled = (
  rulebook: Rulebook,
  compiled: CompiledProtection,
  method: Method,
  approved: boolean,
  accepted: boolean,
): readonly Condition[] =>
  barsOn(rulebook, method).flatMap(({ ruleBasis, bar }) => {
    const opened = (approved && bar.openedBy.includes("approved step")) || (accepted && bar.openedBy.includes("written acceptance"));
    const danger = bar.openedBy.filter((opener) => opener === "danger");
    return opened ? [] : [ruleCondition(rulebook, compiled.protection, method, ruleBasis, danger)];
  });

const takesAcceptance = (rulebook: Rulebook, method: Method): boolean =>
  barsOn(rulebook, method).some(({ bar }) => bar.openedBy.includes("written acceptance"));

const unique = <Item>(items: readonly Item[]): readonly Item[] => [...new Set(items)];

export const commonTo = <Item>(a: readonly Item[], b: readonly Item[]): readonly Item[] => a.filter((item) => b.includes(item));

/** An option is idle where a better one holds whenever it does: its literals contain the better one's. */
const withoutIdle = (options: readonly Option[], literals: number): readonly Option[] => {
  const words = Math.ceil(literals / 31);
  const bitsOf = (option: Option): Int32Array => {
    const bits = new Int32Array(words);
    for (const place of option.conjuncts) bits[Math.floor(place / 31)] = (bits[Math.floor(place / 31)] ?? 0) | (1 << (place % 31));
    return bits;
  };
  const kept: { readonly option: Option; readonly bits: Int32Array }[] = [];
  for (const option of options) {
    const bits = bitsOf(option);
    if (!kept.some((better) => better.bits.every((word, i) => (word & ~(bits[i] ?? 0)) === 0))) kept.push({ option, bits });
  }
  return kept.map(({ option }) => option);
};

/** What an option needs to know of one method, worked out once. */
const partOf = (rulebook: Rulebook, compiled: CompiledProtection, method: Method, placesOf: PlacesOf) => {
  const rules = [false, true].map((approved) =>
    [false, true].map((accepted) => ruled(rulebook, compiled, method, approved, accepted).flatMap(placesOf)),
  );
  return {
    own: method.requirements.flatMap(({ when }) => placesOf(when)),
    step: placesOf(isApprovedStep(compiled.protection.kind, method.id)),
    accepts: takesAcceptance(rulebook, method),
    rules: (approved: boolean, accepted: boolean): readonly number[] => rules[approved ? 1 : 0]?.[accepted ? 1 : 0] ?? [],
  };
};

/**
 * The static table of a protection, whole or with one method insisted on. Needs nothing of the visit but which parts its
 * policy lets stay open.
 */
export const tableOf = (rulebook: Rulebook, compiled: CompiledProtection, mayStayOpen: readonly Part[], insisted?: string): Table => {
  const { literals, placesOf } = newLiterals(compiled);
  const positions = new Map(compiled.protection.methods.map((method, position) => [method.id, position]));
  const applies = placesOf(compiled.protection.applies);
  const parts = new Map(compiled.methods.map(({ method }) => [method.id, partOf(rulebook, compiled, method, placesOf)]));
  const waysById = new Map(rulebook.needs.filter((need) => need.at !== undefined).map((need) => [need.id, waysOf(need, placesOf)]));

  const optionsOf = (combination: Combination): readonly Option[] => {
    const { methods, approved } = combination;
    const proves = provenBy(methods);
    const unproven = unprovenIn(proves);
    if (!unproven.every((part) => mayStayOpen.includes(part))) return [];
    const ids = methods.map(({ id }) => id);
    const ofMethods = methods.flatMap(({ id }) => {
      const part = parts.get(id);
      return part === undefined ? [] : [{ ...part, approved: id === approved }];
    });
    const needs = unique(methods.flatMap((method) => method.needs));
    const make = (accepted: boolean): readonly Option[] => {
      const steps = ofMethods.flatMap((part) => (part.approved ? part.step : []));
      const rules = ofMethods.flatMap((part) => part.rules(part.approved, accepted));
      const fixed = [...applies, ...steps, ...ofMethods.flatMap(({ own }) => own), ...rules];
      const wanted = (accepted ? [...needs, WRITTEN_ACCEPTANCE] : needs).flatMap((id) => {
        const ways = waysById.get(id);
        return ways === undefined ? [] : [ways];
      });
      return choices(wanted).map(({ conjuncts, ways }) => ({
        combination,
        methods: ids,
        proves,
        unproven,
        rank: rankOf(combination, ways, positions),
        needs: [...needs, ...(accepted ? [WRITTEN_ACCEPTANCE] : []), ...(approved === null ? [] : [APPROVED_PROCEDURE])],
        conjuncts: unique([...fixed, ...conjuncts]),
      }));
    };
    return ofMethods.some(({ accepts }) => accepts) ? [...make(false), ...make(true)] : make(false);
  };

  const sorted = combinationsOf(compiled.protection.methods, insisted)
    .flatMap(optionsOf)
    .sort((a, b) => compareRanks(a.rank, b.rank));
  return { literals, options: withoutIdle(sorted, literals.length) };
};
