import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { plannerWith } from "../../lib/plan/build.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { planDocument } from "../../lib/usecases/planFile.ts";
import { visit } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";

const full = newPlanner(rulebook);
const untold = { verdicts: [], figures: [], cautions: [], askedFor: [], notes: [] };
// As a page has it: the rulebook came as JSON.
const quick = plannerWith(JSON.parse(JSON.stringify(rulebook)) as typeof rulebook, null);

test.each(VISITS)("without what is told beside decisions, questions and requests a plan is the same: %s", (name) => {
  const document: unknown = JSON.parse(readFileSync(visit(name), "utf8"));
  const [whole, bare] = [planDocument(full, document as object), planDocument(quick, document as object)];
  if (!whole.ok || !bare.ok) throw new Error("not planned");
  const told = whole.value.plan;
  expect(told.sets.flatMap(({ protections }) => protections).some(({ figures }) => figures.length > 0)).toBe(true);
  expect(bare.value.plan).toEqual({
    ...told,
    figures: [],
    findings: [],
    warnings: [],
    sets: told.sets.map((set) => ({ ...set, figures: [], protections: set.protections.map((one) => ({ ...one, ...untold })) })),
  });
});
