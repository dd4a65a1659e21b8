import { expect, test } from "vitest";
import { knownFields, requestFields, testFields } from "../../lib/letter/formFields.ts";
import type { Asked } from "../../lib/plan/asked.ts";
import { atOdds, toldFilled, tooLate } from "../../lib/reply/told.ts";

const request = (ref: string, neededFor: readonly string[]): Asked["requests"][number] => ({
  ref,
  text: "a thing",
  kind: "equipment",
  actor: "chief engineer",
  confirmBy: "2026-03-10",
  late: false,
  neededFor,
  had: [],
});
const planned = (ref: string): Asked["tests"][number] => ({
  ref,
  at: `/sets/0/${ref}`,
  kind: "overspeed",
  set: "Generator 1",
  name: "overspeed",
  way: "in some way",
  settled: false,
  others: [],
});
const asked: Asked = {
  questions: [],
  requests: [request("R1", ["T1", "T2"]), request("R2", ["T3"])],
  tests: ["T1", "T2", "T3"].map(planned),
  known: [],
};

const known = (ref: string, set: string): Asked["known"][number] => ({
  ref,
  at: `/sets/0/${ref}`,
  set,
  name: "Engine cooled by",
  told: "water",
  value: "water",
  ours: set === "",
  choices: [
    { value: "water", label: "Water" },
    { value: "air", label: "Air" },
  ],
  units: [],
});

test("what was taken as known is told only where it is said to be otherwise", () => {
  const all: Asked = { questions: [], requests: [], tests: [], known: [known("K1", "Generator 1"), known("K2", "")] };
  expect(toldFilled(all, new Map())).toEqual([]);
  expect(
    toldFilled(
      all,
      new Map([
        [knownFields("K1").is, "air"],
        [knownFields("K2").is, "not known"],
      ]),
    ),
  ).toEqual([
    { ref: "K1", text: "Generator 1: Engine cooled by, taken as water", says: "In fact: Air" },
    { ref: "K2", text: "Engine cooled by, taken as water (taken by us)", says: "In fact: Not known yet" },
  ]);
});

test("a test that is agreed to though what it needs is refused is told, and no other", () => {
  const fields = new Map([
    [requestFields("R1").says, "no"],
    [requestFields("R2").says, "yes"],
    [testFields("T1").says, "agreed"],
    [testFields("T2").says, "another way"],
    [testFields("T3").says, "agreed"],
  ]);
  expect(atOdds(asked, fields, "2026-03-18")).toEqual([{ test: "T1", request: "R1" }]);
  expect(atOdds(asked, new Map([...fields, [requestFields("R1").says, "yes"]]), "2026-03-18")).toEqual([]);
  expect(toldFilled(asked, fields).map(({ ref, says }) => `${ref} ${says}`)).toEqual([
    "R1 No",
    "R2 Yes",
    "T1 Agreed",
    "T2 We propose another way",
    "T3 Agreed",
  ]);
});

test("a thing that comes after the visit begins counts like one that is refused; on its first day it is in time", () => {
  const by = (day: string) =>
    new Map([
      [requestFields("R1").says, "by another date"],
      [requestFields("R1").by, day],
      [testFields("T1").says, "agreed"],
      [testFields("T3").says, "agreed"],
    ]);
  const begins = "2026-12-18";
  expect([...tooLate(asked, by("30 December 2026"), begins)]).toEqual([
    ["R1", "30 December 2026 is after the visit begins on 18 December 2026: it counts as not to be had in time."],
  ]);
  expect(atOdds(asked, by("2026-12-30"), begins)).toEqual([{ test: "T1", request: "R1", late: true }]);
  expect(atOdds(asked, by("2026-12-18"), begins)).toEqual([]);
  expect(tooLate(asked, new Map([...by("2026-12-30"), [requestFields("R1").says, "yes"]]), begins).size).toBe(0);
  expect(tooLate(asked, by("some day"), begins).size).toBe(0);
});

test("a test goes on as agreed where only its later ways are refused what they would need", () => {
  const later: Asked = { ...asked, requests: [{ ...request("R1", ["T1"]), later: true }] };
  const fields = new Map([
    [requestFields("R1").says, "no"],
    [testFields("T1").says, "agreed"],
  ]);
  expect(atOdds(later, fields, "2026-12-18")).toEqual([]);
});
