import { listAnd } from "../plan/say.ts";
import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { Block } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { markWords } from "./marks.ts";
import { capital, testsIn } from "./words.ts";

/** Cautions of the planned methods, each once with its tests; then what will never be done. */
export const safetyBlocks = (plan: Plan, rulebook: Rulebook): readonly Block[] => {
  const tests = new Map<string, string[]>();
  for (const { ref, cautions } of plan.sets.flatMap(({ protections }) => protections)) {
    for (const id of cautions) tests.set(id, [...(tests.get(id) ?? []), ref]);
  }
  // Cautions of the same tests stand together, so that their references are read once.
  const together = new Map<string, string[]>();
  for (const { id, text } of rulebook.cautions) {
    const refs = tests.get(id);
    if (refs !== undefined) together.set(testsIn(refs), [...(together.get(testsIn(refs)) ?? []), text]);
  }
  const items = [...together].map(([label, texts]) => ({ label, text: texts.join(" ") }));
  const kinds = new Set(
    plan.sets.flatMap(({ protections }) => protections.filter(({ applies }) => applies !== "no").map(({ kind }) => kind)),
  );
  const forbidden = rulebook.protections
    .filter(({ kind }) => kinds.has(kind))
    .flatMap(({ methods }) => methods.filter(({ hazard }) => hazard === 3).map(({ name }) => capital(name)));
  return [
    ...(items.length === 0 ? [{ kind: "paragraph" as const, text: SAY.notes.noCaution }] : [{ kind: "labelled" as const, items }]),
    ...(forbidden.length === 0
      ? []
      : [
          { kind: "subheading" as const, text: SAY.headings.neverDone },
          { kind: "never" as const, acts: [...new Set(forbidden)] },
        ]),
  ];
};

/** Only what is remembered or read our own way is marked in a finding. */
const markOf = (bases: Parameters<typeof markWords>[0]): string => markWords(bases.filter(({ mark }) => mark !== "practice"));

/** What is said of several sets in the same words is said once. */
const alike = ({ sets }: Plan, texts: readonly string[]): readonly string[] => {
  const said = new Map<string, string[]>();
  for (const text of texts) {
    const name = sets.find((set) => text.startsWith(`${set.name}: `))?.name;
    const rest = name === undefined ? text : text.slice(name.length + 2);
    said.set(rest, [...(said.get(rest) ?? []), ...(name === undefined ? [] : [name])]);
  }
  return [...said].map(([rest, names]) => (names.length === 0 ? rest : `${listAnd(names)}: ${rest}`));
};

/** Findings and doubts that the vessel should know of. Where no way is left, the protection itself says so. */
export const noticeBlocks = (plan: Plan): readonly Block[] => {
  const without = new Set(
    plan.sets.flatMap(({ protections }) =>
      protections.filter(({ decision }) => decision.outcome === "nothing acceptable").map(({ at }) => at),
    ),
  );
  const saidAbove = ({ at, text }: Plan["warnings"][number]): boolean =>
    at !== undefined && without.has(at) && text.includes("no acceptable way");
  // What is too long for the window is asked on page one.
  const told = alike(
    plan,
    plan.warnings
      .filter((warning) => warning.officeOnly !== true && warning.tooLong !== true && !saidAbove(warning))
      .map(({ text, basis }) => `${text}${markOf(basis)}`),
  );
  return told.length === 0
    ? []
    : [
        { kind: "heading", text: SAY.headings.noticed },
        { kind: "bullets", items: [...new Set(told)] },
      ];
};
