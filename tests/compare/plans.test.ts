import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { changesBetween } from "../../lib/compare/plans.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { VISITS } from "../golden/golden.ts";
import { planned, visitText } from "../letter/letters.ts";

interface Next {
  references: Plan["references"];
  preparedOn: string;
  sets: Record<string, Record<string, unknown>>[];
  [key: string]: unknown;
}

/** The visit of a plan as its next letter finds it: the references handed on, something answered. */
const next = (name: string, plan: Plan, change: (file: Next) => void): string => {
  const file = JSON.parse(visitText(name)) as Next;
  file.references = plan.references;
  change(file);
  return JSON.stringify(file);
};

const refsOf = (plan: Plan): readonly string[] => [
  ...plan.sets.flatMap(({ protections }) => protections.filter(({ applies }) => applies !== "no").map(({ ref }) => ref)),
  ...plan.questions.map(({ ref }) => ref),
  ...plan.requests.map(({ ref }) => ref),
];

test.each(VISITS)("nothing changes from a plan to itself, nor where only the references are handed on: %s", async (name) => {
  const { plan } = await planned(visitText(name));
  const nothing = { added: [], settled: [], replanned: [], altered: [], gone: [] };
  expect(changesBetween(plan, plan)).toEqual(nothing);
  const again = await planned(next(name, plan, () => undefined));
  expect(changesBetween(plan, again.plan)).toEqual(nothing);
});

describe("one answer more", () => {
  test("closes its question and tells the test that it plans otherwise, with the way before", async () => {
    const { plan } = await planned(visitText("mixed-channels"));
    const question = plan.questions.find(({ at }) => at === "/sets/0/jacketWaterTemperature/leadLongEnough");
    const { plan: after } = await planned(
      next("mixed-channels", plan, ({ sets }) => {
        Object.assign(sets[0]?.["jacketWaterTemperature"] ?? {}, { leadLongEnough: "no" });
      }),
    );
    const changes = changesBetween(plan, after);
    expect(changes.gone).toContain(question?.ref);
    const [told] = changes.replanned;
    expect(told?.before.decision.methods).toEqual(["jw-dry-heated"]);
    expect(told?.after.ref).toBe(told?.before.ref);
    expect(told?.after.decision.methods).not.toContain("jw-dry-heated");
  });

  test("a later day of the whole reply alone changes no request", async () => {
    const { plan } = await planned(visitText("too-near"));
    const moved = { ...plan, visit: { ...plan.visit, replyBy: "2026-03-09" } };
    const requests = moved.requests.map((request) =>
      request.confirmBy === plan.visit.replyBy ? { ...request, confirmBy: moved.visit.replyBy } : request,
    );
    expect(changesBetween(plan, { ...moved, requests }).altered).toEqual([]);
    const [first] = requests;
    if (first === undefined) throw new Error("no request");
    expect(changesBetween(plan, { ...moved, requests: [{ ...first, confirmBy: "2026-03-11" }, ...requests.slice(1)] }).altered).toEqual([
      { ref: first.ref, respects: ["day"] },
    ]);
  });
});

test("from any demo plan to any other no reference is lost or told twice as added and gone", async () => {
  const plans = await Promise.all(VISITS.map(async (name) => (await planned(visitText(name))).plan));
  fc.assert(
    fc.property(fc.constantFrom(...plans), fc.constantFrom(...plans), (before, after) => {
      const { added, gone, altered, settled, replanned } = changesBetween(before, after);
      const [were, are] = [new Set(refsOf(before)), new Set(refsOf(after))];
      expect(new Set(added)).toEqual(new Set([...are].filter((ref) => !were.has(ref))));
      expect(new Set(gone)).toEqual(new Set([...were].filter((ref) => !are.has(ref))));
      const both = [...altered.map(({ ref }) => ref), ...settled, ...replanned.map(({ after: now }) => now.ref)];
      expect(new Set(both).size).toBe(both.length);
      for (const ref of both) expect(were.has(ref) && are.has(ref)).toBe(true);
    }),
    { numRuns: 100 },
  );
});
