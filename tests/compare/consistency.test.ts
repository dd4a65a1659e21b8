import { describe, expect, test } from "vitest";
import { type Compared, decisionsOf, type Finding, findingsIn, HABIT, oneDifference } from "../../lib/compare/consistency.ts";
import { digestOf } from "../../lib/kernel/digest.ts";
import type { DecidingFact } from "../../lib/plan/signature.ts";
import { newRandom } from "../bench/random.ts";

/** A small office drawn at random: few facts with few answers, so that alike machinery and near twins are frequent. */
interface World {
  readonly decisions: readonly Compared[];
  readonly facts: ReadonlyMap<string, readonly DecidingFact[]>;
}

const world = (seed: number): World => {
  const random = newRandom(seed);
  const below = (n: number): number => Math.floor(random() * n);
  const facts = new Map<string, readonly DecidingFact[]>();
  const habit = below(3) === 0;
  const decisions = Array.from({ length: 3 + below(40) }, (_, plan): readonly Compared[] =>
    Array.from({ length: 1 + below(2) }, (__, set) => {
      const kind = `kind${below(2)}`;
      const own = Array.from({ length: 2 + below(3) }, (___, place) => ({ of: `fact${place}`, value: `v${below(2)}` }));
      const mark = digestOf([kind, own]);
      facts.set(mark, own);
      // The engine goes by the facts, and by the rulebook, of which there were two.
      const engine = `m${(own[0]?.value === "v0" ? 0 : 1) + (below(5) === 0 ? 1 : 0)}`;
      if (habit && kind === "kind0" && engine === "m0" && below(10) < 7)
        return { plan, at: `/sets/${set}/${kind}`, kind, mark, engine, chosen: "m2" };
      const chosen = below(5) === 0 ? `m${below(3)}` : engine;
      return { plan, at: `/sets/${set}/${kind}`, kind, mark, engine, chosen };
    }),
  ).flat();
  return { decisions, facts };
};

const WORLDS = Array.from({ length: 300 }, (_, seed) => world(seed + 1));
const keyOf = ({ plan, at }: Compared): string => `${plan}${at}`;

/** Every pair of decisions that a finding sets against each other. */
const pairsOf = (finding: Finding): readonly string[] => {
  const between = (some: readonly Compared[], others: readonly Compared[]): readonly string[] =>
    some.flatMap((one) => others.map((other) => [keyOf(one), keyOf(other)].sort().join(" ")));
  if (finding.sort === "alike") {
    return finding.ways.flatMap((way, place) => finding.ways.slice(place + 1).flatMap((other) => between(way.decisions, other.decisions)));
  }
  return finding.sort === "twins" ? finding.twins.flatMap((twin) => between(finding.way.decisions, twin.decisions)) : [];
};

const factsIn =
  ({ facts }: World) =>
  (mark: string): readonly DecidingFact[] =>
    facts.get(mark) ?? [];

describe("findings against every pair compared one by one", () => {
  test.each(WORLDS.map((one, seed) => [seed + 1, one] as const))("office %i", (_, own) => {
    const { decisions } = own;
    const factsOf = factsIn(own);
    const findings = findingsIn(decisions, factsOf);
    const alike = new Set(findings.filter(({ sort }) => sort === "alike").flatMap(pairsOf));
    const twins = new Set(findings.filter(({ sort }) => sort === "twins").flatMap(pairsOf));
    const wantedAlike = new Set<string>();
    const wantedTwins = new Set<string>();
    const contested = new Set(
      decisions.flatMap((one) =>
        decisions.some((other) => other.mark === one.mark && other.engine === one.engine && other.chosen !== one.chosen)
          ? [`${one.mark} ${one.engine}`]
          : [],
      ),
    );
    for (const [place, one] of decisions.entries())
      for (const other of decisions.slice(place + 1)) {
        if (one.kind !== other.kind || one.engine !== other.engine || one.chosen === other.chosen) continue;
        const pair = [keyOf(one), keyOf(other)].sort().join(" ");
        if (one.mark === other.mark) wantedAlike.add(pair);
        else if (
          oneDifference(factsOf(one.mark), factsOf(other.mark)) !== null &&
          [one, other].some(({ mark, engine, chosen }) => chosen !== engine && !contested.has(`${mark} ${engine}`))
        )
          wantedTwins.add(pair);
      }
    expect(alike).toEqual(wantedAlike);
    expect(twins).toEqual(wantedTwins);
  });
});

test("equal signatures and equal choices are never set against each other", () => {
  for (const own of WORLDS) {
    const byKey = new Map(own.decisions.map((one) => [keyOf(one), one] as const));
    for (const finding of findingsIn(own.decisions, factsIn(own)))
      for (const pair of pairsOf(finding)) {
        const [one, other] = pair.split(" ").map((key) => byKey.get(key));
        expect(one?.mark === other?.mark && one?.chosen === other?.chosen).toBe(false);
      }
  }
});

test("an office in which nobody chose against the engine has no finding, however different its facts", () => {
  for (const own of WORLDS) {
    const dutiful = own.decisions.map((one) => ({ ...one, chosen: one.engine }));
    expect(findingsIn(dutiful, factsIn(own))).toEqual([]);
  }
});

test("a finding names the facts that are equal in all it shows, and those that differ", () => {
  for (const own of WORLDS) {
    const factsOf = factsIn(own);
    for (const finding of findingsIn(own.decisions, factsOf)) {
      if (finding.sort === "usual") continue;
      for (const { mark } of decisionsOf(finding)) expect(factsOf(mark)).toEqual(expect.arrayContaining([...finding.equal]));
      if (finding.sort === "alike") continue;
      for (const twin of finding.twins) {
        expect(twin.here).not.toBe(twin.there);
        expect(finding.equal.some(({ of }) => of === twin.of)).toBe(false);
        const [focus] = finding.way.decisions;
        expect(factsOf(focus?.mark ?? "")).toContainEqual({ of: twin.of, value: twin.here });
        for (const { mark } of twin.decisions) expect(factsOf(mark)).toContainEqual({ of: twin.of, value: twin.there });
      }
    }
  }
});

test("what is usual is chosen against the engine in at least half of the visits in which it decides so, and in three of them", () => {
  let found = 0;
  for (const own of WORLDS) {
    const findings = findingsIn(own.decisions, factsIn(own));
    const choices = new Set(own.decisions.map(({ kind, engine, chosen }) => `${kind} ${engine} ${chosen}`));
    for (const choice of choices) {
      const [kind, engine, chosen] = choice.split(" ");
      const same = own.decisions.filter((one) => one.kind === kind && one.engine === engine);
      const all = new Set(same.map(({ plan }) => plan)).size;
      const visits = new Set(same.filter((one) => one.chosen === chosen).map(({ plan }) => plan)).size;
      const wanted = chosen !== engine && visits >= HABIT.visits && visits * 2 >= all;
      const habits = findings.filter(
        (one) => one.sort === "usual" && one.kind === kind && one.engine === engine && one.way.chosen === chosen,
      );
      expect(habits.length).toBe(wanted ? 1 : 0);
      found += habits.length;
    }
  }
  expect(found).toBeGreaterThan(20);
});

test("a finding keeps its name whatever the order of the plans, and no two share one", () => {
  for (const own of WORLDS) {
    const ids = findingsIn(own.decisions, factsIn(own)).map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(
      findingsIn(own.decisions.toReversed(), factsIn(own))
        .map(({ id }) => id)
        .sort(),
    ).toEqual([...ids].sort());
  }
});
