import { describe, expect, test } from "vitest";
import { compileProtection } from "../../lib/decide/compile.ts";
import { newEngine } from "../../lib/decide/engine.ts";
import { nodesOf } from "../../lib/decide/prepared.ts";
import { compareRanks } from "../../lib/decide/rank.ts";
import { decideVisit } from "../../lib/decide/visit.ts";
import { type Condition, mentions } from "../../lib/logic/condition.ts";
import { resolve } from "../../lib/model/fact.ts";
import type { Basis } from "../../lib/rulebook/basis.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import type { Method } from "../../lib/rulebook/types.ts";

const engine = newEngine(rulebook, ["sensing", "wiring", "final"]);
const facts = new Map(rulebook.facts.map((fact) => [fact.at, fact]));
const methods = rulebook.protections.flatMap((protection) => protection.methods);

const conditions: readonly (readonly [string, Condition])[] = rulebook.protections.flatMap((protection) => [
  [`${protection.kind} applies`, protection.applies] as const,
  [`${protection.kind} danger`, protection.danger] as const,
  ...compileProtection(rulebook, protection).methods.flatMap(({ method, clauses }) =>
    clauses.map(({ when, bar }) => [`${method.id} ${bar}`, when] as const),
  ),
]);

const leaves = (condition: Condition): readonly Exclude<Condition, true>[] => {
  if (condition === true) return [];
  if ("all" in condition) return condition.all.flatMap(leaves);
  if ("any" in condition) return condition.any.flatMap(leaves);
  return [condition];
};

test.each(conditions)("%s: each fact stands once in the condition, is known, and its values lie in its domain", (_, condition) => {
  const at = mentions(condition);
  expect(new Set(at).size).toBe(at.length);
  for (const leaf of leaves(condition)) {
    for (const pointer of mentions(leaf)) {
      const domain = facts.get(pointer)?.domain;
      expect(domain, pointer).toBeDefined();
      if ("is" in leaf)
        expect(domain?.kind === "choice" && leaf.is.every((value) => domain.values.includes(value)), JSON.stringify(leaf)).toBe(true);
      else expect(domain?.kind).toBe("number");
    }
  }
});

describe("facts", () => {
  const named = new Set(conditions.flatMap(([, condition]) => mentions(condition)));
  const details = new Set([
    ...methods.flatMap((method) => method.details),
    ...rulebook.protections.flatMap(({ setPoint, tolerance }) => [setPoint, tolerance]),
  ]);

  test("every deciding fact stands in a condition, every detail is needed by a method, every fact is asked", () => {
    for (const fact of rulebook.facts) {
      if (fact.use === "deciding") expect(named.has(fact.at), fact.at).toBe(true);
      if (fact.use === "detail") expect(details.has(fact.at), fact.at).toBe(true);
      expect(fact.question, fact.at).toMatch(/^[A-Z].*\?$/s);
      expect(fact.why.length, fact.at).toBeGreaterThan(20);
      expect(fact.name.length, fact.at).toBeGreaterThan(2);
    }
    expect(new Set(rulebook.facts.map(({ at }) => at)).size).toBe(rulebook.facts.length);
  });

  test("availability is carried by a request that names its fact, everything else by a question", () => {
    const requested = new Set(rulebook.needs.flatMap(({ at }) => (at === undefined ? [] : [at])));
    for (const { at, carriedBy } of rulebook.facts) expect(requested.has(at), at).toBe(carriedBy === "request");
  });

  test("parents are facts and form no circle", () => {
    const above = (at: string, seen: readonly string[]): void => {
      expect(seen, at).not.toContain(at);
      const parent = facts.get(at)?.parent;
      for (const pointer of parent === undefined ? [] : mentions(parent)) {
        expect(facts.has(pointer), pointer).toBe(true);
        above(pointer, [...seen, at]);
      }
    };
    for (const { at } of rulebook.facts) above(at, []);
  });

  test("a child never matters where its parent's answer says that it does not apply", () => {
    for (const child of rulebook.facts) {
      for (const leaf of child.parent === undefined ? [] : leaves(child.parent)) {
        if (!("is" in leaf)) continue;
        const domain = facts.get(leaf.at)?.domain;
        for (const off of domain?.kind === "choice" ? domain.values.filter((value) => !leaf.is.includes(value)) : []) {
          const decided = decideVisit(engine, {
            sets: [{ sisters: "A" }],
            answers: new Map([[resolve(leaf.at, 0, "A"), off]]),
            insisted: new Map(),
            inTime: () => true,
          });
          const carried = [
            ...decided.questions.map(({ at }) => at),
            ...decided.wanted.filter(({ neededBy }) => neededBy.length === 0).map(({ at }) => at),
          ];
          expect(carried, `${child.at} under ${leaf.at} = ${off}`).not.toContain(resolve(child.at, 0, "A"));
        }
      }
    }
  });
});

