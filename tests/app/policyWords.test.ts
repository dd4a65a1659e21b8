import { expect, test } from "vitest";
import { standingWords } from "../../app/_server/policyWords.ts";
import { officePolicySchema } from "../../lib/model/officePolicy.ts";
import type { PolicyVersion } from "../../lib/usecases/policy/inForce.ts";

const written = { policy: officePolicySchema.parse({}), note: "", who: "odo", when: "2026-03-02T08:00:00.000Z" };
const adopted = (number: number, takesEffect: string, on: string): PolicyVersion => ({
  ...written,
  number,
  decided: { number, act: "adopted", takesEffect, note: "", who: "odo", when: `${on}T09:00:00.000Z` },
});

test("what became of each policy is told as it was", () => {
  const versions: readonly PolicyVersion[] = [
    adopted(1, "2026-03-10", "2026-03-02"),
    adopted(2, "2026-04-01", "2026-03-02"),
    adopted(3, "2026-03-20", "2026-03-12"),
    { ...written, number: 4, decided: null },
    { ...written, number: 5, decided: { number: 4, act: "dropped", note: "", who: "odo", when: written.when } },
    adopted(6, "2026-05-01", "2026-03-21"),
  ];
  expect(versions.map((version) => standingWords(version, versions, 3, "2026-04-02"))).toEqual([
    "was in force from 10 March 2026",
    "never in force: policy 3 took its place before 1 April 2026",
    "in force since 20 March 2026",
    "a draft that is being weighed",
    "dropped",
    "takes effect on 1 May 2026",
  ]);
});
