import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Draft, draftOf, type Given, visitFileOf } from "../../lib/flow/draft.ts";
import { groupOf, questionsOf } from "../../lib/flow/questions.ts";
import { askedOn, neighbours, pathOf, type Step, stepsOf } from "../../lib/flow/steps.ts";
import { NOT_KNOWN } from "../../lib/model/fact.ts";
import { placesIn } from "../../lib/model/places.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { visit } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";
import { planned } from "../letter/letters.ts";

const fileOf = (name: string): object => JSON.parse(readFileSync(visit(name), "utf8")) as object;
const EMPTY: Draft = { frame: { sets: [{ name: "A" }, { name: "B" }] }, answers: new Map() };
const paths = (steps: readonly Step[]): readonly string[] => steps.map(({ path }) => path);

const asideIn = ({ warnings }: Plan): readonly string[] => warnings.flatMap(({ text }) => (text.includes("is set aside") ? [text] : []));

/** What is decided, asked and wanted. */
const outcomeOf = ({ sets, questions, requests, findings, references }: Plan): unknown => ({
  protections: sets.map(({ protections }) =>
    protections.map(({ ref, applies, decision, options }) => ({ ref, applies, decision, options })),
  ),
  questions,
  requests,
  findings,
  references,
});

describe.each(VISITS)("%s", (name) => {
  test("taken apart and put together again it plans the same", async () => {
    const before = await planned(JSON.stringify(fileOf(name)));
    const after = await planned(JSON.stringify(visitFileOf(draftOf(fileOf(name), rulebook.facts), rulebook.facts)));
    expect(outcomeOf(after.plan)).toEqual(outcomeOf(before.plan));
    // Answers that do not apply are set aside in the file itself; where there are none, not a byte differs.
    if (asideIn(before.plan).length === 0) expect(after.plan).toEqual(before.plan);
    expect(asideIn(after.plan)).toEqual([]);
  });

  test("apart it holds every answer and no fact in its frame; together once more it is the same file", () => {
    const draft = draftOf(fileOf(name), rulebook.facts);
    const sets = (fileOf(name) as { sets: { sisters?: string }[] }).sets.map(({ sisters = "A" }) => ({ sisters }));
    const places = new Set(placesIn(rulebook.facts, sets).map(({ at }) => at));
    expect([...draft.answers.keys()].filter((at) => !places.has(at))).toEqual([]);
    const file = visitFileOf(draft, rulebook.facts);
    expect(visitFileOf(draftOf(file, rulebook.facts), rulebook.facts)).toEqual(file);
  });
});

test("every fact is asked on exactly one page, and every page's facts are the rulebook's", () => {
  const known = new Set(paths(stepsOf(EMPTY, rulebook)));
  expect(known.size).toBe(paths(stepsOf(EMPTY, rulebook)).length);
  for (const { at } of rulebook.facts) {
    const path = pathOf(at, at.startsWith("/sets/*/") ? 0 : null);
    expect(known.has(path), `${at} on ${path}`).toBe(true);
  }
});

test("only what applies is asked: a steam turbine has no jacket water, and what hangs on an open question waits", () => {
  const draft = (primeMover: Given | undefined): Draft => ({
    ...EMPTY,
    answers: new Map(primeMover === undefined ? [] : [["/sets/0/primeMover", primeMover]]),
  });
  const asked = (given: Draft, path: string): number => stepsOf(given, rulebook).find((step) => step.path === path)?.asked.length ?? 0;
  expect(asked(draft("diesel"), "sets/1/overspeed")).toBeGreaterThan(0);
  expect(asked(draft("steam turbine"), "sets/1/overspeed")).toBe(0);
  expect(asked(draft("steam turbine"), "sets/1/turbineOverspeed")).toBeGreaterThan(0);
  expect(asked(draft(undefined), "sets/1/turbineOverspeed")).toBe(0);
  expect(asked(draft(NOT_KNOWN), "sets/1/overspeed")).toBe(0);
  expect(stepsOf(draft(NOT_KNOWN), rulebook).find(({ path }) => path === "sets/1/machine")?.state).toBe("in part");
});

