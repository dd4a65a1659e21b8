import { describe, expect, test } from "vitest";
import { newEngine } from "../../lib/decide/engine.ts";
import type { Facts as VisitFacts } from "../../lib/decide/knowledge.ts";
import { type DecidedProtection, type DecidedVisit, decideVisit } from "../../lib/decide/visit.ts";
import { resolve } from "../../lib/model/fact.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { Protection } from "../../lib/rulebook/types.ts";
import { newRandom } from "../bench/random.ts";
import { type Candidate, candidatesOf, type Facts, factsOf, holds, MAY_STAY_OPEN, maybe, specAt } from "./oracle.ts";

/** Partial visits by a fixed seed; what the core says of each is checked over all its completions. */
const VISITS = 2000;
const MOST_COMPLETIONS = 1500;

const NUMBERS: Readonly<Record<string, readonly number[]>> = {
  "/sets/*/plate/ratedSpeed": [900, 1000],
  "/sets/*/overspeed/setPoint": [900, 990, 1000],
  "/sets/*/overspeed/tolerance": [0, 25, 45],
  "/policy/tachometerError": [5],
  "/sets/*/overspeed/makersMaximum": [995, 1020, 1030],
  "/sets/*/jacketWaterTemperature/immersion": [79, 80, 81],
  "/sets/*/jacketWaterTemperature/diameter": [8, 8.5],
  "/sets/*/turbineOverspeed/setPoint": [900, 990, 1000],
  "/sets/*/turbineOverspeed/tolerance": [0, 25, 45],
  "/sets/*/turbineOverspeed/makersMaximum": [995, 1020, 1030],
  "/sets/*/secondOverspeed/setPoint": [900, 990, 1000],
  "/sets/*/secondOverspeed/tolerance": [0, 25, 45],
  "/sets/*/secondTurbineOverspeed/setPoint": [900, 990, 1000],
  "/sets/*/secondTurbineOverspeed/tolerance": [0, 25, 45],
  "/sets/*/reversePower/pickUp": [7.9, 8, 8.1],
  "/sets/*/reversePower/motoringPower": [7.9, 8, 8.1],
};

const valuesOf = (at: string): readonly (string | number)[] => {
  const { domain } = specAt(at);
  return domain.kind === "choice" ? domain.values : (NUMBERS[at] ?? []);
};

const pick = <T>(items: readonly T[], random: () => number): T | undefined => items[Math.floor(random() * items.length)];

interface Case {
  readonly protection: Protection;
  readonly known: Facts;
  readonly open: readonly string[];
  readonly completions: readonly Facts[];
}

const completionsOf = (known: Facts, open: readonly string[]): readonly Facts[] =>
  open.reduce<readonly Facts[]>(
    (before, at) => before.flatMap((facts) => valuesOf(at).map((value) => ({ ...facts, [at]: value }))),
    [known],
  );

/** Answers drawn evenly, but in half of the visits rather those that some option asks for, so that good ways are met too. */
const drawn = (facts: readonly string[], wished: ReadonlyMap<string, readonly (string | number)[]>, random: () => number): Facts => {
  const kindly = random() < 0.5;
  return Object.fromEntries(
    facts.map((at) => [at, pick(kindly && random() < 0.85 ? (wished.get(at) ?? valuesOf(at)) : valuesOf(at), random) ?? ""]),
  );
};

const wishedBy = (candidates: readonly Candidate[]): ReadonlyMap<string, readonly string[]> => {
  const wished = new Map<string, string[]>();
  for (const condition of candidates.slice(0, 400).flatMap(({ conditions }) => conditions)) {
    if (typeof condition === "object" && "is" in condition)
      wished.set(condition.at, [...new Set([...(wished.get(condition.at) ?? []), ...condition.is])]);
  }
  return wished;
};

const casesOf = (protection: Protection, candidates: readonly Candidate[], count: number): readonly Case[] => {
  const random = newRandom(protection.kind.length * 7919);
  const facts = factsOf(protection, candidates).map(({ at }) => at);
  const wished = wishedBy(candidates);
  return Array.from({ length: count }, () => {
    const whole = drawn(facts, wished, random);
    const open: string[] = [];
    let product = 1;
    for (let tries = 1 + Math.floor(random() * 7); tries > 0; tries -= 1) {
      const at = pick(facts, random) ?? "";
      const size = valuesOf(at).length;
      if (open.includes(at) || at === "/policy/tachometerError" || product * size > MOST_COMPLETIONS) continue;
      product *= size;
      open.push(at);
    }
    const known = Object.fromEntries(Object.entries(whole).filter(([at]) => !open.includes(at)));
    return { protection, known, open, completions: completionsOf(known, open) };
  });
};

