import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { success } from "../../lib/kernel/result.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { planFile } from "../../lib/usecases/planFile.ts";

/**
 * Ten engine rooms that were written down as text (rooms.md) by somebody who had not seen the rules, then described as visit files.
 * What an engineer wants of their plans, as far as it was put right, stays right here.
 */
const folder = new URL("./", import.meta.url);
const planner = newPlanner(rulebook);

const planOf = async (name: string): Promise<Plan> => {
  const text = readFileSync(new URL(`${name}.json`, folder), "utf8");
  const result = await planFile(planner, { read: async () => success(text) }, name);
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return result.value.plan;
};

const names = readdirSync(folder).flatMap((file) => (file.endsWith(".json") ? [file.replace(".json", "")] : []));

test("there are ten, each with its text", () => {
  const text = readFileSync(new URL("rooms.md", folder), "utf8");
  expect(names).toHaveLength(10);
  for (const name of names) {
    const { visit } = JSON.parse(readFileSync(new URL(`${name}.json`, folder), "utf8")) as { visit: { vessel: { name: string } } };
    expect(text).toContain(visit.vessel.name);
  }
});

describe.each(names)("%s", (name) => {
  test("is planned whole: every protection that may apply is decided or says that nothing is left", async () => {
    const plan = await planOf(name);
    for (const { options, applies, decision } of plan.sets.flatMap(({ protections }) => protections)) {
      expect(options.length).toBeGreaterThan(0);
      if (applies === "yes" && decision.state === "settled") expect(decision.outcome).not.toBe("does not apply");
    }
  });
});

const chosen = (plan: Plan, set: string, kind: string) =>
  plan.sets.find(({ name }) => name === set)?.protections.find((protection) => protection.kind === kind);
const findingsOn = (plan: Plan, set: string): string =>
  plan.findings
    .filter(({ text }) => text.split(": ")[0]?.includes(set))
    .map(({ text }) => text)
    .join("\n");

describe("what an engineer wants of them", () => {
  test("a leak or defect is told to everybody, for its running tests do not go ahead", async () => {
    for (const name of ["petrel", "corvina", "auster", "meridia", "brannokk", "skerry"]) {
      const told = (await planOf(name)).warnings.filter(({ at }) => at?.endsWith("/openDefects"));
      expect(told.length, name).toBeGreaterThan(0);
      for (const { officeOnly, text } of told) {
        expect(officeOnly).toBeUndefined();
        expect(text).toContain("none of its running tests");
      }
    }
  });

  test("a mechanical overspeed trip is never proven by wire or supply", async () => {
    for (const name of names) {
      for (const { verdicts } of (await planOf(name)).sets.flatMap(({ protections }) => protections)) {
        if (verdicts.find(({ method }) => method === "os-frequency-running")?.reason.includes("mechanical trip") !== true) continue;
        for (const id of ["os-wire-break", "os-supply-off"]) {
          const verdict = verdicts.find(({ method }) => method === id);
          expect(verdict?.verdict, `${name} ${id}`).toBe("barred");
        }
      }
    }
  });

  test("oil injection does not stand in for a turbine's real overspeed that is only barred for now", async () => {
    expect(chosen(await planOf("auster"), "TG1", "turbineOverspeed")?.decision.methods).not.toContain("to-injection");
  });

  test("a set with an open defect does not count among those that carry the ship", async () => {
    const figures = chosen(await planOf("corvina"), "DG1", "reversePower")?.figures ?? [];
    const note = figures.find(({ name }) => name.startsWith("load on the others"))?.note;
    expect(note).toContain("the ship is without power");
  });

  test("settings out of their limits are told: tolerance at the limit, 118 %, a delay of two seconds, a pick-up that would not act", async () => {
    expect(findingsOn(await planOf("skerry"), "EMG")).toContain("with its tolerance");
    expect(findingsOn(await planOf("bayou"), "G1")).toContain("with its tolerance of 20 rpm");
    expect(findingsOn(await planOf("ostravik"), "SG2")).toContain("delay of 2 s");
    expect(findingsOn(await planOf("auster"), "TG1")).toContain("would not act");
  });

  test("an emergency set on something else than a diesel is the first finding", async () => {
    expect(findingsOn(await planOf("lumen"), "EMG")).toContain("must start by its own means");
  });

  test("where the approved step cannot be done, the way to the authority is told", async () => {
    const told = (await planOf("calloway")).warnings.filter(({ text }) => text.includes("the step of the approved procedure ("));
    expect(told.length).toBeGreaterThan(0);
    for (const { text, officeOnly } of told) {
      expect(text).toContain("goes to the authority first");
      expect(officeOnly).toBeUndefined();
    }
  });

  test("starts of both sources count, and what is short is told", async () => {
    const told = (await planOf("bayou")).warnings.filter(({ text, officeOnly }) => text.startsWith("EMG: ") && officeOnly !== true);
    expect(told.map(({ text }) => text).join()).toMatch(/its stores give \d and \d/);
    expect(findingsOn(await planOf("calloway"), "EDG")).toContain("By 46 CFR it wants 6 starts, or 3 and 3");
  });

  test("a day that is too short is told to the inspector and asked of the superintendent", async () => {
    const told = (await planOf("ostravik")).warnings.find(({ text }) => text.startsWith("The planned tests take about"));
    expect(told?.tooLong).toBe(true);
  });

  test("a battery on the board is taken off for the loss of power as well", async () => {
    expect(
      chosen(await planOf("lumen"), "EMG", "lossOfPower")
        ?.notes.map(({ text }) => text)
        .join(),
    ).toContain("taken off the board");
  });
});