test("what sister sets share says for which sets it is asked, where there are several groups", () => {
  const frame = (letters: readonly string[]) => ({ sets: letters.map((sisters, place) => ({ name: `Set ${place + 1}`, sisters })) });
  const at = "/support/sisters/B/lubeOilSpare";
  expect(groupOf(at, frame(["A", "B", "B"]))).toBe("Set 2 and Set 3");
  expect(groupOf(at, frame(["B", "B"]))).toBe("");
  expect(groupOf("/support/tachometer", frame(["A", "B"]))).toBe("");
  const two = { ...draftOf(fileOf("modern-electronic"), rulebook.facts) };
  const draft = { ...two, frame: { ...two.frame, ...frame(["A", "B"]) } };
  const asked = questionsOf(askedOn(draft, rulebook, "support"), null, { rulebook, frame: draft.frame });
  const texts = asked.map(({ question }) => question);
  expect(new Set(texts).size).toBe(texts.length);
  expect(texts.some((text) => text.startsWith("For Set 2: is a spare"))).toBe(true);
});

test("an answer under one that is not known any more is still asked, since it counts", () => {
  const kind = "/sets/0/lubeOilPressure";
  const base = draftOf(fileOf("modern-electronic"), rulebook.facts);
  const page = "sets/1/lubeOilPressure";
  const asked = askedOn(base, rulebook, page).map(({ at }) => at);
  expect(asked).toContain(`${kind}/setPoint`);
  const open = { ...base, answers: new Map([...base.answers, [`${kind}/fitted`, NOT_KNOWN]]) };
  const after = askedOn(open, rulebook, page).map(({ at }) => at);
  // What was answered is seen and can be changed; what was never answered waits.
  expect(after.filter((at) => at !== `${kind}/fitted` && !base.answers.has(at))).toEqual([]);
  expect(after).toEqual(asked.filter((at) => base.answers.has(at)));
});

test("an answer that makes others void hides them, and coming back restores them", () => {
  const answers = new Map<string, Given>([
    ["/sets/0/primeMover", "diesel"],
    ["/sets/0/overspeed/fitted", "trip"],
    ["/sets/0/overspeed/element", "pick-up of its own"],
  ]);
  const turbine = new Map(answers).set("/sets/0/primeMover", "steam turbine");
  const file = visitFileOf({ ...EMPTY, answers: turbine }, rulebook.facts) as { setAside: Record<string, unknown>; sets: object[] };
  expect(file.setAside).toEqual({ "/sets/0/overspeed/fitted": "trip", "/sets/0/overspeed/element": "pick-up of its own" });
  expect(file.sets[0]).toEqual({ name: "A", primeMover: "steam turbine" });
  const back = draftOf(file, rulebook.facts);
  const again = visitFileOf({ ...back, answers: new Map(back.answers).set("/sets/0/primeMover", "diesel") }, rulebook.facts);
  expect(again).toEqual(visitFileOf({ ...EMPTY, answers }, rulebook.facts));
});

test("answers of a set that was removed are left out of the file, never put on another", () => {
  const draft: Draft = { frame: { sets: [{ name: "A" }] }, answers: new Map([["/sets/1/primeMover", "diesel"]]) };
  expect(visitFileOf(draft, rulebook.facts)).toEqual({ sets: [{ name: "A" }] });
});

const choices = placesIn(rulebook.facts, [{ sisters: "A" }, { sisters: "A" }]).flatMap(({ spec, at }) =>
  spec.domain.kind === "choice" ? spec.domain.values.concat(NOT_KNOWN).map((value) => ({ at, value })) : [],
);

test("whatever is answered, forwards and backwards agree, and going on from the first page ends at the last", () => {
  fc.assert(
    fc.property(fc.uniqueArray(fc.constantFrom(...choices), { maxLength: 60, selector: ({ at }) => at }), (given) => {
      const steps = stepsOf({ ...EMPTY, answers: new Map(given.map(({ at, value }) => [at, value])) }, rulebook);
      const asking = steps.filter(({ state }) => state !== "nothing to ask");
      const walked: string[] = [];
      for (let path: string | null = asking[0]?.path ?? null; path !== null; path = neighbours(steps, path).after) {
        const { after } = neighbours(steps, path);
        if (after !== null) expect(neighbours(steps, after).before).toBe(path);
        walked.push(path);
      }
      expect(walked).toEqual(paths(asking));
      for (const { asked, state } of steps) {
        const open = asked.filter((question) => question.state === "open").length;
        expect(state === "answered").toBe(asked.length > 0 && open === 0);
      }
    }),
    { numRuns: 60 },
  );
});
