import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { resolve } from "../../lib/model/fact.ts";
import { placesIn } from "../../lib/model/places.ts";
import { type ReadVisit, readVisit } from "../../lib/model/read.ts";
import { plannerWith } from "../../lib/plan/build.ts";
import { decisionsIn, provesIn, provesLetters } from "../../lib/plan/decisions.ts";
import { type Signed, signaturesOf } from "../../lib/plan/signature.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { PARTS, STATES } from "../../lib/rulebook/types.ts";
import { anyAnswer, newRandom } from "../bench/random.ts";
import { visit } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";

const planner = plannerWith(rulebook, null);

const load = (name: string): ReadVisit => {
  const read = readVisit(JSON.parse(readFileSync(visit(name), "utf8")), rulebook.facts, planner.known);
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  return read.value;
};

const signed = (read: ReadVisit): readonly Signed[] => {
  const { engine, facts } = planner.core(read);
  return signaturesOf(engine, facts, read.visit.policy);
};

/** The same visit with some answers taken out and some changed at random. */
const shaken = (read: ReadVisit, random: () => number): ReadVisit => {
  const answers = new Map(read.answers);
  for (const { spec, at } of placesIn(rulebook.facts, read.sets)) {
    const draw = random();
    if (draw < 0.08) answers.delete(at);
    else if (draw < 0.14) answers.set(at, anyAnswer(spec, random));
  }
  return { ...read, answers };
};

const SHAKEN = VISITS.flatMap((name) => {
  const random = newRandom(name.length * 7919);
  const read = load(name);
  return [read, ...Array.from({ length: 12 }, () => shaken(read, random))];
});

test("equal signatures are decided alike, over all demo visits shaken at random", () => {
  const decided = new Map<string, string>();
  let met = 0;
  for (const read of SHAKEN)
    for (const { kind, mark, methods, outcome, unproven } of signed(read)) {
      const outcomeNow = JSON.stringify([kind, methods, outcome, unproven]);
      const before = decided.get(mark);
      if (before !== undefined) {
        met += 1;
        expect(outcomeNow).toBe(before);
      }
      decided.set(mark, outcomeNow);
    }
  expect(met).toBeGreaterThan(500);
  expect(new Set(decided.values()).size).toBeGreaterThan(60);
});

test("a fact that a decision does not name changes neither its signature nor its choice", () => {
  const random = newRandom(11);
  let tried = 0;
  for (const read of SHAKEN.filter((_, place) => place % 3 === 0)) {
    const before = signed(read);
    const { facts } = planner.core(read);
    for (const own of before.filter(() => random() < 0.2)) {
      const named = new Set(own.facts.flatMap(({ of }) => (of.startsWith("{") ? [...of.matchAll(/\/[^"]*/g)].map(([at]) => at) : [of])));
      const others = rulebook.facts.filter(({ at }) => !named.has(at) && !at.startsWith("/policy/"));
      const answers = new Map(read.answers);
      for (const spec of others)
        if (random() < 0.3) answers.set(resolve(spec.at, own.set, facts.sets[own.set]?.sisters ?? "A"), anyAnswer(spec, random));
      const after = signed({ ...read, answers }).find(({ kind, set }) => kind === own.kind && set === own.set);
      expect(after).toEqual(own);
      tried += 1;
    }
  }
  expect(tried).toBeGreaterThan(100);
});

test("a number under the same side of every limit leaves the signature as it is; over a limit it is another", () => {
  const read = load("old-mechanical");
  const at = "/sets/0/plate/ratedPower";
  const power = read.answers.get(at);
  expect(typeof power).toBe("number");
  const marks = (value: number) => signed({ ...read, answers: new Map([...read.answers, [at, value]]) }).map(({ mark }) => mark);
  expect(marks(Number(power) + 0.5)).toEqual(marks(Number(power)));
  const powers = signed(read).flatMap(({ facts }) => facts.filter(({ of }) => of.includes("ratedPower")));
  expect(powers.every(({ value }) => ["yes", "no", "not known"].includes(value))).toBe(true);
});

test("what the inspector insisted on is no part of the signature, and stands beside the engine’s choice", () => {
  for (const name of VISITS) {
    const read = load(name);
    const plain: ReadVisit = { ...read, visit: { ...read.visit, deviations: [] } };
    const plan = planner.plan(plain);
    const fit = plan.sets
      .flatMap(({ protections }) => protections)
      .flatMap(({ at, verdicts, decision }) =>
        verdicts
          .filter(({ verdict, method }) => verdict === "fit" && !decision.methods.includes(method))
          .map(({ method }) => ({ at, method })),
      );
    const [first] = fit;
    if (first === undefined) continue;
    const deviations = [{ protection: first.at, method: first.method, reason: "tried" }];
    const insisted: ReadVisit = { ...read, visit: { ...read.visit, deviations } };
    const before = decisionsIn(planner, plain, plan).decisions;
    const after = decisionsIn(planner, insisted, planner.plan(insisted)).decisions;
    expect(after.map(({ mark, engine }) => [mark, engine])).toEqual(before.map(({ mark, engine }) => [mark, engine]));
    const changed = after.filter(({ engine, chosen }) => engine !== chosen);
    expect(changed.map(({ at, reason }) => [at, reason])).toEqual([[first.at, "tried"]]);
    expect(before.every(({ engine, chosen, reason }) => engine === chosen && reason === undefined)).toBe(true);
  }
});

describe("what a loop proves", () => {
  test("is the same after it was written in letters", () => {
    for (const state of STATES)
      for (const part of PARTS) {
        const proves = { sensing: "open", wiring: "set point", logic: "movement", final: "running value", [part]: state } as const;
        expect(provesIn(provesLetters(proves))).toEqual(proves);
      }
  });
});
