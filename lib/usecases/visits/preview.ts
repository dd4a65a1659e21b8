import { type Preview, previewOf } from "../../flow/live.ts";
import type { Planner } from "../../plan/plan.ts";
import type { StoredVisit } from "../../store/store.ts";
import { openVisit } from "./visitDraft.ts";

export type PreviewFor = (stored: StoredVisit) => Preview;

/** So many plans are remembered; a visit of one version is always planned alike. */
const REMEMBERED = 40;

/** The plan of a visit as it stands, whatever of it is missing; the last ones are remembered by visit and version. */
export const previewsBy = (planner: Planner): PreviewFor => {
  const known = new Map<string, Preview>();
  return (stored) => {
    const key = `${stored.id} ${stored.version}`;
    const preview = known.get(key) ?? previewOf(openVisit(stored).draft, planner);
    // The one looked at last is forgotten last.
    known.delete(key);
    known.set(key, preview);
    const [oldest] = known.keys();
    if (known.size > REMEMBERED && oldest !== undefined) known.delete(oldest);
    return preview;
  };
};
