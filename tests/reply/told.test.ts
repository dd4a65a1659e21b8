import { expect, test } from "vitest";
import { knownFields, requestFields, testFields } from "../../lib/letter/formFields.ts";
import type { Asked } from "../../lib/plan/asked.ts";
import { atOdds, toldFilled } from "../../lib/reply/told.ts";

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
  expect(atOdds(asked, fields)).toEqual([{ test: "T1", request: "R1" }]);
  expect(atOdds(asked, new Map([...fields, [requestFields("R1").says, "yes"]]))).toEqual([]);
  expect(toldFilled(asked, fields).map(({ ref, says }) => `${ref} ${says}`)).toEqual([
    "R1 No",
    "R2 Yes",
    "T1 Agreed",
    "T2 We propose another way",
    "T3 Agreed",
  ]);
});
