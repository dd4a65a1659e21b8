import { readFileSync } from "node:fs";
import { success } from "../../lib/kernel/result.ts";
import type { Letter } from "../../lib/letter/blocks.ts";
import { letterOf } from "../../lib/letter/letter.ts";
import { askedNow } from "../../lib/letter/questions.ts";
import type { ReadVisit } from "../../lib/model/read.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { planFile } from "../../lib/usecases/planFile.ts";
import { visit } from "../cli/cli.ts";

const planner = newPlanner(rulebook);

/** Plan and letter of a visit file's text. */
export const planned = async (
  text: string,
  units: "metric" | "us" = "metric",
): Promise<{ plan: Plan; letter: Letter; read: ReadVisit }> => {
  const result = await planFile(planner, { read: async () => success(text) }, "visit");
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  const { plan, read } = result.value;
  return { plan, read, letter: letterOf({ plan, read, rulebook, units }) };
};

export const visitText = (name: string): string => readFileSync(visit(name), "utf8");

export type Json = Record<string, unknown>;
export interface VisitFile {
  visit: { vessel: Json; people: Json[]; place: Json };
  sets: Json[];
  support: Json;
}

/** The text of a demo visit with something changed. */
export const withVisit = async (name: string, change: (visit: VisitFile) => void): Promise<string> => {
  const file = JSON.parse(visitText(name)) as VisitFile;
  change(file);
  return JSON.stringify(file);
};

/** References as a reader finds them: single ones and those inside a run, "Q2 to Q5". */
export const referencesIn = (text: string): ReadonlySet<string> => {
  const found = new Set<string>();
  for (const [, letter = "", from = "", to = ""] of text.matchAll(/\b([TQRK])(\d+)(?:\s+to\s+\1(\d+))?/g)) {
    for (let n = Number(from); n <= Number(to === "" ? from : to); n += 1) found.add(`${letter}${n}`);
  }
  return found;
};

/** Every reference that a plan handed out to something it asks now, plans or wants. */
export const namedIn = (plan: Plan): readonly string[] =>
  [
    ...askedNow(plan),
    ...plan.requests,
    ...plan.sets.flatMap(({ protections }) => protections.filter(({ applies }) => applies !== "no")),
  ].map(({ ref }) => ref);

/** Every text of a letter, with quotation marks as they are written in JSON. */
export const letterText = (letter: Letter): string => JSON.stringify(letter.blocks);

/** Every text of a letter, with plain spaces. */
export const shown = (letter: Letter): string => letterText(letter).replaceAll("\u00a0", " ");
