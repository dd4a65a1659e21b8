import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { Block } from "./blocks.ts";
import { capital, refRange } from "./words.ts";

/** Cautions of the planned methods, each once with its tests; then what will never be done. */
export const safetyBlocks = (plan: Plan, rulebook: Rulebook): readonly Block[] => {
  const tests = new Map<string, string[]>();
  for (const { ref, cautions } of plan.sets.flatMap(({ protections }) => protections)) {
    for (const id of cautions) tests.set(id, [...(tests.get(id) ?? []), ref]);
  }
  const items = rulebook.cautions.flatMap(({ id, text }) => {
    const refs = tests.get(id);
    return refs === undefined ? [] : [`${refRange(refs)}: ${text}`];
  });
  const kinds = new Set(
    plan.sets.flatMap(({ protections }) => protections.filter(({ applies }) => applies !== "no").map(({ kind }) => kind)),
  );
  const forbidden = rulebook.protections
    .filter(({ kind }) => kinds.has(kind))
    .flatMap(({ methods }) => methods.filter(({ hazard }) => hazard === 3).map(({ name }) => capital(name)));
  return [
    ...(items.length === 0 ? [] : [{ kind: "bullets" as const, items }]),
    { kind: "subheading", text: "Never done, whatever the facts" },
    { kind: "bullets", items: forbidden, tone: "danger" },
  ];
};

/** Findings and doubts that the vessel should know of. */
export const noticeBlocks = (plan: Plan): readonly Block[] => {
  const told = plan.warnings.filter(({ officeOnly }) => officeOnly !== true).map(({ text }) => text);
  return told.length === 0
    ? []
    : [
        { kind: "heading", text: "What we noticed" },
        { kind: "bullets", items: told },
      ];
};
