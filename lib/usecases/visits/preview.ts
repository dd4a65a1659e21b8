import { type Preview, previewOf } from "../../flow/live.ts";
import { newRemembered } from "../../kernel/remembered.ts";
import type { Planner } from "../../plan/plan.ts";
import type { StoredVisit } from "../../store/store.ts";
import { openVisit } from "./visitDraft.ts";

export type PreviewFor = (stored: StoredVisit) => Preview;

/** So many plans are remembered; a visit of one version is always planned alike. */
const REMEMBERED = 40;

/** The plan of a visit as it stands, whatever of it is missing; the last ones are remembered by visit and version. */
export const previewsBy = (planner: Planner): PreviewFor => {
  const known = newRemembered<Preview>(REMEMBERED);
  return (stored) => known(`${stored.id} ${stored.version}`, () => previewOf(openVisit(stored).draft, planner));
};
