import { expect, test } from "vitest";
import { requestFields, testFields } from "../../lib/letter/formFields.ts";
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
