import { expect, test } from "vitest";
import { newEngine } from "../../lib/decide/engine.ts";
import type { Facts as VisitFacts } from "../../lib/decide/knowledge.ts";
import { chosenFor } from "../../lib/decide/protection.ts";
import { decideVisit } from "../../lib/decide/visit.ts";
import type { Condition } from "../../lib/logic/condition.ts";
import { learn, nothingKnown } from "../../lib/logic/frame.ts";
import { resolve } from "../../lib/model/fact.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { Protection } from "../../lib/rulebook/types.ts";
import { newRandom } from "../bench/random.ts";
import { type Candidate, candidatesOf, type Facts, factsOf, holds, looksAt, MAY_STAY_OPEN, maybe, specAt } from "./oracle.ts";

/**
 * Every completion of every protection under every rule basis. The product of the domains has billions of members, so it
 * is walked in blocks: where the oracle's three-valued logic says that one option is certainly the first that holds,
 * whatever the facts still open, the block is settled and the engine must know the same with the same facts open. Blocks
 * that are not settled are split on a fact. Numbers are split at the edges of the conditions, on them and one step beyond.
 */

interface Conjunct {
  readonly condition: Condition;
  readonly facts: readonly string[];
}

/** The conditions of all options, each once, so that a block knows the truth of each without asking again. */
const indexed = (candidates: readonly Candidate[]) => {
  const places = new Map<string, number>();
  const conjuncts: Conjunct[] = [];
  const options = candidates.map(({ conditions }) => [
    ...new Set(
      conditions
        .filter((condition) => condition !== true)
        .map((condition) => {
          const key = JSON.stringify(condition);
          const place = places.get(key) ?? conjuncts.length;
          if (place === conjuncts.length) conjuncts.push({ condition, facts: looksAt(condition) });
          places.set(key, place);
          return place;
        }),
    ),
  ]);
  return { conjuncts, options };
};

/**
 * Numbers on which every sum of the rulebook lies on its edge, one step under and one step over it: 900 rpm × 1.15 = 1035,
 * which 1010 + 25 + 0 reaches; an immersion of 80 is ten diameters of 8.
 */
const NUMBERS: Readonly<Record<string, readonly number[]>> = {
  "/sets/*/plate/ratedSpeed": [899.9, 900, 900.1],
  "/sets/*/overspeed/setPoint": [900, 900.5, 1010],
  "/sets/*/overspeed/tolerance": [24, 24.5, 25, 25.5],
  "/policy/tachometerError": [0, 10],
  "/sets/*/overspeed/makersMaximum": [1034.5, 1035, 1035.5, 1060],
  "/sets/*/jacketWaterTemperature/immersion": [79, 80, 81],
  "/sets/*/jacketWaterTemperature/diameter": [8],
  "/sets/*/turbineOverspeed/setPoint": [900, 900.5, 1010],
  "/sets/*/turbineOverspeed/tolerance": [24, 24.5, 25, 25.5],
  "/sets/*/turbineOverspeed/makersMaximum": [1034.5, 1035, 1035.5, 1060],
  "/sets/*/secondOverspeed/setPoint": [900, 900.5, 1010],
  "/sets/*/secondOverspeed/tolerance": [24, 24.5, 25, 25.5],
  "/sets/*/secondTurbineOverspeed/setPoint": [900, 900.5, 1010],
  "/sets/*/secondTurbineOverspeed/tolerance": [24, 24.5, 25, 25.5],
  "/sets/*/reversePower/pickUp": [7.9, 8, 8.1],
  "/sets/*/reversePower/motoringPower": [7.9, 8, 8.1],
};

const valuesOf = (at: string): readonly (string | number)[] => {
  const { domain } = specAt(at);
  return domain.kind === "choice" ? domain.values : (NUMBERS[at] ?? []);
};

/** Answers that no condition tells apart: walked once, by one of them drawn at random, and counted as often as they are. */
const alikeIn = (at: string, conjuncts: readonly Conjunct[]): readonly (readonly (string | number)[])[] => {
  const leaves = conjuncts.flatMap(({ condition }) => leavesIn(condition)).filter((leaf) => "is" in leaf && leaf.at === at);
  const classes = new Map<string, (string | number)[]>();
  for (const value of valuesOf(at)) {
    const seen = specAt(at).domain.kind === "number" ? String(value) : leaves.map((leaf) => holds(leaf, { [at]: value })).join();
    classes.set(seen, [...(classes.get(seen) ?? []), value]);
  }
  return [...classes.values()];
};

