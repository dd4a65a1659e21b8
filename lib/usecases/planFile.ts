import { failure, type Result, success } from "../kernel/result.ts";
import { duplicateKeys } from "../model/duplicateKeys.ts";
import { type Fault, pointer } from "../model/fault.ts";
import { type ReadVisit, readVisit } from "../model/read.ts";
import type { Planner } from "../plan/plan.ts";
import type { Plan } from "../plan/schema.ts";

/** What the use case needs of the world: the text of a file, or a fault that says why it cannot be had. */
export interface Files {
  readonly read: (path: string) => Promise<Result<string, Fault>>;
}

export interface Planned {
  readonly read: ReadVisit;
  readonly plan: Plan;
}

/** No visit file nests anywhere near this deep; what does is not one and could exhaust the reader. */
const DEEPEST = 40;

const depthOf = (text: string): number => {
  let depth = 0;
  let deepest = 0;
  for (const [token] of text.matchAll(/"(?:[^"\\]|\\.)*"|[[\]{}]/gs)) {
    if (token === "[" || token === "{") depth += 1;
    else if (token === "]" || token === "}") depth -= 1;
    deepest = Math.max(deepest, depth);
  }
  return deepest;
};

/** Parses JSON; a fault tells where it breaks. */
const parsed = (text: string): Result<unknown, Fault> => {
  if (depthOf(text) > DEEPEST)
    return failure({ at: "", given: "JSON nested too deep", wanted: `a visit file, which nests at most ${DEEPEST} deep` });
  try {
    const document: unknown = JSON.parse(text.replace(/^\ufeff/, ""));
    const twice = [...new Set(duplicateKeys(text).map(pointer))];
    return twice.length === 0
      ? success(document)
      : failure(
          ...twice.map(
            (at): Fault => ({ at, given: "twice in the same object", wanted: "each field once, since only one of them could count" }),
          ),
        );
  } catch (error) {
    const why = error instanceof Error ? error.message : "it cannot be read";
    return failure({ at: "", given: "text that is not JSON", wanted: `a visit file in JSON: ${why.replace(/\s+/g, " ").slice(0, 160)}` });
  }
};

/** Reads and plans one visit file. All its faults are returned at once. */
export const planFile = async (planner: Planner, files: Files, path: string): Promise<Result<Planned, Fault>> => {
  const text = await files.read(path);
  if (!text.ok) return text;
  const document = parsed(text.value);
  if (!document.ok) return document;
  const read = readVisit(document.value, planner.rulebook.facts, planner.known);
  return read.ok ? success({ read: read.value, plan: planner.plan(read.value) }) : read;
};
