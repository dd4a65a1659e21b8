import type { Labelled } from "../../letter/blocks.ts";
import { howWords } from "../../letter/protections.ts";
import { lastTimeLines, resultWords } from "../../letter/results.ts";
import { unitRead } from "../../letter/sheets/figures.ts";
import { longDate, protectionOf } from "../../letter/words.ts";
import { valueAt } from "../../model/fault.ts";
import type { ReadVisit } from "../../model/read.ts";
import type { Reference } from "../../model/references.ts";
import { referenceOf } from "../../model/references.ts";
import { testsOf } from "../../plan/places.ts";
import { capital } from "../../plan/say.ts";
import type { Plan, PlanFigure, PlanProtection } from "../../plan/schema.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Act, StoredResult, StoredVisit } from "../../store/store.ts";
import { placedPointer, storedPointer } from "./places.ts";
import { amountAboard, askedMark, doubtsOf, openDoubts } from "./resultDoubts.ts";
import { NOTHING_TYPED, type ResultFault, resultIn, TAKE_BACK, type TypedResult, typedOfResult } from "./resultFields.ts";
import { kindAt, resultKept } from "./results.ts";

/** One entry of the record of a test, in words. */
export interface EntryWords extends Act {
  readonly version: number;
  readonly words: string;
}

const TAKEN_BACK = "taken back: nothing is recorded";

const entryWords = (entry: StoredResult, rulebook: Rulebook): EntryWords => {
  const { at, version, who, when } = entry;
  const result = resultKept(entry);
  const words = result === null ? capital(TAKEN_BACK) : `${longDate(result.on)}: ${resultWords(result, kindAt(at), rulebook)}`;
  return { version, who, when, words };
};

/** Everything that was entered of one protection, the latest first. */
export interface ResultLine {
  /** Its pointer with the id of its set. */
  readonly at: string;
  readonly ref: string;
  readonly set: string;
  readonly what: string;
  readonly entries: readonly EntryWords[];
}

/** All that was entered aboard at a visit, by protection: what its record tells. Pure. */
export const resultLines = (
  { frame, sets }: Pick<StoredVisit, "frame" | "sets">,
  entries: readonly StoredResult[],
  { rulebook, plan }: { readonly rulebook: Rulebook; readonly plan: Plan | null },
): readonly ResultLine[] => {
  const given = valueAt(frame, "/references");
  const references = (Array.isArray(given) ? given : []) as readonly Reference[];
  const refs = new Map((plan?.sets ?? []).flatMap(({ protections }) => protections.map(({ at, ref }) => [at, ref] as const)));
  return [...new Set(entries.map(({ at }) => at))].map((at) => {
    const place = placedPointer(at, sets);
    const set = /^\/sets\/(\d+)\//.exec(place)?.[1];
    return {
      at,
      ref: refs.get(place) ?? referenceOf(references, "T", at),
      set: set === undefined ? "A set that was taken out" : String(valueAt(frame, `/sets/${set}/name`) ?? `Set ${Number(set) + 1}`),
      what: capital(protectionOf(rulebook, kindAt(at))?.name ?? kindAt(at)),
      entries: entries.filter((entry) => entry.at === at).map((entry) => entryWords(entry, rulebook)),
    };
  });
};

/** One test as its record is filled in. */
export interface TestView {
  /** Pointer of the protection with the id of its set. */
  readonly at: string;
  readonly ref: string;
  readonly name: string;
  /** How it is planned, in short; empty where no way is left. */
  readonly way: string;
  /** The figure that the reading is held against; empty where the plan has none. */
  readonly against: string;
  /** The other figures of the test. */
  readonly figures: readonly string[];
  /** Every other method of its protection. */
  readonly methods: readonly { readonly id: string; readonly name: string }[];
  readonly values: TypedResult;
  /** The version of its record that the page shows; 0 where there is none. */
  readonly seen: number;
  /** What is recorded. */
  readonly kept?: EntryWords;
  /** What of the record was asked once more and kept as it stands. */
  readonly odd: readonly string[];
  /** What of the fields is asked once more before they are kept, and what the form carries of it. */
  readonly doubts: readonly ResultFault[];
  readonly asked: string;
  /** Whether the fields hold what was typed and is not kept. */
  readonly typed: boolean;
  readonly problems: readonly ResultFault[];
  readonly lastTime: readonly Labelled[];
}

