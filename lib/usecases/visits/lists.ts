import { failure, type Result, success } from "../../kernel/result.ts";
import type { Letter } from "../../letter/blocks.ts";
import { inspectorPlanOf } from "../../letter/inspectorPlan.ts";
import { jobSheetOf } from "../../letter/jobSheet.ts";
import { carrySheetsOf } from "../../letter/sheets/carrySheets.ts";
import { NOT_KNOWN } from "../../model/fact.ts";
import { messageOf } from "../../model/fault.ts";
import { calendarOf } from "../../outside/calendar.ts";
import { requestsCsv, requestsXlsx } from "../../outside/sheets.ts";
import { confirmedIn } from "../../plan/asked.ts";
import { drawnUp } from "../../plan/day/setup.ts";
import type { Planner } from "../../plan/plan.ts";
import type { Store, StoredVisit } from "../../store/store.ts";
import type { UnitSystem } from "../../units/units.ts";
import { endedNow } from "../exchange/ending.ts";
import type { Planned } from "../planFile.ts";
import { reviewNow, unreviewed } from "../review/reviewNow.ts";
import type { DayThread } from "./dayThread.ts";
import { planVisit } from "./planVisit.ts";

/** The lists and papers of a visit for others than the vessel, by the names of their files. */
export const LISTS = ["requests.xlsx", "requests.csv", "visit.ics", "jobs.pdf", "inspector.pdf", "sheets.pdf"] as const;

export type ListName = (typeof LISTS)[number];

export interface ListFile {
  readonly type: string;
  readonly content: Uint8Array | string;
}

/** What making a list needs. */
export interface ListWorld {
  readonly planner: Planner;
  readonly store: Store;
  readonly render: (letter: Letter) => Promise<Result<Uint8Array>>;
  readonly dayOf: DayThread["dayOf"];
  /** The instant that a calendar file bears. */
  readonly now: string;
  readonly units: UnitSystem;
}

/** How each request stands as far as its own fact tells, in words. */
const statesIn = ({ plan, read }: Planned): ReadonlyMap<string, string> => {
  const confirmed = new Map(read.visit.confirmed.map(({ request, letter }) => [request, `confirmed with letter ${letter}`]));
  return new Map(
    plan.requests.map(({ ref, at, refusedIs }) => {
      const known = at === undefined ? undefined : read.answers.get(at);
      const told = known === undefined || known === NOT_KNOWN ? "open" : known === refusedIs ? "cannot be had" : "to be had";
      return [ref, confirmed.get(ref) ?? told] as const;
    }),
  );
};

const pdfOf = async (sheet: Letter | null, { render }: ListWorld): Promise<Result<ListFile>> => {
  if (sheet === null) return failure("no technician is asked for, so there is no job sheet");
  const pdf = await render(sheet);
  return pdf.ok ? success({ type: "application/pdf", content: pdf.value }) : pdf;
};

/**
 * One list of a visit as it stands. Fails with what keeps the visit from being planned, where its review is wanted and not given, where no technician is asked for, or where a paper
 * cannot be rendered now.
 */
export const listOf = async (stored: StoredVisit, name: ListName, world: ListWorld): Promise<Result<ListFile>> => {
  const { planner, store, units, now } = world;
  const planned = planVisit(stored, planner);
  if (!planned.ok) return failure(...planned.faults.map(messageOf));
  const { plan, read } = planned.value;
  const { rulebook } = planner;
  // What goes to others than the office waits for the review as the letter does.
  const waits = name === "inspector.pdf" ? null : unreviewed(await reviewNow(store, stored, plan, now.slice(0, 10)));
  if (waits !== null) return failure(waits);
  const sheet = { plan, rulebook, states: statesIn(planned.value) };
  switch (name) {
    case "requests.xlsx":
      return success({
        type: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        content: await requestsXlsx(sheet),
      });
    case "requests.csv":
      return success({ type: "text/csv; charset=utf-8", content: requestsCsv(sheet) });
    case "visit.ics": {
      // As the next letter would have it, so that neither goes before the other.
      const mark = { uidStem: stored.id, sequence: read.visit.letters.length, stamp: now };
      const ended = await endedNow({ store, stored }, planned.value, rulebook);
      const calendar = calendarOf({ plan, earlier: [], done: confirmedIn(read.visit), ended, ...mark });
      return calendar.ok
        ? success({ type: "text/calendar; charset=utf-8", content: calendar.value })
        : failure(...calendar.faults.map(messageOf));
    }
    case "jobs.pdf":
      return pdfOf(jobSheetOf({ plan, read, rulebook, units }), world);
    case "inspector.pdf":
      return pdfOf(inspectorPlanOf({ plan, read, rulebook, units }), world);
    case "sheets.pdf":
      return pdfOf(carrySheetsOf({ plan, read, rulebook, units }, await world.dayOf(drawnUp({ plan, read, rulebook }))), world);
  }
};