describe("methods", () => {
  test("needs, cautions and details exist, and each is used", () => {
    const [needs, cautions] = [new Set(rulebook.needs.map(({ id }) => id)), new Set(rulebook.cautions.map(({ id }) => id))];
    for (const method of methods) {
      for (const id of method.needs) expect(needs.has(id), `${method.id} ${id}`).toBe(true);
      for (const id of method.cautions) expect(cautions.has(id), `${method.id} ${id}`).toBe(true);
      for (const at of method.details) expect(facts.has(at), `${method.id} ${at}`).toBe(true);
    }
    const onlyWithAnOption = ["written-acceptance", "approved-procedure"];
    const used = new Set([...methods.flatMap((method) => [...method.needs, ...method.cautions]), ...rulebook.always, ...onlyWithAnOption]);
    expect(rulebook.cautions.map(({ id }) => id).filter((id) => !used.has(id))).toEqual([]);
    expect(rulebook.needs.map(({ id }) => id).filter((id) => !used.has(id))).toEqual([]);
    expect(new Set(methods.map(({ id }) => id)).size).toBe(methods.length);
  });

  test("every method is chosen in some completion, is a last resort, or is never done", () => {
    const chosen = new Set(
      rulebook.protections.flatMap(({ kind }) => engine.prepared(kind)?.options.flatMap((option) => option.methods) ?? []),
    );
    for (const method of methods) expect(chosen.has(method.id) || method.lastResort === true || method.hazard === 3, method.id).toBe(true);
    for (const method of methods) if (method.hazard === 3) expect(chosen.has(method.id), method.id).toBe(false);
  });

  test("each bar is worded for what it is", () => {
    for (const { requirements } of methods) {
      for (const { bar, otherwise } of requirements) {
        if (bar === "veto") expect(otherwise).toMatch(/^never: /);
        if (bar === "practical") expect(otherwise).toMatch(/^not (possible|needed|planned) because /);
        if (bar === "rule") expect(otherwise).toMatch(/^not accepted /);
      }
    }
    for (const { bars } of rulebook.ruleBases) for (const { otherwise } of bars) expect(otherwise).toMatch(/accepted under 46 CFR/);
  });

  test("what blinds a channel on a running engine brings its safeguards; what is changed is restored and seen", () => {
    for (const method of methods) {
      if (method.blinds) for (const id of ["blind-channel", "hand-stop-first", "no-leak"]) expect(method.cautions, method.id).toContain(id);
      if (method.blinds && method.restore !== undefined) expect(method.cautions, method.id).toContain("restore-and-verify");
    }
  });
});

/** Technique, hazard and minutes as the trade's table gives them (trade.md §5). */
const TABLE: Readonly<Record<string, readonly [number, number, number]>> = {
  "-comparison": [7, 0, 10],
  "-standstill-sensor": [2, 0, 20],
  "-standstill-plug": [4, 0, 20],
  "-wire-break": [6, 1, 10],
  "-supply-off": [6, 1, 10],
  "lo-bleed": [1, 1, 15],
  "lo-pump": [2, 1, 20],
  "lo-manifold": [1, 1, 60],
  "lo-start-inhibit": [1, 1, 10],
  "-maker-threshold": [3, 1, 30],
  "-maker-stored": [5, 1, 30],
  "lo-spare": [2, 1, 45],
  "lo-plug": [4, 1, 20],
  "jw-plug": [4, 1, 20],
  "-contact": [6, 1, 10],
  "jw-dry-heated": [2, 1, 40],
  "jw-spare": [2, 1, 60],
  "jw-thermostat": [5, 1, 20],
  "jw-wet-drained": [2, 2, 240],
  "os-raise": [1, 2, 30],
  "os-test-mode": [3, 1, 15],
  "os-frequency-running": [4, 1, 20],
};

const rowFor = ({ id }: Method): readonly [number, number, number] | undefined =>
  TABLE[id] ?? Object.entries(TABLE).find(([end]) => end.startsWith("-") && id.endsWith(end))?.[1];

test.each(methods.filter(({ hazard }) => hazard < 3).map((method) => [method.id, method] as const))(
  "%s: technique, hazard and minutes are those of the trade's table",
  (_, method) => {
    expect([method.technique, method.hazard, method.minutes]).toEqual(rowFor(method));
  },
);

const basesIn = (value: unknown): readonly Basis[] => {
  if (Array.isArray(value)) return value.flatMap(basesIn);
  if (typeof value !== "object" || value === null) return [];
  if ("cite" in value) return [value as Basis];
  return Object.values(value).flatMap(basesIn);
};

test("every basis is marked and every statement has one", () => {
  const bases = basesIn(rulebook);
  expect(bases.length).toBeGreaterThan(100);
  for (const { cite, mark } of bases) {
    expect(cite.length).toBeGreaterThan(3);
    expect(["read", "memory", "practice", "interpretation"]).toContain(mark);
  }
  for (const method of methods) {
    expect(method.basis.length, method.id).toBeGreaterThan(0);
    for (const requirement of method.requirements)
      expect(requirement.basis.length, `${method.id} ${requirement.otherwise}`).toBeGreaterThan(0);
  }
});

test("no two different combinations rank the same", () => {
  for (const { kind } of rulebook.protections) {
    const options = engine.prepared(kind)?.options ?? [];
    for (const [place, option] of options.entries()) {
      const next = options[place + 1];
      if (next !== undefined && compareRanks(option.rank, next.rank) === 0) expect(next.methods).toEqual(option.methods);
    }
  }
});

test("every decision diagram stays under 2,000 nodes", () => {
  for (const { kind } of rulebook.protections) {
    const prepared = engine.prepared(kind);
    const nodes = prepared === undefined ? Number.POSITIVE_INFINITY : nodesOf(prepared);
    process.stdout.write(`diagram of ${kind}: ${nodes} nodes, ${prepared?.options.length} options\n`);
    expect(nodes).toBeLessThan(2000);
  }
});

test("the rulebook is plain data, and its texts are clean", () => {
  expect(JSON.parse(JSON.stringify(rulebook))).toEqual(rulebook);
  expect(JSON.stringify(rulebook)).not.toMatch(/ {2}|undefined|\[object|NaN/);
});
