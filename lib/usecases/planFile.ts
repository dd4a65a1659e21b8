import { type Result, success } from "../kernel/result.ts";
import type { Fault } from "../model/fault.ts";
import { type ReadVisit, readVisit } from "../model/read.ts";
import type { Planner } from "../plan/plan.ts";
import type { Plan } from "../plan/schema.ts";
import { parseJson } from "./parseJson.ts";

/** What the use case needs of the world: the text of a file, or a fault that says why it cannot be had. */
export interface Files {
  readonly read: (path: string) => Promise<Result<string, Fault>>;
}

export interface Planned {
  readonly read: ReadVisit;
  readonly plan: Plan;
}

/** Plans a parsed visit file. All its faults are returned at once. */
export const planDocument = (planner: Planner, document: unknown): Result<Planned, Fault> => {
  const read = readVisit(document, planner.rulebook.facts, planner.known);
  return read.ok ? success({ read: read.value, plan: planner.plan(read.value) }) : read;
};

/** Reads and plans one visit file. All its faults are returned at once. */
export const planFile = async (planner: Planner, files: Files, path: string): Promise<Result<Planned, Fault>> => {
  const text = await files.read(path);
  if (!text.ok) return text;
  const document = parseJson(text.value, "a visit file");
  return document.ok ? planDocument(planner, document.value) : document;
};
