import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Draft, draftOf, type Given } from "../../lib/flow/draft.ts";
import { previewOf } from "../../lib/flow/live.ts";
import { ABOARD, NOT_TO_BE_HAD } from "../../lib/model/fact.ts";
import { REPLY_FORMAT, type Reply } from "../../lib/model/reply.ts";
import { type Asked, askedOf } from "../../lib/plan/asked.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { settlementOf } from "../../lib/reply/settlement.ts";
import { takenIn, weigh } from "../../lib/reply/weigh.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { visit } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";

const planner = newPlanner(rulebook);

const draftFor = (name: string): Draft => draftOf(JSON.parse(readFileSync(visit(name), "utf8")) as object, rulebook.facts);

const planOf = (draft: Draft): Plan => {
  const preview = previewOf(draft, planner);
  if (!("plan" in preview)) throw new Error(JSON.stringify(preview.waits));
  return preview.plan;
};

/** A pure chance by number: a reply can then be told again from its seed. */
const chance = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
};

const pick = <Item>(items: readonly Item[], next: () => number): Item | undefined => items[Math.floor(next() * items.length)];

const numberFor = (at: string): number => {
  const template = at.replace(/^\/sets\/\d+\//, "/sets/*/").replace(/^\/support\/sisters\/[A-Z]\//, "/support/sisters/*/");
  const domain = rulebook.facts.find((fact) => fact.at === template)?.domain;
  return domain?.kind === "number" ? domain.from + Math.floor((domain.to - domain.from) / 4 / domain.step) * domain.step : 0;
};

/** A vessel that answers everything: whatever it has, and yes or no to what is asked. */
const fullReply = ({ questions, requests, tests }: Asked, next: () => number): Reply => ({
  format: REPLY_FORMAT,
  letter: "mark",
  by: { name: "Chief engineer" },
  questions: Object.fromEntries(
    questions.map(({ ref, at, choices }) => [ref, { says: "answer" as const, value: pick(choices, next)?.value ?? numberFor(at) }]),
  ),
  requests: Object.fromEntries(
    requests.map(({ ref, at, had }) => {
      const value = pick(had, next)?.value;
      const no = at !== undefined && next() < 0.3;
      return [ref, no ? { says: "no" as const } : { says: "yes" as const, ...(value === undefined ? {} : { had: value }) }];
    }),
  ),
  tests: Object.fromEntries(tests.map(({ ref }) => [ref, { says: "agreed" as const }])),
});

interface Exchange {
  readonly draft: Draft;
  readonly confirmed: ReadonlySet<string>;
}

/** One letter out, one reply back, all of it that is plain taken in, and every refusal. References stay. */
const exchanged = ({ draft, confirmed }: Exchange, next: () => number): Exchange => {
  const plan = planOf(draft);
  const asked = askedOf(plan, rulebook, confirmed);
  const weighed = weigh(fullReply(asked, next), { asked, plan, answers: draft.answers });
  const taken = takenIn(weighed, new Set(weighed.filter(({ plain, kind }) => plain || kind === "refused").map(({ ref }) => ref)));
  const frame = { ...draft.frame, references: plan.references };
  const withAnswers = (given: typeof taken.answers, to: Draft): Draft => ({
    frame,
    answers: new Map<string, Given>([...to.answers, ...given.map(({ at, value }) => [at, value] as const)]),
  });
  const plans = (one: Draft): boolean => "plan" in previewOf(one, planner);
  const all = withAnswers(taken.answers, draft);
  return {
    // Answers drawn by lot may contradict each other; this vessel then looks again and leaves out what does.
    draft: plans(all)
      ? all
      : taken.answers.reduce(
          (known, answer) => {
            const more = withAnswers([answer], known);
            return plans(more) ? more : known;
          },
          withAnswers([], draft),
        ),
    confirmed: new Set([...confirmed, ...taken.confirmed.map(({ request }) => request)]),
  };
};

const MOST_EXCHANGES = 8;

describe.each(VISITS)("%s", (name) => {
  test("a vessel that answers what it is asked comes to a settled plan in a few exchanges, and nothing is asked twice", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2 ** 31 }), (seed) => {
        const next = chance(seed);
        let at: Exchange = { draft: draftFor(name), confirmed: new Set() };
        for (let letter = 1; letter <= MOST_EXCHANGES; letter += 1) {
          const plan = planOf(at.draft);
          const settled = settlementOf(plan, at.confirmed, at.draft.answers);
          if (settled.settled) return;
          const asked = askedOf(plan, rulebook, at.confirmed);
          // Nor is a request once it is confirmed.
          expect(asked.requests.filter(({ ref }) => at.confirmed.has(ref))).toEqual([]);
          const after = exchanged(at, next);
          // What was answered is known, so that it is not asked any more.
          const open = new Set(planOf(after.draft).questions.map((question) => question.at));
          for (const question of asked.questions.filter(({ at }) => after.draft.answers.has(at)))
            expect(open.has(question.at) ? question.ref : "").toBe("");
          at = after;
        }
        throw new Error(
          `not settled after ${MOST_EXCHANGES} letters: ${JSON.stringify(settlementOf(planOf(at.draft), at.confirmed, at.draft.answers))}`,
        );
      }),
      { numRuns: 3, seed: 20261126 },
    );
  });
});

