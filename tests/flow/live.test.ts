import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { draftOf, visitFileOf } from "../../lib/flow/draft.ts";
import { changeWords, type Glance, glanceOf } from "../../lib/flow/glance.ts";
import { liveAnswer, previewOf } from "../../lib/flow/live.ts";
import { setAsideIn } from "../../lib/flow/questions.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { planDocument } from "../../lib/usecases/planFile.ts";
import { visit } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";

const planner = newPlanner(rulebook);
const fileOf = (name: string): object => JSON.parse(readFileSync(visit(name), "utf8")) as object;
const BARE = { format: "forehail visit 1", preparedOn: "2027-01-11", visit: {}, sets: [{ name: "Generator 1" }] };

const glanceIn = (file: object): Glance => {
  const preview = previewOf(draftOf(file, rulebook.facts), planner);
  if (!("glance" in preview)) throw new Error(JSON.stringify(preview.waits));
  return preview.glance;
};

test.each(VISITS)("the plan beside the questions is the plan of the command line: %s", (name) => {
  const draft = draftOf(fileOf(name), rulebook.facts);
  const preview = previewOf(draft, planner);
  const plan = "plan" in preview ? preview.plan : null;
  // Of the file as it is saved all is the same; of the file as it came, which may hold answers that do not apply, every decision.
  const [saved, came] = [planDocument(planner, visitFileOf(draft, rulebook.facts)), planDocument(planner, fileOf(name))];
  if (!saved.ok || !came.ok) throw new Error("not planned");
  expect(plan).toEqual(saved.value.plan);
  const decisions = ({ sets }: Plan) => sets.map(({ protections }) => protections.map(({ ref, decision }) => ({ ref, decision })));
  expect(plan === null ? null : decisions(plan)).toEqual(decisions(came.value.plan));
});

test("every protection of a plan stands in the glance, and its sums count them all", () => {
  for (const name of VISITS) {
    const planned = planDocument(planner, fileOf(name));
    if (!planned.ok) throw new Error("not planned");
    const { plan } = planned.value;
    const glance = glanceOf(plan, rulebook);
    const all = glance.sets.flatMap(({ protections }) => protections);
    expect(all.map(({ ref }) => ref)).toEqual(plan.sets.flatMap(({ protections }) => protections.map(({ ref }) => ref)));
    const off = all.filter(({ standing }) => standing === "does not apply").length;
    expect(glance.settled + glance.proposed + glance.stuck + off).toBe(all.length);
    for (const { open, ref } of all)
      expect(open).toBe(plan.questions.filter(({ decides }) => decides.some(({ protection }) => protection === ref)).length);
  }
});

describe("a draft of which nothing is told", () => {
  test("is shown as a plan with days that stand in, and nothing of them gets into it", () => {
    expect(glanceIn(BARE).sets).toHaveLength(1);
    expect(previewOf(draftOf(BARE, rulebook.facts), planner)).toEqual(previewOf(draftOf(BARE, rulebook.facts), planner));
  });

  test("waits where answers contradict each other, with the page where they are put right", () => {
    const preview = previewOf(
      draftOf({ ...BARE, sets: [{ name: "G", role: "shaft-driven", primeMover: "diesel" }] }, rulebook.facts),
      planner,
    );
    expect("waits" in preview ? preview.waits.map(({ page }) => page) : []).toEqual(["sets/1/machine"]);
  });
});

describe("while somebody types", () => {
  const typed = (values: Readonly<Record<string, string>>) =>
    liveAnswer(
      planner,
      draftOf(BARE, rulebook.facts),
      "sets/1/machine",
      Object.fromEntries(Object.entries(values).map(([at, text]) => [at, { text }])),
    );

  test("the questions that an answer brings appear, and go with it", () => {
    const at = "/sets/0/cooling";
    expect(typed({}).questions.some((question) => question.at === at)).toBe(false);
    expect(typed({ "/sets/0/primeMover": "diesel" }).questions.some((question) => question.at === at)).toBe(true);
    expect(typed({ "/sets/0/primeMover": "steam turbine" }).questions.some((question) => question.at === at)).toBe(false);
  });

  test("what is wrong or half typed counts as not answered", () => {
    const nothing = typed({});
    expect(typed({ "/sets/0/primeMover": "sails" }).preview).toEqual(nothing.preview);
  });

  test("what an answer makes void is set aside and named", () => {
    const file = { ...BARE, sets: [{ name: "G", primeMover: "diesel", cooling: "water" }] };
    expect(setAsideIn(draftOf(file, rulebook.facts), rulebook)).toEqual([]);
    const live = liveAnswer(planner, draftOf(file, rulebook.facts), "sets/1/machine", { "/sets/0/primeMover": { text: "steam turbine" } });
    expect(live.aside).toEqual([{ at: "/sets/0/cooling", name: "G: engine cooled by", answer: "water" }]);
  });

  test("every question says why it is asked, and an open one what hangs on it", () => {
    for (const { why, hangs, question } of typed({}).questions) {
      expect(why).not.toBe("");
      expect(question.endsWith("?")).toBe(true);
      expect(hangs).not.toBe("");
    }
    const mover = typed({}).questions.find(({ at }) => at === "/sets/0/primeMover");
    expect(mover?.hangs).toMatch(/^Decides T1/);
  });
});

test("a change is told in words once, and no change in none", () => {
  const before = glanceIn(BARE);
  const after = glanceIn({ ...BARE, sets: [{ name: "Generator 1", primeMover: "steam turbine" }] });
  expect(changeWords(before, before)).toBe("");
  expect(changeWords(before, after)).toMatch(/^Plan changed\. T\d+ .*\d+ more tests? changed\. .*decide/s);
});
