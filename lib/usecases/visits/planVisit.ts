import { visitFileOf } from "../../flow/draft.ts";
import type { Result } from "../../kernel/result.ts";
import type { Fault } from "../../model/fault.ts";
import type { Planner } from "../../plan/plan.ts";
import type { StoredVisit } from "../../store/store.ts";
import { type Planned, planDocument } from "../planFile.ts";
import { openVisit } from "./visitDraft.ts";

/** The visit file of a stored visit, as the command line reads it. */
export const fileOfVisit = (stored: StoredVisit, planner: Planner): object => visitFileOf(openVisit(stored).draft, planner.rulebook.facts);

/** Plans a stored visit. Where something is missing or wrong that a plan cannot do without, all of it is told. */
export const planVisit = (stored: StoredVisit, planner: Planner): Result<Planned, Fault> =>
  planDocument(planner, fileOfVisit(stored, planner));
