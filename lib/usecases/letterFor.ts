import { type Result, success } from "../kernel/result.ts";
import type { Letter } from "../letter/blocks.ts";
import { inspectorPlanOf } from "../letter/inspectorPlan.ts";
import { jobSheetOf } from "../letter/jobSheet.ts";
import { letterOf } from "../letter/letter.ts";
import { openRenderer } from "../letter/render.ts";
import { carrySheetsOf } from "../letter/sheets/carrySheets.ts";
import { dayOf } from "../plan/day/planDay.ts";
import { drawnUp } from "../plan/day/setup.ts";
import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { UnitSystem } from "../units/units.ts";
import type { Planned } from "./planFile.ts";

/** A paper of a planned visit, by the ending of its file. */
export interface Paper {
  readonly ending: string;
  readonly content: Uint8Array | string;
}

/** Writes the papers of planned visits, one after the other in one worker. */
export interface Letters {
  /** Starts the worker, so that it is ready by the time the first plan is. */
  readonly warm: () => void;
  readonly render: (planned: Planned, rulebook: Rulebook) => Promise<Result<Uint8Array>>;
  /**
   * The letter as a page, the plan for the inspector, the technicians' job sheet where one is asked for, and the sheets that are carried aboard,
   * in the order of the day.
   */
  readonly sheets: (planned: Planned, rulebook: Rulebook) => Promise<Result<readonly Paper[]>>;
  readonly close: () => Promise<void>;
}

/** `former` is the plan of the letter before this one, where there was one. */
export const letterFor = (units: UnitSystem, former?: Plan): Letters => {
  const renderer = openRenderer();
  const inputOf = ({ plan, read }: Planned, rulebook: Rulebook) => ({
    plan,
    read,
    rulebook,
    units,
    ...(former === undefined ? {} : { former }),
  });
  const sheets = async (planned: Planned, rulebook: Rulebook): Promise<Result<readonly Paper[]>> => {
    const input = inputOf(planned, rulebook);
    // Only here, so that a plan without sheets does not wait for it to load.
    const { htmlOf } = await import("../letter/html/document.tsx");
    const papers: Paper[] = [{ ending: "letter.html", content: htmlOf(letterOf(input)) }];
    const wanted: readonly (readonly [ending: string, sheet: Letter | null])[] = [
      ["inspector.pdf", inspectorPlanOf(input)],
      ["jobs.pdf", jobSheetOf(input)],
      ["sheets.pdf", carrySheetsOf(input, dayOf(drawnUp(input)))],
    ];
    for (const [ending, sheet] of wanted) {
      if (sheet === null) continue;
      const pdf = await renderer.render(sheet);
      if (!pdf.ok) return pdf;
      papers.push({ ending, content: pdf.value });
    }
    return success(papers);
  };
  return {
    warm: renderer.warm,
    render: (planned, rulebook) => renderer.render(letterOf(inputOf(planned, rulebook))),
    sheets,
    close: renderer.close,
  };
};
