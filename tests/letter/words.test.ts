import { expect, test } from "vitest";
import { conditionWords, provisos, shortOnlyIf } from "../../lib/letter/conditions.ts";
import { longDate, refRange, windowWords } from "../../lib/letter/words.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";

const refs: Readonly<Record<string, string>> = {
  "/ruleBasis": "Q1",
  "/sets/0/jacketWaterTemperature/well": "Q2",
  "/sets/0/jacketWaterTemperature/diameter": "Q3",
  "/sets/0/overspeed/setPoint": "Q4",
  "/sets/0/overspeed/makersMaximum": "Q5",
  "/support/heatBlock": "R1",
};
const specs = new Map(rulebook.facts.map((fact) => [fact.at, fact]));
const names = { refAt: (at: string) => refs[at], specAt: (at: string) => specs.get(at.replace("/0/", "/*/")) };
const well = { at: "/sets/0/jacketWaterTemperature/well", is: ["dry"] };
const diameter = { at: "/sets/0/jacketWaterTemperature/diameter", to: 9 };
const block = { at: "/support/heatBlock", is: ["aboard", "in time"] };

test("references are joined into runs", () => {
  expect(refRange(["Q4", "Q1", "Q2", "Q3", "Q9", "Q7", "Q8"])).toBe("Q1 to Q4, Q7 to Q9");
  expect(refRange(["T1", "T2"])).toBe("T1, T2");
});

test("dates are written in full, the year of a window once", () => {
  expect(longDate("2026-02-12")).toBe("12 February 2026");
  expect(windowWords({ from: "2026-03-03", to: "2026-03-04" })).toBe("3 to 4 March 2026");
  expect(windowWords({ from: "2026-12-31", to: "2027-01-01" })).toBe("31 December 2026 to 1 January 2027");
  expect(windowWords({ from: "2026-03-03", to: "2026-03-03" })).toBe("3 March 2026");
});

test("conditions read as they are answered", () => {
  expect(conditionWords(well, names)).toBe("Q2: dry");
  expect(conditionWords(diameter, names)).toBe("Q3: at or under 9 mm");
  expect(conditionWords(block, names)).toBe("R1 can be had");
  expect(conditionWords({ at: "/support/heatBlock", is: ["not to be had"] }, names)).toBe("R1 cannot be had");
  expect(conditionWords({ at: "/ruleBasis", is: ["SOLAS and class", "46 CFR 61.40", "maker and office", "local rules"] }, names)).toBe(
    "Q1: not 46 CFR 130.480",
  );
  const sum = [
    [1, "/sets/0/overspeed/setPoint"],
    [-1, "/sets/0/overspeed/makersMaximum"],
  ] as const;
  expect(conditionWords({ sum, to: -25 }, names)).toBe("Q4 is at least 25 rpm under Q5");
});

test("only a short condition is told with a question, without what a reader would guess", () => {
  expect(shortOnlyIf(true, names)).toBeNull();
  expect(shortOnlyIf({ all: [{ at: "/sets/0/cooling", is: ["water"] }, well] }, names)).toBe("only if Q2: dry");
  expect(shortOnlyIf({ at: "/ruleBasis", is: ["46 CFR 61.40"] }, names)).toBeNull();
  expect(shortOnlyIf({ all: [well, diameter, block] }, names)).toBeNull();
  expect(shortOnlyIf({ any: [well, diameter, block] }, names)).toBeNull();
});

test("the first way's conditions: first what the cases differ in, then what they share", () => {
  expect(provisos({ any: [{ all: [well, block] }, { all: [diameter, block] }] }, names)).toBe(
    "Q2: dry, or Q3: at or under 9 mm; R1 can be had",
  );
  expect(provisos(true, names)).toBeNull();
});