const visitOf = (facts: Facts, insisted: VisitFacts["insisted"] = new Map()): VisitFacts => ({
  sets: [{ sisters: "A" }],
  answers: new Map(Object.entries(facts).map(([at, value]) => [resolve(at, 0, "A"), value])),
  insisted,
  inTime: () => true,
});

const protectionIn = (decided: DecidedVisit, kind: string): DecidedProtection => {
  const found = decided.protections.find((protection) => protection.kind === kind);
  if (found === undefined) throw new Error(`no ${kind} in the decided visit`);
  return found;
};

const at0 = (at: string): string => resolve(at, 0, "A");
const labelOf = (methods: readonly string[], what: string): string => `${what}:${methods.join("+")}`;
const firstLabel = (decided: DecidedProtection): string =>
  labelOf(decided.remaining[0]?.methods ?? [], decided.remaining[0]?.outcome ?? "");

/** What the oracle finds over all completions: the place and label of each decision. */
const foundBy = (candidates: readonly Candidate[], { protection, known, completions }: Case) => {
  const left = candidates.flatMap((candidate, place) =>
    candidate.conditions.some((condition) => maybe(condition, known) === "no") ? [] : [{ candidate, place }],
  );
  return completions.map((facts) => {
    const first = left.find(({ candidate }) => candidate.conditions.every((condition) => holds(condition, facts)));
    if (first !== undefined) return { place: first.place, label: labelOf(first.candidate.methods, "combination") };
    return holds(protection.applies, facts)
      ? { place: candidates.length + 1, label: labelOf([], "nothing left") }
      : { place: candidates.length, label: labelOf([], "does not apply") };
  });
};

/** Ranks as the design defines them: reachable options in order, neighbours of equal methods counted once. */
const ranksOf = (found: readonly { readonly place: number; readonly label: string }[]) => {
  const reached = [...new Map(found.map(({ place, label }) => [place, label])).entries()].sort(([a], [b]) => a - b);
  const ranks = new Map<number, number>();
  const labels: string[] = [];
  for (const [place, label] of reached) {
    if (labels.at(-1) !== label) labels.push(label);
    ranks.set(place, labels.length - 1);
  }
  return { ranks, labels };
};

/** Completions that differ in one fact only, put together. They stand in the order of counting, the last open fact first. */
const groupsBy = (at: string, { open, completions }: Case): readonly (readonly number[])[] => {
  const stride = open.slice(open.indexOf(at) + 1).reduce((product, later) => product * valuesOf(later).length, 1);
  const count = valuesOf(at).length;
  return completions.flatMap((_, place) =>
    Math.floor(place / stride) % count === 0 ? [Array.from({ length: count }, (__, i) => place + i * stride)] : [],
  );
};

const carriedIn = (decided: DecidedVisit, kind: string): ReadonlySet<string> => {
  const channel = `/sets/0/${kind}`;
  const asked = decided.questions.filter(({ decides }) => decides.some(({ protection }) => protection === channel)).map(({ at }) => at);
  const frame = protectionIn(decided, kind);
  const wanted = frame.influences
    .map(({ fact }) => at0(frame.prepared.compiled.frame.variables[fact]?.at ?? ""))
    .filter((at) => decided.wanted.some((request) => request.at === at));
  return new Set([...asked, ...wanted]);
};

const subsequence = (short: readonly string[], long: readonly string[]): boolean => {
  let place = 0;
  for (const item of long) if (item === short[place]) place += 1;
  return place === short.length;
};

