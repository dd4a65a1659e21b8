import { describe, expect, test } from "vitest";
import { actOf } from "../../lib/letter/sheets/acts.ts";
import { testsOf } from "../../lib/plan/places.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { VISITS } from "../golden/golden.ts";
import { planned, visitText } from "../letter/letters.ts";

const methods = rulebook.protections.flatMap((protection) => protection.methods);
const stepped = methods.flatMap((method) => (method.steps === undefined ? [] : [{ ...method, steps: method.steps }]));
const named = stepped.map((method) => [method.id, method] as const);

/** Who stands where a set is stopped by hand; a shaft generator is disconnected. */
const AT_HAND = /stands? at the (?:hand stop|disconnection by hand)/;
const AGAIN = /\b(?:started|connected|start\w* once) again\b|\bstarted once\b|\bstarted in each\b|\bleft at rest as the day says\b/;

/** Beginnings of words, without their endings. */
const STEM = 5;
const roots = (text: string): ReadonlySet<string> =>
  new Set((text.toLowerCase().match(/\p{L}{4,}/gu) ?? []).map((word) => word.replace(/(?:ing|ed|es|s|e)$/, "").slice(0, STEM)));
/** What only joins words, or says in general what the steps say one by one. */
const JOINS = roots(
  "that then than when with after before until under over both them they their there must each while have been where itself from into also same nothing none does stop stops acts follow maximum",
);

describe("a written procedure's steps", () => {
  test.each(named)("are sentences, one act or one look each, and come from somewhere: %s", (_, { steps, stepsBasis = [] }) => {
    expect(steps.length).toBeGreaterThan(2);
    expect(new Set(steps).size).toBe(steps.length);
    expect(stepsBasis.length).toBeGreaterThan(0);
    for (const step of steps) {
      expect(step).toMatch(/^[A-Z][^.;:]*(?:\d\.\d[^.;:]*)*\.$/);
      expect(step.length, step).toBeLessThanOrEqual(150);
      // What only forbids is no step: it has nothing to tick.
      expect(step).not.toMatch(/^(?:never|nothing|nobody|no|do not|not)\b/i);
      expect(step).toMatch(
        /\b(?:is|are|goes|go|slides|stands?|stays?|leaves|runs|recovers|shows|connects|works|lowers|holds|shorts|puts)\b/,
      );
    }
  });

  test.each(named)("leave out nothing that the method's own text names: %s", (_, method) => {
    const { status, steps, minds } = actOf(method);
    const told = roots([status, ...steps, ...minds].join(" "));
    expect([...roots(method.does)].filter((root) => !told.has(root) && !JOINS.has(root))).toEqual([]);
  });

  test.each(named.filter(([, { blinds }]) => blinds))(
    "say who is at the hand stop before a channel is blind: %s",
    (_, { steps, restore }) => {
      const stands = steps.findIndex((step) => AT_HAND.test(step));
      // Before everything that is done to the channel; a manifold is first fitted at standstill.
      const blind = steps.findIndex(
        (step, place) =>
          place !== stands &&
          /\b(?:shut off|shut|drawn|slides|taken off|opened|stored set value|plug is)\b/.test(step.replace("shut-off", "")) &&
          !/start block/.test(step),
      );
      expect(stands).toBeGreaterThanOrEqual(0);
      expect(blind).toBeGreaterThan(stands);
      expect(restore).toBeDefined();
      expect(steps.slice(blind + 1).some((step) => /\b(?:put back|opened|refitted|goes back|back)\b/.test(step))).toBe(true);
    },
  );

  test.each(named.filter(([, { stops, starts }]) => stops > 0 || starts > 0))("say how the set comes to run again: %s", (_, { steps }) => {
    expect(steps.some((step) => AGAIN.test(step))).toBe(true);
  });

  test.each(
    named.filter(([, { technique, hazard, setIs, id }]) => technique === 1 && hazard === 2 && setIs === undefined && /raise/.test(id)),
  )(
    "raise no speed before the space is cleared, somebody stands at the stop and the speed to stop at is agreed: %s",
    (_, { steps, reads = [] }) => {
      const at = (text: RegExp): number => steps.findIndex((step) => text.test(step));
      const raised = at(/speed is raised/);
      for (const before of [/plane of rotation/, /hand (?:stop|trip)/, /agreed aloud/, /both tachometers and compared/]) {
        expect(at(before), String(before)).toBeGreaterThanOrEqual(0);
        expect(at(before), String(before)).toBeLessThan(raised);
      }
      expect(at(/has not tripped/)).toBeGreaterThan(raised);
      expect(reads.map(({ name }) => name)).toEqual(["ship's tachometer", "second tachometer"]);
    },
  );

  test("every method of the demo plans that hides several acts in its prose has them", async () => {
    const used = new Set<string>();
    for (const name of VISITS)
      for (const { decision } of testsOf((await planned(visitText(name))).plan)) for (const id of decision.methods) used.add(id);
    expect(used.size).toBeGreaterThan(30);
    const bare = methods.filter(({ id, steps }) => used.has(id) && steps === undefined).map(({ id }) => id);
    // Two readings side by side are one act.
    expect(bare.filter((id) => !id.endsWith("-comparison"))).toEqual([]);
  });
});
