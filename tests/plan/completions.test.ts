import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { success } from "../../lib/kernel/result.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { planFile } from "../../lib/usecases/planFile.ts";
import { newRandom } from "../bench/random.ts";
import { visit } from "../cli/cli.ts";
import { holds } from "../decide/oracle.ts";
import { VISITS } from "../golden/golden.ts";

/** The plan as a program outside would use it: only what stands in the plan and the visit file. */
type Json = Record<string, unknown>;
type Answers = Record<string, string | number>;

const planner = newPlanner(rulebook);

const planOf = async (document: Json): Promise<Plan> => {
  const result = await planFile(planner, { read: async () => success(JSON.stringify(document)) }, "visit");
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return result.value.plan;
};

const load = (name: string): Json => JSON.parse(readFileSync(visit(name), "utf8")) as Json;

/** The document with values put in at JSON pointers. */
const withAnswers = (document: Json, answers: Answers): Json => {
  const copy = structuredClone(document);
  for (const [at, value] of Object.entries(answers)) {
    const steps = at.slice(1).split("/");
    let here = copy;
    for (const step of steps.slice(0, -1)) {
      here[step] ??= {};
      here = here[step] as Json;
    }
    here[steps.at(-1) ?? ""] = value;
  }
  return copy;
};

const completed = (plan: Plan, random: () => number): Answers =>
  Object.fromEntries(
    plan.open.map(({ at, answers, from, to }) => {
      if (answers !== undefined) return [at, answers[Math.floor(random() * answers.length)] ?? ""];
      const [low, high] = [from ?? 0, to ?? 0];
      return [at, Math.max(low, Number((low + Math.floor(random() * 1000) * ((high - low) / 1000)).toFixed(1)))];
    }),
  );

const protectionsOf = (plan: Plan) => plan.sets.flatMap(({ protections }) => protections);

describe.each(VISITS)("%s", (name) => {
  test("completed, every protection has one option and is settled, and it is the first of the former options whose condition holds", async () => {
    const document = load(name);
    const before = await planOf(document);
    const random = newRandom(name.length);
    for (let round = 0; round < 40; round += 1) {
      const answers = completed(before, random);
      const after = await planOf(withAnswers(document, answers));
      for (const [place, protection] of protectionsOf(after).entries()) {
        expect(protection.options.length, protection.ref).toBe(1);
        expect(protection.decision.state).toBe("settled");
        expect(protection.options[0]?.when).toBe(true);
        const former = protectionsOf(before)[place];
        // A deviation that becomes fit decides by itself.
        if (protection.deviation?.refused !== former?.deviation?.refused) continue;
        const first = former?.options.find(({ when }) => holds(when, answers));
        expect(protection.decision.methods, `${protection.ref} ${JSON.stringify(answers)}`).toEqual(first?.methods);
        expect(protection.decision.unproven).toEqual(first?.unproven);
      }
      expect(after.questions.filter(({ decides }) => decides.length > 0)).toEqual([]);
    }
  });

  test("a refused request gives exactly what its price says", async () => {
    const document = load(name);
    const before = await planOf(document);
    for (const request of before.requests) {
      if (request.at === undefined || request.refusedIs === undefined) continue;
      const after = await planOf(withAnswers(document, { [request.at]: request.refusedIs }));
      for (const [place, protection] of protectionsOf(after).entries()) {
        const former = protectionsOf(before)[place];
        const price = request.ifRefused.find((entry) => entry.protection === protection.ref);
        expect(protection.decision.methods, `${request.ref} ${protection.ref}`).toEqual(price?.to ?? former?.decision.methods);
        expect(protection.decision.unproven, `${request.ref} ${protection.ref}`).toEqual(price?.unproven ?? former?.decision.unproven);
      }
    }
  });

  test("references handed out stay, whatever is answered in between", async () => {
    const document = load(name);
    const before = await planOf(document);
    const [first] = before.questions;
    if (first === undefined) return;
    const open = before.open.find(({ at }) => at === first.at);
    const answer: Answers = { [first.at]: open?.answers?.[0] ?? open?.from ?? "" };
    const after = await planOf({ ...withAnswers(document, answer), references: before.references as unknown[] });
    const given = new Map(before.references.map((reference) => [reference.ref, reference.for]));
    for (const reference of after.references) if (given.has(reference.ref)) expect(reference.for).toBe(given.get(reference.ref));
    for (const question of after.questions) {
      const former = before.questions.find(({ at }) => at === question.at);
      if (former !== undefined) expect(question.ref).toBe(former.ref);
    }
  });
});
