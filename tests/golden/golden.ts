import { readFileSync } from "node:fs";
import { digestOf } from "../../lib/kernel/digest.ts";
import { success } from "../../lib/kernel/result.ts";
import { explain } from "../../lib/plan/explain.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { readable } from "../../lib/plan/readable.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { planFile } from "../../lib/usecases/planFile.ts";

export const VISITS = [
  "almost-nothing-known",
  "dual-fuel",
  "mixed-channels",
  "modern-electronic",
  "offshore-vessel",
  "old-mechanical",
  "passenger-ship",
  "shaft-generator",
  "steam-turbines",
  "too-near",
] as const;

const planner = newPlanner(rulebook);

/**
 * A demo visit's plan in words, the explanation of every decision, and the digest of the whole plan: what a change of a
 * rule does to practitioners shows in the difference.
 */
export const goldenOf = async (name: string): Promise<string> => {
  const path = new URL(`../../fixtures/visits/${name}.json`, import.meta.url);
  const planned = await planFile(planner, { read: async () => success(readFileSync(path, "utf8")) }, name);
  if (!planned.ok) return `not planned: ${JSON.stringify(planned.faults)}\n`;
  const { plan, read } = planned.value;
  const refs = plan.sets.flatMap(({ protections }) => protections.map(({ ref }) => ref));
  const explanations = refs.map((ref) => explain(plan, ref, read.answers, rulebook) ?? "");
  // The rulebook's digest changes with every edit of a text; it is left out so that only consequences show.
  const { rulebook: _, ...rest } = plan;
  const words = readable(plan, rulebook, "metric").replace(/rulebook \S+ \([0-9a-f]+\)/, "rulebook");
  return [words, `digest of the plan: ${digestOf(rest)}\n`, ...explanations].join("\n");
};

export const goldenPath = (name: string): URL => new URL(`./${name}.txt`, import.meta.url);
