import { describe, expect, test } from "vitest";
import { rulebook } from "../../lib/rulebook/rulebook.ts";

const done = rulebook.protections.flatMap(({ methods }) => methods).filter(({ hazard }) => hazard !== 3);

describe("in what state a set is for a method", () => {
  test.each(done.map((method) => [method.id, method] as const))(
    "agrees with what is done: %s",
    (_, { setIs, does, stops, starts, blinds, proves }) => {
      // By what the method's own words begin with, which are read by people and not by the order of the day.
      const atRest = /^(engine stopped|turbine at rest|set at rest|shaft at rest|set stopped|starting energy shut off)/i.test(does);
      if (atRest) expect(setIs).toBe("at rest");
      if (proves.final === "movement") expect(setIs).toBe("at rest");
      if (/^(engine running|turbine running|turbine at no load|at no load|engine at no load|unloaded)/i.test(does))
        expect(setIs).toBeUndefined();
      if (/^under way/i.test(does)) expect(setIs).toBe("under way");
      // What stands still is neither stopped nor started, and no channel is blind on it.
      if (setIs === "at rest") expect([stops, starts, blinds]).toEqual([0, 0, false]);
      if (setIs === "on the board") expect(blinds).toBe(false);
    },
  );
});