type Leaf = Exclude<Condition, true | { readonly all: unknown } | { readonly any: unknown }>;
const leavesIn = (condition: Condition): readonly Leaf[] => {
  if (condition === true) return [];
  if ("all" in condition) return condition.all.flatMap(leavesIn);
  if ("any" in condition) return condition.any.flatMap(leavesIn);
  return [condition];
};

interface Walked {
  readonly blocks: number;
  readonly completions: bigint;
  /** Blocks of which the whole visit was decided as well. */
  readonly visits: number;
}

const NO = 0;
const YES = 1;
const OPEN = 2;
const codeOf = { no: NO, yes: YES, "?": OPEN } as const;

/** Which truths are known of each condition while facts are learnt and forgotten; only those that a fact touches are asked again. */
const newBlock = (facts: readonly string[], conjuncts: readonly Conjunct[]) => {
  const known: Record<string, string | number> = {};
  const truths = Uint8Array.from(conjuncts, ({ condition }) => codeOf[maybe(condition, known)]);
  const touched = new Map(facts.map((at) => [at, conjuncts.flatMap((conjunct, place) => (conjunct.facts.includes(at) ? [place] : []))]));
  const ask = (at: string): void => {
    for (const place of touched.get(at) ?? []) truths[place] = codeOf[maybe(conjuncts[place]?.condition ?? true, known)];
  };
  return {
    known,
    truths,
    learn: (at: string, value: string | number): void => {
      known[at] = value;
      ask(at);
    },
    forget: (at: string): void => {
      delete known[at];
      ask(at);
    },
  };
};

const visitOf = (known: Facts): VisitFacts => ({
  sets: [{ sisters: "A" }],
  answers: new Map(Object.entries(known).map(([at, value]) => [resolve(at, 0, "A"), value])),
  insisted: new Map(),
  inTime: () => true,
});

const sayOf = (outcome: string, methods: readonly string[], open: readonly string[]): string =>
  `${outcome}: ${methods.join(" + ")}; open: ${open.join()}`;

/** One block in so many is also decided as a whole visit, with everything that a plan is made of. */
const ONE_IN = 800;

