import { expect, test } from "vitest";
import { jacketWaterAt } from "../../lib/model/facts/jacketWater.ts";
import { specsBy } from "../../lib/model/places.ts";
import { knownWords } from "../../lib/plan/known.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";

const specOf = (template: string) => {
  const spec = specsBy(rulebook.facts)(template.replace("*", "0"));
  if (spec === undefined) throw new Error(template);
  return spec;
};

// NIST SP 811, B.8: temperature t/°F = 1.8 t/°C + 32, an interval of 1 °C is one of 1.8 °F.
test("a tolerance taken as known is converted as a difference, a temperature as a point on its scale", () => {
  expect(knownWords({ spec: specOf(jacketWaterAt.tolerance), answer: 5 }, "us")).toBe("9 °F");
  expect(knownWords({ spec: specOf(jacketWaterAt.tolerance), answer: 5 }, "metric")).toBe("5 °C");
  expect(knownWords({ spec: specOf(jacketWaterAt.setPoint), answer: 100 }, "us")).toBe("212 °F");
});