describe.each(rulebook.protections.map((protection) => [protection.kind, protection] as const))("%s", (kind, protection) => {
  // Protections decide apart: this one alone, so that the others' unknown facts cost nothing.
  const engine = newEngine({ ...rulebook, protections: [protection] }, MAY_STAY_OPEN);
  const candidates = candidatesOf(protection);
  const cases = casesOf(protection, candidates, VISITS);
  const random = newRandom(kind.length);

  test(`${VISITS} partial visits: options, deciding facts, ranks and conditions are exactly those of all completions`, () => {
    let completions = 0;
    for (const one of cases) {
      const decided = decideVisit(engine, visitOf(one.known));
      const mine = protectionIn(decided, kind);
      const found = foundBy(candidates, one);
      const { ranks, labels } = ranksOf(found);
      completions += found.length;
      const told = mine.remaining.map(({ methods, outcome }) => labelOf(methods, outcome));
      const context = JSON.stringify({ known: one.known, open: one.open });
      // Completions of numbers are taken on a coarse grid, so that options between its points may be left over there.
      const numeric = one.open.some((at) => NUMBERS[at] !== undefined);
      if (numeric) expect(subsequence(labels, told), context).toBe(true);
      else expect(told, context).toEqual(labels);
      if (numeric) continue;
      const carried = carriedIn(decided, kind);
      for (const at of one.open) {
        const groups = groupsBy(at, one);
        const matters = groups.filter((places) => new Set(places.map((place) => found[place]?.label)).size > 1);
        expect(carried.has(at0(at)), `${at} ${context}`).toBe(matters.length > 0);
        if (matters.length === 0) continue;
        const rank = Math.min(...matters.flatMap((places) => places.map((place) => ranks.get(found[place]?.place ?? -1) ?? 99)));
        const question = decided.questions.find((asked) => asked.at === at0(at));
        if (question !== undefined)
          expect(question.decides.find(({ protection: channel }) => channel === `/sets/0/${kind}`)?.rank, `${at} ${context}`).toBe(rank);
        const influence = mine.influences.find(({ fact }) => mine.prepared.compiled.frame.variables[fact]?.at === at);
        expect(influence?.rank, `${at} ${context}`).toBe(rank);
        const onlyIf = question?.onlyIf ?? true;
        const pointers = (facts: Facts): Facts => Object.fromEntries(Object.entries(facts).map(([key, value]) => [at0(key), value]));
        if (question?.decides.length === 1) {
          for (const places of matters)
            expect(
              holds(onlyIf, pointers(one.completions[places[0] ?? 0] ?? {})),
              `${at} only if ${JSON.stringify(onlyIf)} ${context}`,
            ).toBe(true);
        }
      }
    }
    process.stdout.write(`partial visits of ${kind}: ${cases.length}, completions checked: ${completions}\n`);
    expect(completions).toBeGreaterThan(VISITS);
  });

  test("one more answer never adds or reorders an option or opens a question", () => {
    for (const one of cases) {
      const at = pick(one.open, random);
      if (at === undefined) continue;
      const before = decideVisit(engine, visitOf(one.known));
      const answered = { ...one.known, [at]: pick(valuesOf(at), random) ?? "" };
      const after = decideVisit(engine, visitOf(answered));
      const labels = (decided: DecidedVisit) =>
        protectionIn(decided, kind).remaining.map(({ methods, outcome }) => labelOf(methods, outcome));
      expect(subsequence(labels(after), labels(before)), JSON.stringify({ known: one.known, at, value: answered[at] })).toBe(true);
      const [was, is] = [carriedIn(before, kind), carriedIn(after, kind)];
      for (const fact of is) expect(was.has(fact), `${fact} ${JSON.stringify({ known: one.known, at })}`).toBe(true);
    }
  });

  test("facts outside the trace change nothing, and plans that agree on the named facts name the same facts", () => {
    for (const one of cases) {
      const mine = protectionIn(decideVisit(engine, visitOf(one.known)), kind);
      const named = new Set(mine.because.map((index) => mine.prepared.compiled.frame.variables[index]?.at ?? ""));
      const changed: Record<string, string | number> = { ...one.known };
      for (const { at } of mine.prepared.compiled.frame.variables) {
        if (named.has(at) || at === "/policy/tachometerError" || random() < 0.5) continue;
        if (random() < 0.3) delete changed[at];
        else changed[at] = pick(valuesOf(at), random) ?? "";
      }
      const other = protectionIn(decideVisit(engine, visitOf(changed)), kind);
      expect(firstLabel(other), JSON.stringify({ known: one.known, changed })).toBe(firstLabel(mine));
      expect(other.because, JSON.stringify({ known: one.known, changed })).toEqual(mine.because);
    }
  });

  test("prices foretell what deciding again gives, and what is not listed does not change", () => {
    for (const one of cases) {
      const decided = decideVisit(engine, visitOf(one.known));
      for (const { need, at, prices } of decided.wanted) {
        if (at === null || need.refusedIs === undefined) continue;
        const facts = visitOf(one.known);
        const again = decideVisit(engine, { ...facts, answers: new Map([...facts.answers, [at, need.refusedIs]]) });
        for (const before of decided.protections) {
          const after = again.protections.find((protectionAfter) => protectionAfter.at === before.at);
          if (after === undefined) continue;
          const price = prices.find(({ protection: channel }) => channel === before.at);
          const foretold = price === undefined ? firstLabel(before) : labelOf(price.to.methods, price.to.outcome);
          expect(firstLabel(after), JSON.stringify({ known: one.known, refused: at })).toBe(foretold);
          if (price !== undefined) expect(after.remaining[0]?.unproven).toEqual(price.to.unproven);
        }
      }
    }
  });

  test("a deviation to a vetoed, barred or still depending method is refused and changes nothing; a fit one is in every option; vetoes hold", () => {
    let taken = 0;
    for (const one of cases) {
      const without = protectionIn(decideVisit(engine, visitOf(one.known)), kind);
      // Every other time a fit method is insisted on, where there is one, so that both sides are met often.
      const fit = without.verdicts.flatMap((verdict, position) => (verdict.verdict === "fit" ? [position] : []));
      const place = (random() < 0.5 ? pick(fit, random) : undefined) ?? Math.floor(random() * protection.methods.length);
      const method = protection.methods[place];
      if (method === undefined) continue;
      const withIt = protectionIn(decideVisit(engine, visitOf(one.known, new Map([[`/sets/0/${kind}`, method.id]]))), kind);
      const verdict = without.verdicts[place]?.verdict;
      if (withIt.insistence?.refused === true) {
        expect(withIt.remaining).toEqual(without.remaining);
        expect(withIt.because).toEqual(without.because);
      } else {
        taken += 1;
        expect(verdict, `${method.id} ${JSON.stringify(one.known)}`).toBe("fit");
        for (const remaining of withIt.remaining) {
          if (remaining.outcome === "combination") expect(remaining.methods).toContain(method.id);
          expect(remaining.methods.some((id) => protection.methods.find((other) => other.id === id)?.hazard === 3)).toBe(false);
        }
      }
      if (method.hazard === 3 || verdict !== "fit") expect(withIt.insistence?.refused).toBe(true);
    }
    expect(taken).toBeGreaterThan(VISITS / 25);
  });
});

