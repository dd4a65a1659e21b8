import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { newEngine } from "../../lib/decide/engine.ts";
import { decideVisit } from "../../lib/decide/visit.ts";
import { mentions } from "../../lib/logic/condition.ts";
import { resolve } from "../../lib/model/fact.ts";
import { policySchema } from "../../lib/model/policy.ts";
import { planSchema } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { cli, scratch } from "../cli/cli.ts";

type Facts = Readonly<Record<string, string | number>>;

const engine = newEngine(rulebook, policySchema.parse({}).mayStayOpen);

const verdictOn = (kind: string, place: number, given: Facts) => {
  const answers = new Map(Object.entries(given).map(([at, value]) => [resolve(at, 0, "A"), value]));
  const decided = decideVisit(engine, { sets: [{ sisters: "A" }], answers, insisted: new Map(), inTime: () => true });
  const protection = decided.protections.find((candidate) => candidate.kind === kind);
  expect(protection?.verdicts.length).toBe(protection?.prepared.compiled.methods.length);
  const verdict = protection?.verdicts[place];
  const open =
    verdict?.verdict === "depends" ? verdict.open.map((index) => protection?.prepared.compiled.frame.variables[index]?.at ?? "") : [];
  return { verdict: verdict?.verdict, clause: verdict?.verdict === "barred" ? verdict.clause : undefined, open };
};

const cases = rulebook.protections.flatMap(({ kind, methods }) =>
  methods.map((method, place) => [method.id, kind, place, method] as const),
);
const without = (given: Facts, at: string | null): Facts => Object.fromEntries(Object.entries(given).filter(([key]) => key !== at));

test("the verdicts of a protection stand in the order of its methods", () => {
  for (const { kind, methods } of rulebook.protections) {
    expect(engine.prepared(kind)?.compiled.methods.map(({ method }) => method.id)).toEqual(methods.map(({ id }) => id));
  }
});

describe.each(cases)("%s", (_, kind, place, { examples, hazard }) => {
  const { fit, barred, open } = examples;
  if (fit === null) {
    test("is never done: a veto bars it with nothing known", () => {
      expect(hazard).toBe(3);
      const found = verdictOn(kind, place, {});
      expect([found.verdict, found.clause?.bar]).toEqual(["barred", "veto"]);
    });
    return;
  }

  test("its examples are answers of known facts", () => {
    for (const [at, value] of Object.entries({ ...fit, ...barred })) {
      const domain = rulebook.facts.find((fact) => fact.at === at)?.domain;
      const within =
        domain?.kind === "number"
          ? typeof value === "number" && value >= domain.from && value <= domain.to
          : domain?.values.some((known) => known === value);
      expect(within, `${at} ${value}`).toBe(true);
    }
    expect(Object.keys(barred).length).toBeGreaterThan(0);
    expect(Object.keys(fit)).toContain(open);
  });

  test("fits on its facts", () => {
    expect(verdictOn(kind, place, fit).verdict).toBe("fit");
  });

  test("is barred by the change of them, for a reason that names a changed fact", () => {
    const { verdict, clause } = verdictOn(kind, place, { ...fit, ...barred });
    expect(verdict).toBe("barred");
    const named = clause === undefined ? [] : mentions(clause.when);
    expect(named.some((at) => Object.hasOwn(barred, at))).toBe(true);
  });

  test("depends on the open fact where that is left out, and on nothing else", () => {
    expect(verdictOn(kind, place, without(fit, open))).toMatchObject({ verdict: "depends", open: [open] });
  });
});

/** A visit file that holds just these facts. */
const visitWith = (facts: Facts): object => {
  const document: Record<string, unknown> = {
    format: "forehail visit 1",
    preparedOn: "2026-03-02",
    visit: { vessel: { name: "Example" }, place: { name: "Example Roads" }, window: { from: "2026-06-01", to: "2026-06-02" } },
    policy: { alsoProve: rulebook.protections.filter(({ onWish }) => onWish === true).map(({ kind }) => kind) },
    sets: [{ name: "Set" }],
  };
  for (const [template, value] of Object.entries(facts)) {
    const steps = resolve(template, 0, "A").slice(1).split("/");
    let here: Record<string, unknown> = document;
    for (const step of steps.slice(0, -1)) {
      here[step] ??= {};
      here = here[step] as Record<string, unknown>;
    }
    here[steps.at(-1) ?? ""] = value;
  }
  return document;
};

test("the examples hold through the command line too", async () => {
  const folder = scratch();
  const files = cases.flatMap(([id, kind, , { examples }]) => {
    if (examples.fit === null) return [];
    return [
      { id, kind, wanted: "fit", facts: examples.fit },
      { id, kind, wanted: "barred", facts: { ...examples.fit, ...examples.barred } },
      { id, kind, wanted: "depends", facts: without(examples.fit, examples.open) },
    ];
  });
  const paths = files.map(({ facts }, place) => {
    const path = join(folder, `${place}.json`);
    writeFileSync(path, JSON.stringify(visitWith(facts)));
    return path;
  });
  const ran = await cli(["plan", ...paths, "--json"]);
  expect(ran.err).toBe("");
  const plans = ran.out
    .trimEnd()
    .split("\n")
    .map((line) => planSchema.parse(JSON.parse(line)));
  const wrong = files.flatMap(({ id, kind, wanted }, place) => {
    const verdict = plans[place]?.sets[0]?.protections
      .find((protection) => protection.kind === kind)
      ?.verdicts.find(({ method }) => method === id)?.verdict;
    return verdict === wanted ? [] : [`${id}: wanted ${wanted}, got ${verdict}`];
  });
  expect(plans.length).toBe(files.length);
  expect(wrong).toEqual([]);
});
