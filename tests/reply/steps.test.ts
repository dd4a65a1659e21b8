import { readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { factOf, withoutSet } from "../../lib/letter/alike.ts";
import { sizeWords } from "../../lib/letter/sizes.ts";
import { type Asked, askedInLetter, askedOf } from "../../lib/plan/asked.ts";
import { sisterQuestions } from "../../lib/reply/sisters.ts";
import { replySteps } from "../../lib/reply/steps.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { filledIn, savedWords } from "../../lib/usecases/exchange/fillStep.ts";
import { ROOT } from "../cli/cli.ts";
import { planned, visitText } from "../letter/letters.ts";

const visits = readdirSync(join(ROOT, "fixtures/visits")).map((file) => file.replace(".json", ""));

const askedBy = async (name: string): Promise<Asked> => askedInLetter(askedOf((await planned(visitText(name))).plan, rulebook));

describe.each(visits)("the pages of the reply to %s", (name) => {
  test("ask everything once, sister questions together and on one page", async () => {
    const asked = await askedBy(name);
    const steps = replySteps(asked);
    const all = [...asked.questions, ...asked.requests, ...asked.tests].map(({ ref }) => ref);
    expect(steps.flatMap(({ refs }) => refs).toSorted()).toEqual(all.toSorted());
    const pageOf = new Map(steps.flatMap(({ id, refs }) => refs.map((ref) => [ref, id] as const)));
    for (const alike of sisterQuestions(asked.questions)) {
      expect(new Set(alike.map((question) => `${factOf(question)} ${withoutSet(question)}`)).size).toBe(1);
      expect(new Set(alike.map(({ set }) => set)).size).toBe(alike.length);
      expect(new Set(alike.map(({ ref }) => pageOf.get(ref))).size).toBe(1);
    }
  });
});

const question = (set: number, fact: string): Asked["questions"][number] => ({
  ref: `Q${set * 100 + fact.length}`,
  at: `/sets/${set}/overspeed/${fact}`,
  set: `Generator ${set}`,
  text: `Generator ${set}: Is it ${fact}?`,
  why: "It decides.",
  decides: true,
  choices: [],
  units: [],
});

describe("pages of questions", () => {
  const pagesOf = (questions: Asked["questions"]) =>
    replySteps({ questions, requests: [], tests: [], known: [] }).flatMap(({ kind, refs }) => (kind === "questions" ? [refs.length] : []));

  test("hold ten questions, or more where sisters take less room, as even as they can be", () => {
    const alone = (count: number) => Array.from({ length: count }, (_, place) => question(1, "x".repeat(place + 1)));
    expect(pagesOf(alone(10))).toEqual([10]);
    expect(pagesOf(alone(11))).toEqual([6, 5]);
    expect(pagesOf(alone(22))).toEqual([8, 7, 7]);
    // Three sisters take the room of two questions.
    expect(pagesOf([1, 2, 3].flatMap((set) => ["a", "ab", "abc", "abcd", "abcde"].map((fact) => question(set, fact))))).toEqual([15]);
  });

  test("tear apart only what no page could hold", () => {
    expect(pagesOf(Array.from({ length: 30 }, (_, set) => question(set, "fitted")))).toEqual([12, 18]);
    expect(pagesOf(Array.from({ length: 12 }, (_, set) => question(set, "fitted")))).toEqual([12]);
  });
});

test("questions that read alike but are answered otherwise are no sisters", () => {
  const [one, other] = [question(1, "set"), { ...question(2, "set"), unit: "bar" as const, units: ["bar" as const] }];
  expect(sisterQuestions([one, other])).toEqual([[one], [other]]);
  expect(sisterQuestions([one, question(2, "set")])).toHaveLength(1);
  expect(sisterQuestions([one, question(2, "fitted")])).toHaveLength(2);
});

test("what a page says that it showed is taken from it, though the pages are divided otherwise by now", async () => {
  const asked = await askedBy("passenger-ship");
  const [first, second] = replySteps(asked).filter(({ kind }) => kind === "questions");
  const ref = second?.refs[0] ?? "";
  if (first === undefined) throw new Error("no page");
  const field = (name: string): string | null => (name === `q.${ref}.answer` ? "not known" : null);
  expect(filledIn(asked, first, { field, seen: `${ref}=4 Q999=1`, post: "p" })).toEqual([
    { ref, fields: { [`q.${ref}.answer`]: "not known" }, seen: 4, post: "p" },
  ]);
});

test("a saved page says what was kept though it is not understood, and what was not kept", () => {
  const at = "2026-03-02T08:15:09.000Z";
  const wrong = (count: number) =>
    Array.from({ length: count }, (_, place) => ({ ref: `Q${place + 1}`, says: "“a lot” stands here; wanted: a number" }));
  expect(savedWords(at, [], [])).toBe("Saved at 08:15 UTC.");
  expect(savedWords(at, wrong(1), [])).toBe(
    "Saved at 08:15 UTC. Kept as typed, but not understood yet: Q1 (“a lot” stands here; wanted: a number).",
  );
  expect(savedWords(at, wrong(3), [{ ref: "R2", says: "" }])).toBe(
    "Saved at 08:15 UTC. Kept as typed, but not understood yet: Q1, Q2, Q3. Not kept, since somebody else filled it in otherwise meanwhile: R2. Go on, and it is told.",
  );
});

test("the size of a file is told in kilobytes, from a megabyte on in tenths of it", () => {
  expect([1, 999, 1001, 345_600, 999_000, 999_001, 1_000_000, 10_000_001, 209_715_200].map(sizeWords)).toEqual([
    "1 kB",
    "1 kB",
    "2 kB",
    "346 kB",
    "999 kB",
    "1 MB",
    "1 MB",
    "10.1 MB",
    "209.8 MB",
  ]);
});
