import { describe, expect, test } from "vitest";
import { messageOf } from "../../lib/model/fault.ts";
import { readVisit } from "../../lib/model/read.ts";
import { lastOf, type TestResult } from "../../lib/model/result.ts";
import { knownOf } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";

const file = (...lastTime: readonly object[]) => ({
  format: "forehail visit 1",
  preparedOn: "2026-03-02",
  visit: { vessel: { name: "Sundalis Reach" }, place: { name: "Haverdyn Roads" }, window: { from: "2026-03-24", to: "2026-03-25" } },
  sets: [{ name: "Generator 1" }],
  lastTime,
});

const faultsIn = (...lastTime: readonly object[]): readonly string[] => {
  const read = readVisit(file(...lastTime), rulebook.facts, knownOf(rulebook));
  return read.ok ? [] : read.faults.map(messageOf);
};

const done = {
  at: "/sets/0/overspeed",
  on: "2025-04-29",
  outcome: "as planned",
  planned: ["real-overspeed"],
  reading: { number: "2070", unit: "rpm" },
  within: "within limits",
};
const otherwise = { ...done, outcome: "by another method", by: { words: "by hand at the governor" } };
const notDone = { at: done.at, on: done.on, outcome: "not done", planned: [], why: "no technician came" };

test("whole records are taken, each shape of them", () => {
  expect(
    faultsIn(done, otherwise, { ...otherwise, by: { method: "simulated-speed" } }, notDone, { ...notDone, words: "next year" }),
  ).toEqual([]);
  const { reading: _, ...unread } = done;
  expect(faultsIn(unread, { ...done, at: "/removed/61/overspeed" })).toEqual([]);
});

describe("what is wrong or half is told by field, given and wanted", () => {
  test.each<[string, object, string]>([
    [
      "no outcome",
      { ...done, outcome: undefined },
      'lastTime[0].outcome: given nothing; wanted one of "as planned", "by another method", "not done"',
    ],
    [
      "another outcome",
      { ...done, outcome: "done" },
      'lastTime[0].outcome: given "done"; wanted one of "as planned", "by another method", "not done"',
    ],
    ["no protection", { ...done, at: "T3" }, 'lastTime[0].at: given "T3"; wanted the pointer of a protection, like "/sets/0/overspeed"'],
    [
      "a set that is none",
      { ...done, at: "/sets/1/overspeed" },
      'lastTime[0].at: given "/sets/1/overspeed"; wanted a protection of a set of this visit: sets[0] to sets[0]',
    ],
    ["no day", { ...done, on: "2025-02-30" }, 'lastTime[0].on: given "2025-02-30"; wanted a date that exists, as YYYY-MM-DD'],
    [
      "a day after the visit",
      { ...done, on: "2026-03-26" },
      'lastTime[0].on: given "2026-03-26"; wanted a day not after the window\'s last day, 2026-03-25',
    ],
    ["as planned by nothing", { ...done, planned: [] }, "lastTime[0].planned: given []; wanted at least 1 of them"],
    [
      "nothing on limits",
      { ...done, within: undefined },
      'lastTime[0].within: given nothing; wanted one of "within limits", "outside limits", "no limit known"',
    ],
    ["a reading without unit", { ...done, reading: { number: "2070" } }, "lastTime[0].reading.unit: given nothing; wanted text"],
    [
      "a reading that is no number",
      { ...done, reading: { number: "2,0", unit: "bar" } },
      'lastTime[0].reading.number: given "2,0"; wanted the number as it was read, like "1.80"',
    ],
    [
      "another method untold",
      { ...otherwise, by: undefined },
      "lastTime[0].by: given nothing; wanted either the id of a method of the rulebook or the way in own words",
    ],
    [
      "two other methods",
      { ...otherwise, by: { method: "a", words: "b" } },
      'lastTime[0].by: given {"method":"a","words":"b"}; wanted either the id of a method of the rulebook or the way in own words',
    ],
    [
      "another method where it was as planned",
      { ...done, by: { words: "by hand" } },
      'lastTime[0].by: given {"words":"by hand"}; wanted no field "by" here: lastTime[0] has none of that name',
    ],
    ["not done and no reason", { ...notDone, why: undefined }, "lastTime[0].why: given nothing; wanted text"],
    [
      "a reading of what was not done",
      { ...notDone, reading: done.reading },
      'lastTime[0].reading: given {"number":"2070","unit":"rpm"}; wanted no field "reading" here: lastTime[0] has none of that name',
    ],
  ])("%s", (_, past, says) => {
    expect(faultsIn(past)).toEqual([says]);
  });
});

test("the next visit is told the last time and, where it was not done then, the last time it was", () => {
  const on = (day: string, outcome: object): TestResult => ({ ...outcome, on: day }) as TestResult;
  const [a, b, c] = [on("2026-04-29", notDone), on("2025-04-29", notDone), on("2024-04-29", done)];
  expect(lastOf([])).toEqual([]);
  expect(lastOf([c, a])).toEqual([c]);
  expect(lastOf([a, b, c])).toEqual([a, c]);
  expect(lastOf([a, b])).toEqual([a]);
});