export interface ResultsView {
  readonly sets: readonly { readonly name: string; readonly tests: readonly TestView[] }[];
  /** What was entered of protections that are no tests of the plan any more. */
  readonly gone: readonly ResultLine[];
}

/** What is known of a visit where its results are shown. */
export interface ResultsAsked {
  readonly stored: StoredVisit;
  readonly plan: Plan;
  readonly read: ReadVisit;
  readonly entries: readonly StoredResult[];
  /** What this person typed and could not be kept. */
  readonly typed: Readonly<Record<string, TypedResult>>;
  readonly now: string;
}

/** The day that a record is about unless another is told: today, or the last day of a visit that is past. */
const dayOf = ({ plan, now }: ResultsAsked): string => [now.slice(0, 10), plan.visit.window.to].sort()[0] ?? "";

const testView = (protection: PlanProtection, asked: ResultsAsked, rulebook: Rulebook): TestView => {
  const { stored, plan, entries, typed, read, now } = asked;
  const { ref, kind, decision, figures } = protection;
  const at = storedPointer(protection.at, stored.sets);
  const own = protectionOf(rulebook, kind);
  const shown = figures.filter(({ later }) => later !== true);
  const against = shown.find(({ value, unit }) => typeof value === "number" && unit !== "");
  const held = { plan, read, rulebook };
  const said = (figure: PlanFigure): string => capital(`${figure.name}: ${amountAboard(figure, protection, held, figure.note)}`);
  const latest = entries.find((entry) => entry.at === at);
  const kept = latest === undefined ? null : resultKept(latest);
  const planned = decision.outcome === "combination" ? decision.methods : [];
  const fresh: TypedResult = {
    ...NOTHING_TYPED,
    on: dayOf(asked),
    unit: unitRead(protection, { ...held, units: "metric" }) || (against?.unit ?? ""),
    planned: planned.join(","),
  };
  const before = kept === null ? fresh : typedOfResult(kept);
  const standing = { ...before, unit: before.unit || fresh.unit, planned: before.planned || fresh.planned };
  const mine = typed[at];
  const checked =
    mine === undefined || mine.outcome === TAKE_BACK
      ? null
      : resultIn(
          mine,
          (own?.methods ?? []).map(({ id }) => id),
          now,
        );
  const doubts = checked?.ok === true ? openDoubts(at, checked.value, kept, { stored, ...held }) : [];
  return {
    at,
    ref,
    name: capital(own?.name ?? kind),
    way: planned.length === 0 ? "" : howWords(protection, rulebook),
    against: against === undefined ? "" : said(against),
    figures: shown.filter((figure) => figure !== against).map(said),
    methods: (own?.methods ?? [])
      .filter(({ id }) => planned.length !== 1 || id !== planned[0])
      .map(({ id, name }) => ({ id, name: capital(name) })),
    values: mine ?? standing,
    seen: latest?.version ?? 0,
    odd: kept === null ? [] : doubtsOf(at, kept, { stored, ...held }).map(({ says }) => says),
    doubts,
    asked: askedMark(doubts, mine?.words ?? ""),
    ...(latest === undefined ? {} : { kept: entryWords(latest, rulebook) }),
    typed: mine !== undefined,
    problems: checked === null || checked.ok ? [] : checked.faults,
    lastTime: lastTimeLines(protection.at, read.visit.lastTime, rulebook),
  };
};

/** The tests of a visit's plan, set by set, as their records are filled in. Pure. */
export const resultsView = (asked: ResultsAsked, rulebook: Rulebook): ResultsView => {
  const { stored, plan, entries } = asked;
  const sets = plan.sets.map((set) => ({
    name: set.name,
    tests: testsOf({ sets: [set] }).map((protection) => testView(protection, asked, rulebook)),
  }));
  const shown = new Set(sets.flatMap(({ tests }) => tests.map(({ at }) => at)));
  return { sets, gone: resultLines(stored, entries, { rulebook, plan }).filter(({ at }) => !shown.has(at)) };
};
