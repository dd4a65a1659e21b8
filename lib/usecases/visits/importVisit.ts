import type { World } from "../../kernel/ports.ts";
import { type Result, success } from "../../kernel/result.ts";
import type { Fault } from "../../model/fault.ts";
import { readVisit } from "../../model/read.ts";
import type { Planner } from "../../plan/plan.ts";
import type { Store } from "../../store/store.ts";
import { parseJson } from "../parseJson.ts";
import { storedParts } from "./visitDraft.ts";

/** Keeps a visit file as a new visit of its owner. A file with faults is not kept, and all of them are told. */
export const importVisit = async (
  { store, world, planner }: { readonly store: Store; readonly world: World; readonly planner: Planner },
  text: string,
  owner: string,
): Promise<Result<string, Fault>> => {
  const document = parseJson(text, "a visit file");
  if (!document.ok) return document;
  const read = readVisit(document.value, planner.rulebook.facts, planner.known);
  if (!read.ok) return read;
  const { frame, answers } = storedParts(document.value as object, planner.rulebook.facts);
  const id = world.newId();
  await store.createVisit(id, owner, frame, answers, { who: owner, when: world.now() });
  return success(id);
};
