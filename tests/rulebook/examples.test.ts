import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { newEngine } from "../../lib/decide/engine.ts";
import { decideVisit } from "../../lib/decide/visit.ts";
import { resolve } from "../../lib/model/fact.ts";
import { planSchema } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { cli, scratch } from "../cli/cli.ts";

type Facts = Readonly<Record<string, string | number>>;

const engine = newEngine(rulebook, ["sensing", "wiring", "final"]);

const verdictOn = (kind: string, place: number, facts: Facts) => {
  const answers = new Map(Object.entries(facts).map(([at, value]) => [resolve(at, 0, "A"), value]));
  const decided = decideVisit(engine, { sets: [{ sisters: "A" }], answers, insisted: new Map(), inTime: () => true });
  const protection = decided.protections.find((candidate) => candidate.kind === kind);
  const verdict = protection?.verdicts[place];
  const open =
    verdict?.verdict === "depends" ? verdict.open.map((index) => protection?.prepared.compiled.frame.variables[index]?.at ?? "") : [];
  return { verdict: verdict?.verdict, bar: verdict?.verdict === "barred" ? verdict.clause.bar : undefined, open };
};

const cases = rulebook.protections.flatMap(({ kind, methods }) =>
  methods.map((method, place) => [method.id, kind, place, method] as const),
);

test.each(cases)("%s: its examples are fit, barred and open as told", (_, kind, place, { examples }) => {
  if (examples.fit === null) {
    expect(verdictOn(kind, place, {})).toMatchObject({ verdict: "barred", bar: "veto" });
    return;
  }
  expect(verdictOn(kind, place, examples.fit)).toMatchObject({ verdict: "fit" });
  expect(verdictOn(kind, place, { ...examples.fit, ...examples.barred })).toMatchObject({ verdict: "barred" });
  const { [examples.open ?? ""]: _left, ...without } = examples.fit;
  const depends = verdictOn(kind, place, without);
  expect(depends.verdict).toBe("depends");
  expect(depends.open).toContain(examples.open);
});

/** A visit file that holds just these facts. */
const visitWith = (facts: Facts): object => {
  const document: Record<string, unknown> = {
    format: "forehail visit 1",
    preparedOn: "2026-03-02",
    visit: { vessel: { name: "Example" }, place: { name: "Example Roads" }, window: { from: "2026-06-01", to: "2026-06-02" } },
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
    const { [examples.open ?? ""]: _left, ...without } = examples.fit;
    return [
      { id, kind, wanted: "fit", facts: examples.fit },
      { id, kind, wanted: "barred", facts: { ...examples.fit, ...examples.barred } },
      { id, kind, wanted: "depends", facts: without },
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