test("names decide nothing: sets in another order, under other letters, are decided alike", () => {
  const random = newRandom(5);
  const engine = newEngine(rulebook, MAY_STAY_OPEN);
  const facts = rulebook.facts;
  for (let round = 0; round < 60; round += 1) {
    const letters = ["A", "B", "A"];
    const answers = new Map<string, string | number>();
    for (const spec of facts)
      letters.forEach((letter, set) => {
        const at = resolve(spec.at, set, letter);
        if (!answers.has(at) && random() < 0.8) answers.set(at, pick(valuesOf(spec.at).length > 0 ? valuesOf(spec.at) : [1], random) ?? "");
      });
    const order = [2, 0, 1];
    const other: Readonly<Record<string, string>> = { A: "K", B: "C" };
    const moved = new Map<string, string | number>();
    for (const spec of facts)
      letters.forEach((letter, set) => {
        const value = answers.get(resolve(spec.at, set, letter));
        if (value !== undefined) moved.set(resolve(spec.at, order.indexOf(set), other[letter] ?? ""), value);
      });
    const visit = (sisters: readonly string[], known: ReadonlyMap<string, string | number>): VisitFacts => ({
      sets: sisters.map((letter) => ({ sisters: letter })),
      answers: known,
      insisted: new Map(),
      inTime: () => true,
    });
    const first = decideVisit(engine, visit(letters, answers));
    const second = decideVisit(
      engine,
      visit(
        order.map((set) => other[letters[set] ?? ""] ?? ""),
        moved,
      ),
    );
    for (const { set, kind, remaining, because } of first.protections) {
      const same = second.protections.find((protection) => protection.kind === kind && protection.set === order.indexOf(set));
      expect(same?.remaining).toEqual(remaining);
      expect(same?.because).toEqual(because);
    }
  }
});