const walk = (protection: Protection, ruleBasis: string): Walked => {
  const candidates = candidatesOf(protection);
  const { conjuncts, options } = indexed(candidates);
  const says = candidates.map(({ methods, open }) => sayOf("combination", methods, open));
  const facts = factsOf(protection, candidates).map(({ at }) => at);
  const applying: Conjunct = { condition: protection.applies, facts: looksAt(protection.applies) };
  const alike = new Map(facts.map((at) => [at, alikeIn(at, [...conjuncts, applying])]));
  const engine = newEngine({ ...rulebook, protections: [protection] }, MAY_STAY_OPEN);
  const frame = engine.compiled(protection.kind)?.frame;
  if (frame === undefined) throw new Error("the engine does not know this protection");
  expect(frame.variables.map(({ at }) => at).sort(), "both deciders look at the same facts").toEqual([...facts].sort());
  const block = newBlock(facts, conjuncts);
  const { known, truths } = block;
  const knowledge = nothingKnown(frame);
  const random = newRandom(protection.kind.length);
  const reached = new Map<number, string>();
  const weights = new Map<string, number>();
  let [blocks, visits, completions] = [0, 0, 0];

  const take = (at: string, value: string | number): void => {
    block.learn(at, value);
    learn(frame, knowledge, at, value);
  };
  const drop = (at: string): void => {
    block.forget(at);
    const index = frame.indexOf.get(at) ?? -1;
    knowledge.masks[index] = frame.unknown.masks[index] ?? 0;
    knowledge.low[index] = frame.unknown.low[index] ?? 0;
    knowledge.high[index] = frame.unknown.high[index] ?? 0;
  };
  const differs = (got: string, wanted: string): void => expect({ facts: { ...known }, got }).toEqual({ facts: { ...known }, got: wanted });

  const decideWhole = (wanted: string): void => {
    visits += 1;
    const { protections, questions, wanted: requests } = decideVisit(engine, visitOf(known));
    const remaining = protections.flatMap((decided) => decided.remaining);
    const got = remaining.map(({ outcome, methods, unproven }) => sayOf(outcome, methods, unproven)).join(" | ");
    if (got !== wanted) differs(got, wanted);
    const asked = [...questions, ...requests].flatMap(({ at }) => at ?? []).filter((at) => !visitOf(known).answers.has(at));
    expect(asked, `nothing is left to ask: ${JSON.stringify(known)}`).toEqual([]);
  };
  const settle = (place: number, wanted: string): void => {
    blocks += 1;
    reached.set(place, wanted);
    completions += facts.reduce((product, at) => product * (known[at] === undefined ? valuesOf(at).length : (weights.get(at) ?? 1)), 1);
    const { outcome, methods, unproven } = chosenFor(engine, protection.kind, knowledge, undefined);
    const got = sayOf(outcome, methods, unproven);
    if (got !== wanted) differs(got, wanted);
    if (random() * ONE_IN < 1) decideWhole(wanted);
  };
  const splitOn = (at: string, from: number): void => {
    for (const values of alike.get(at) ?? []) {
      weights.set(at, values.length);
      take(at, values[Math.floor(random() * values.length)] ?? "");
      descend(from);
    }
    weights.delete(at);
    drop(at);
  };
  /** Options before `from` are certainly false already. */
  const descend = (from: number): void => {
    for (let place = from; place < options.length; place += 1) {
      const conditions = options[place] ?? [];
      if (conditions.some((condition) => truths[condition] === NO)) continue;
      const open = conditions.find((condition) => truths[condition] === OPEN);
      if (open === undefined) {
        settle(place, says[place] ?? "");
        return;
      }
      const next = conjuncts[open]?.facts.find((at) => known[at] === undefined);
      if (next === undefined) throw new Error(`undecided with every fact known: ${JSON.stringify(conjuncts[open])}`);
      splitOn(next, place);
      return;
    }
    const applies = maybe(protection.applies, known);
    if (applies === "?") splitOn(looksAt(protection.applies).find((at) => known[at] === undefined) ?? "", options.length);
    else if (applies === "yes") settle(options.length + 1, sayOf("nothing left", [], ["sensing", "wiring", "logic", "final"]));
    else settle(options.length, sayOf("does not apply", [], []));
  };
  // Where no technique of a protection is barred anywhere, the rule basis decides nothing of it.
  if (facts.includes("/ruleBasis")) take("/ruleBasis", ruleBasis);
  descend(0);

  // With the rule basis alone known, what remains is just what the walk has reached, in order, equal neighbours once.
  const inOrder = [...reached].sort(([a], [b]) => a - b).map(([, said]) => said);
  const [whole] = decideVisit(engine, visitOf({ "/ruleBasis": ruleBasis })).protections;
  expect(whole?.remaining.map(({ outcome, methods, unproven }) => sayOf(outcome, methods, unproven))).toEqual(
    inOrder.filter((said, place) => said !== inOrder[place - 1]),
  );
  expect(completions).toBeLessThan(Number.MAX_SAFE_INTEGER);
  const all = facts.reduce((product, at) => (at === "/ruleBasis" ? product : product * BigInt(valuesOf(at).length)), 1n);
  expect(BigInt(completions)).toBe(all);
  return { blocks, completions: all, visits };
};

const cases = rulebook.protections.flatMap((protection) => rulebook.ruleBases.map(({ id }) => [protection.kind, id, protection] as const));

test.each(cases)("%s under %s: the engine decides every completion as the oracle does", (kind, ruleBasis, protection) => {
  const { blocks, completions, visits } = walk(protection, ruleBasis);
  process.stdout.write(`walked ${kind} under ${ruleBasis}: ${completions} completions in ${blocks} blocks, ${visits} of them as visits\n`);
  expect(blocks).toBeGreaterThan(2);
});

test("the oracle's options hold nothing twice and every number grid meets both sides of its conditions", () => {
  for (const protection of rulebook.protections) {
    const conditions = candidatesOf(protection).flatMap((candidate) => candidate.conditions);
    for (const condition of new Map(conditions.map((c) => [JSON.stringify(c), c])).values()) {
      const sums = sumsIn(condition);
      for (const sum of sums) {
        const truths = new Set(product(looksAt(sum)).map((facts) => holds(sum, facts)));
        expect([...truths].length, JSON.stringify(sum)).toBe(2);
      }
    }
  }
});

const sumsIn = (condition: Condition): readonly Condition[] => {
  if (condition === true) return [];
  if ("all" in condition) return condition.all.flatMap(sumsIn);
  if ("any" in condition) return condition.any.flatMap(sumsIn);
  return "sum" in condition ? [condition] : [];
};

const product = (facts: readonly string[]): readonly Facts[] =>
  facts.reduce<readonly Facts[]>((before, at) => before.flatMap((known) => valuesOf(at).map((value) => ({ ...known, [at]: value }))), [{}]);
