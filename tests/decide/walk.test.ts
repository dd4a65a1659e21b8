import { expect, test } from "vitest";
import { newEngine } from "../../lib/decide/engine.ts";
import { chosenFor } from "../../lib/decide/protection.ts";
import type { Condition } from "../../lib/logic/condition.ts";
import { learn, nothingKnown } from "../../lib/logic/frame.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { Protection } from "../../lib/rulebook/types.ts";
import { type Candidate, candidatesOf, type Facts, factsOf, holds, looksAt, MAY_STAY_OPEN, maybe, type Outcome, specAt } from "./oracle.ts";

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

/** The overspeed numbers: a grid on which every sum of the rulebook lies under, on and over its edge. */
const NUMBERS: Readonly<Record<string, readonly number[]>> = {
  "/sets/*/plate/ratedSpeed": [900],
  "/sets/*/overspeed/setPoint": [900, 900.5, 990, 1000, 1010],
  "/sets/*/overspeed/tolerance": [0, 25, 35, 40.5],
  "/policy/tachometerError": [0, 10],
  "/sets/*/overspeed/makersMaximum": [990, 1024.5, 1025, 1025.5, 1060],
  "/sets/*/jacketWaterTemperature/immersion": [79, 80, 81],
  "/sets/*/jacketWaterTemperature/diameter": [8],
};

const valuesOf = (at: string): readonly (string | number)[] => {
  const { domain } = specAt(at);
  return domain.kind === "choice" ? domain.values : (NUMBERS[at] ?? []);
};

interface Walked {
  readonly blocks: number;
  readonly completions: bigint;
}

const walk = (protection: Protection, ruleBasis: string): Walked => {
  const candidates = candidatesOf(protection);
  const { conjuncts, options } = indexed(candidates);
  const facts = factsOf(protection, candidates).map(({ at }) => at);
  const engine = newEngine(rulebook, MAY_STAY_OPEN);
  const frame = engine.compiled(protection.kind)?.frame;
  if (frame === undefined) throw new Error("the engine does not know this protection");
  const known: Record<string, string | number> = { "/ruleBasis": ruleBasis };
  // The one-valued numbers are known from the start; the rest of the grid is walked.
  for (const at of facts) if (valuesOf(at).length === 1) known[at] = valuesOf(at)[0] ?? "";
  let blocks = 0;
  let completions = 0n;

  const truthOf = (place: number): "yes" | "no" | "?" => maybe(conjuncts[place]?.condition ?? true, known);
  const settle = (outcome: Outcome): void => {
    blocks += 1;
    completions += facts.reduce((product, at) => (known[at] === undefined ? product * BigInt(valuesOf(at).length) : product), 1n);
    const knowledge = nothingKnown(frame);
    for (const [at, value] of Object.entries(known)) learn(frame, knowledge, at, value);
    const chosen = chosenFor(engine, protection.kind, knowledge, undefined);
    const got: Outcome = { what: chosen.outcome, methods: chosen.methods, open: chosen.unproven };
    if (JSON.stringify(got) !== JSON.stringify(outcome))
      expect({ facts: { ...known }, ...got }).toEqual({ facts: { ...known }, ...outcome });
  };
  const splitOn = (at: string, from: number): void => {
    for (const value of valuesOf(at)) {
      known[at] = value;
      descend(from);
    }
    delete known[at];
  };
  /** Options before `from` are certainly false already. */
  const descend = (from: number): void => {
    const truths: ("yes" | "no" | "?" | undefined)[] = [];
    const truth = (place: number): "yes" | "no" | "?" => {
      truths[place] ??= truthOf(place);
      return truths[place];
    };
    for (let place = from; place < options.length; place += 1) {
      const conditions = options[place] ?? [];
      if (conditions.some((condition) => truth(condition) === "no")) continue;
      const open = conditions.find((condition) => truth(condition) === "?");
      const candidate = candidates[place];
      if (open === undefined) {
        if (candidate !== undefined) settle({ what: "combination", methods: candidate.methods, open: candidate.open });
        return;
      }
      const next = conjuncts[open]?.facts.find((at) => known[at] === undefined);
      if (next !== undefined) splitOn(next, place);
      return;
    }
    const applies = maybe(protection.applies, known);
    if (applies !== "?")
      settle(
        applies === "yes"
          ? { what: "nothing left", methods: [], open: ["sensing", "wiring", "logic", "final"] }
          : { what: "does not apply", methods: [], open: [] },
      );
    else splitOn(looksAt(protection.applies).find((at) => known[at] === undefined) ?? "", options.length);
  };
  descend(0);
  const all = facts.reduce((product, at) => (at === "/ruleBasis" ? product : product * BigInt(valuesOf(at).length)), 1n);
  expect(completions).toBe(all);
  return { blocks, completions };
};

const cases = rulebook.protections.flatMap((protection) => rulebook.ruleBases.map(({ id }) => [protection.kind, id, protection] as const));

test.each(cases)("%s under %s: the engine decides every completion as the oracle does", (kind, ruleBasis, protection) => {
  const { blocks, completions } = walk(protection, ruleBasis);
  process.stdout.write(`walked ${kind} under ${ruleBasis}: ${completions} completions in ${blocks} blocks\n`);
  expect(blocks).toBeGreaterThan(10);
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