describe("a reply is weighed against what is known", () => {
  const draft = draftFor("modern-electronic");
  const plan = planOf(draft);
  const asked = askedOf(plan, rulebook);
  const reply = (more: Partial<Reply>): Reply => ({
    format: REPLY_FORMAT,
    letter: "mark",
    by: { name: "Chief engineer" },
    questions: {},
    requests: {},
    tests: {},
    ...more,
  });
  const [question] = asked.questions;
  const [request] = asked.requests.filter(({ at }) => at !== undefined && !draft.answers.has(at));
  const [bare] = asked.requests.filter(({ at }) => at === undefined);
  const [planned] = asked.tests;
  if (question === undefined || request === undefined || bare === undefined || planned === undefined)
    throw new Error("too little is asked");
  const weighing = { asked, plan, answers: draft.answers };
  const value = question.choices[0]?.value ?? 1;

  test("what is new is plain, what was said already too; what somebody knew otherwise is for a person", () => {
    const said = reply({ questions: { [question.ref]: { says: "answer", value } } });
    expect(weigh(said, weighing)).toEqual([{ ref: question.ref, kind: "answer", plain: true, write: { at: question.at, value } }]);
    const knowing = (given: Given) => weigh(said, { ...weighing, answers: new Map([...draft.answers, [question.at, given]]) })[0];
    expect(knowing(value)?.plain).toBe(true);
    expect(knowing("not known")?.plain).toBe(true);
    expect(knowing("something else")).toMatchObject({ kind: "correction", plain: false, was: "something else" });
  });

  test("a refusal is a fact; a yes without a fact is a confirmation; a no without one is for a person", () => {
    const [no] = weigh(reply({ requests: { [request.ref]: { says: "no", words: "not before May" } } }), weighing);
    expect(no).toEqual({
      ref: request.ref,
      kind: "refused",
      plain: false,
      write: { at: request.at, value: NOT_TO_BE_HAD },
      words: "not before May",
    });
    const [yes, other] = [
      weigh(reply({ requests: { [bare.ref]: { says: "yes" } } }), weighing),
      weigh(reply({ requests: { [bare.ref]: { says: "no" } } }), weighing),
    ];
    expect(yes).toEqual([{ ref: bare.ref, kind: "confirmed", plain: true }]);
    expect(other).toEqual([{ ref: bare.ref, kind: "refused", plain: false }]);
    expect(takenIn(no === undefined ? [] : [no], new Set([request.ref])).confirmed).toEqual([]);
    // A bare yes says nothing against that it is known to be aboard; a no does.
    const answers = new Map([...draft.answers, [request.at ?? "", ABOARD]]);
    const knowing = (says: "yes" | "no") => weigh(reply({ requests: { [request.ref]: { says } } }), { ...weighing, answers })[0];
    expect(knowing("yes")).toMatchObject({ plain: true, write: { value: ABOARD } });
    expect(knowing("no")).toMatchObject({ plain: false, was: ABOARD });
  });

  test("another date and another thing are never taken by themselves; a day after the visit begins is none", () => {
    const by = (day: string) => weigh(reply({ requests: { [request.ref]: { says: "by another date", by: day } } }), weighing)[0];
    const { from } = plan.visit.window;
    expect(by(from)).toMatchObject({ kind: "another date", plain: false, write: { value: "in time" } });
    expect(by("2099-01-01")).toMatchObject({ plain: false, write: { value: NOT_TO_BE_HAD } });
    const [early, late, none] = [
      by(from),
      by("2099-01-01"),
      weigh(reply({ requests: { [bare.ref]: { says: "by another date", by: from } } }), weighing)[0],
    ].map((one) => (one === undefined ? [] : takenIn([one], new Set([one.ref])).confirmed.map(({ by: day }) => day)));
    // What answers no fact of its own can be had by another day too.
    expect([early, late, none]).toEqual([[from], [], [from]]);
    expect(weigh(reply({ requests: { [request.ref]: { says: "instead", words: "our own gauge" } } }), weighing)).toEqual([
      { ref: request.ref, kind: "proposed instead", plain: false, words: "our own gauge" },
    ]);
  });

  test("a way that is proposed comes with what the engine says of it, and is taken as a deviation only", () => {
    const protection = plan.sets.flatMap(({ protections }) => protections).find(({ ref }) => ref === planned.ref);
    const [method] = protection?.verdicts ?? [];
    const [item] = weigh(reply({ tests: { [planned.ref]: { says: "another way", method: method?.method ?? "" } } }), weighing);
    expect(item).toEqual({ ref: planned.ref, kind: "another way", plain: false, proposal: { method: method?.method, verdict: method } });
    const outcome = takenIn(item === undefined ? [] : [item], new Set([planned.ref]));
    expect(outcome).toMatchObject({
      answers: [],
      confirmed: [],
      agreed: [],
      left: [],
      deviations: [{ protection: planned.ref, method: method?.method }],
    });
    expect(weigh(reply({ tests: { [planned.ref]: { says: "agreed" } } }), weighing)[0]?.plain).toBe(true);
    // Agreed with a remark is read by a person.
    expect(weigh(reply({ tests: { [planned.ref]: { says: "agreed", words: "if the sea allows" } } }), weighing)[0]?.plain).toBe(false);
  });

  test("what is not taken is left, and named", () => {
    const weighed = weigh(fullReply(asked, chance(1)), weighing);
    expect(takenIn(weighed, new Set())).toEqual({
      answers: [],
      confirmed: [],
      agreed: [],
      deviations: [],
      taken: [],
      left: weighed.map(({ ref }) => ref),
    });
  });
});
