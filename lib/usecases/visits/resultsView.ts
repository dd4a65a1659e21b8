import type { Labelled } from "../../letter/blocks.ts";
import { howWords } from "../../letter/protections.ts";
import { lastTimeLines, resultWords } from "../../letter/results.ts";
import { longDate, protectionOf } from "../../letter/words.ts";
import { valueAt } from "../../model/fault.ts";
import type { ReadVisit } from "../../model/read.ts";
import type { Reference } from "../../model/references.ts";
import { referenceOf } from "../../model/references.ts";
import type { TestResult } from "../../model/result.ts";
import { testsOf } from "../../plan/places.ts";
import { sayAmount, sayFigure } from "../../plan/readable.ts";
import { capital } from "../../plan/say.ts";
import type { Plan, PlanFigure, PlanProtection } from "../../plan/schema.ts";
import type { Rulebook } from "../../rulebook/types.ts";
import type { Act, StoredResult, StoredVisit } from "../../store/store.ts";
import { convert, isUnit } from "../../units/units.ts";
import { placedPointer, storedPointer } from "./places.ts";
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
  /** What of the record is to be looked at once more; empty where nothing is. */
  readonly doubt: string;
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

/** A reading this many tolerances off its set point is a slip of the pen or outside limits: rounding and a gauge's own error never make so much. */
const FAR = 2;

/** A reading far off the figure that it is held against, in a record that says that it is within limits. */
const doubtOf = (kept: TestResult | null, against: PlanFigure | undefined): string => {
  if (
    against === undefined ||
    kept === null ||
    kept.outcome === "not done" ||
    kept.within !== "within limits" ||
    kept.reading === undefined
  )
    return "";
  const { value, unit, tolerance } = against;
  if (typeof value !== "number" || tolerance === undefined || !isUnit(unit) || !isUnit(kept.reading.unit)) return "";
  const read = convert(Number(kept.reading.number), kept.reading.unit, unit);
  if (!read.ok || Math.abs(read.value - value) <= FAR * tolerance) return "";
  return `${kept.reading.number} ${kept.reading.unit} is far from ${sayAmount(against, "metric")}, and is recorded as within limits: look at it once more.`;
};

const testView = (protection: PlanProtection, asked: ResultsAsked, rulebook: Rulebook): TestView => {
  const { stored, entries, typed, read, now } = asked;
  const { ref, kind, decision, figures } = protection;
  const at = storedPointer(protection.at, stored.sets);
  const own = protectionOf(rulebook, kind);
  const shown = figures.filter(({ later }) => later !== true);
  const against = shown.find(({ value, unit }) => typeof value === "number" && unit !== "");
  const said = (figure: PlanFigure): string => capital(sayFigure(figure, "metric"));
  const latest = entries.find((entry) => entry.at === at);
  const kept = latest === undefined ? null : resultKept(latest);
  const planned = decision.outcome === "combination" ? decision.methods : [];
  const fresh: TypedResult = { ...NOTHING_TYPED, on: dayOf(asked), unit: against?.unit ?? "", planned: planned.join(",") };
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
    doubt: doubtOf(kept, against),
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
