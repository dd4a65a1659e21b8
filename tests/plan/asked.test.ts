import { describe, expect, test } from "vitest";
import { askedInLetter, askedOf } from "../../lib/plan/asked.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { planned, visitText } from "../letter/letters.ts";

const NAMES = ["almost-nothing-known", "mixed-channels", "offshore-vessel", "passenger-ship", "old-mechanical"] as const;

const askedBy = async (name: string) => {
  const { plan } = await planned(visitText(name));
  return { plan, asked: askedInLetter(askedOf(plan, rulebook)) };
};

describe.each(NAMES)("what %s is asked", (name) => {
  test("tells of every thing that may be refused what is done without it, test by test as the plan does", async () => {
    const { plan, asked } = await askedBy(name);
    const open = new Set(plan.open.map(({ at }) => at));
    for (const { ref, instead } of asked.requests) {
      const request = plan.requests.find((one) => one.ref === ref);
      const may = request?.at !== undefined && open.has(request.at) && request.neededBy.length + request.ifRefused.length > 0;
      expect(instead !== undefined, ref).toBe(may);
      if (instead === undefined || request === undefined) continue;
      expect(instead.flatMap(({ tests }) => tests).toSorted()).toEqual(request.ifRefused.map(({ protection }) => protection).toSorted());
      for (const { protection, to } of request.ifRefused) {
        const way = instead.find(({ tests }) => tests.includes(protection))?.way ?? "-";
        expect(way === "", `${ref} ${protection}`).toBe(to.length === 0);
      }
    }
  });

  test("says of a test without other ways to choose whether any hangs on what is open", async () => {
    const { plan, asked } = await askedBy(name);
    const protections = new Map(plan.sets.flatMap((set) => set.protections.map((one) => [one.ref, one] as const)));
    for (const { ref, others, hangs } of asked.tests) {
      const one = protections.get(ref);
      const rest = one?.verdicts.filter(({ method }) => !one.decision.methods.includes(method)) ?? [];
      expect(others.length, ref).toBe(rest.filter(({ verdict }) => verdict === "fit").length);
      expect(hangs === true, ref).toBe(rest.some(({ verdict }) => verdict === "depends"));
    }
  });

  test("names of a photograph the questions that this letter asks, and no others", async () => {
    const { plan, asked } = await askedBy(name);
    const now = new Set(asked.questions.map(({ ref }) => ref));
    const photographs = asked.requests.filter(({ kind }) => kind === "photograph");
    for (const { ref, answers } of photographs)
      expect(answers, ref).toEqual(plan.requests.find((one) => one.ref === ref)?.answers?.filter((one) => now.has(one)));
    // Passed through twice, as a letter's form does, it is the same.
    expect(askedInLetter(asked)).toEqual(asked);
  });
});
