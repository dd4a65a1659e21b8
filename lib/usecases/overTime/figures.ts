import { testResultSchema } from "../../model/result.ts";
import type { VisitHistory } from "../../store/histories.ts";

/** What one visit brings to the figures. */
export interface VisitFigures extends Pick<VisitHistory, "id" | "owner" | "vessel" | "begins"> {
  /** How many letters went out. */
  readonly letters: number;
  /** Of a visit that was settled: how many letters with their replies it took, and days from the first letter to the settled one. */
  readonly settled?: { readonly exchanges: number; readonly days: number };
  /** Whether its exchange ended without being settled. */
  readonly endedOpen: boolean;
  readonly asked: number;
  readonly confirmed: number;
  /** Tests of which it was entered what became of them. */
  readonly tests: number;
  readonly asPlanned: number;
  /** Of each that was not done as planned, why. */
  readonly causes: readonly string[];
}

const DAY = 24 * 60 * 60_000;

/** Nobody is asked for a cause where a test was done in another way. */
export const OTHERWISE = "done by another method";

/** One cause however it is written. */
export const causeKey = (cause: string): string => cause.trim().replace(/\s+/g, " ").replace(/\.$/, "").toLowerCase();

/** What one visit brings to the figures. Pure. */
export const figuresOf = ({ id, owner, vessel, begins, letters, confirmed, results }: VisitHistory): VisitFigures => {
  const [first, last] = [letters[0], letters.at(-1)];
  const asked = new Set(letters.flatMap(({ requests }) => requests));
  const records = results.flatMap((value) => {
    const read = testResultSchema.safeParse(value);
    return read.success ? [read.data] : [];
  });
  return {
    id,
    owner,
    vessel,
    begins,
    letters: letters.length,
    ...(first !== undefined && last?.kind === "settled"
      ? {
          settled: {
            exchanges: letters.filter(({ kind }) => kind === "letter").length,
            days: Math.max(0, Math.round((Date.parse(last.when.slice(0, 10)) - Date.parse(first.when.slice(0, 10))) / DAY)),
          },
        }
      : {}),
    endedOpen: last?.kind === "not settled",
    asked: asked.size,
    confirmed: [...asked].filter((ref) => confirmed.includes(ref)).length,
    tests: records.length,
    asPlanned: records.filter(({ outcome }) => outcome === "as planned").length,
    causes: records.flatMap((record) =>
      record.outcome === "as planned" ? [] : [record.outcome === "not done" ? record.why.trim() : OTHERWISE],
    ),
  };
};

/** A value with the number of things that it stands on; without a value where these are none. */
export interface Figure {
  readonly value?: number;
  readonly of: number;
}

/** The figures of some visits together. */
export interface Figures {
  readonly visits: number;
  /** Mean of the exchanges that it took to settle, of the visits settled. */
  readonly exchanges: Figure;
  /** Median of the days from the first letter to the settled one. */
  readonly days: Figure;
  /** Share of the requests asked that were confirmed, 0 to 1. */
  readonly requests: Figure & { readonly met: number };
  /** Share of the tests that were done as planned, of those of which it was entered. */
  readonly tests: Figure & { readonly met: number };
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

const mean = (values: readonly number[]): Figure =>
  values.length === 0 ? { of: 0 } : { value: sum(values) / values.length, of: values.length };

const median = (values: readonly number[]): Figure => {
  if (values.length === 0) return { of: 0 };
  const sorted = [...values].sort((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  const upper = sorted[half] ?? 0;
  return { value: sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? 0) + upper) / 2, of: sorted.length };
};

const share = (met: number, of: number): Figure & { readonly met: number } => ({ met, of, ...(of === 0 ? {} : { value: met / of }) });

/** The figures of some visits together. Pure. */
export const together = (visits: readonly VisitFigures[]): Figures => {
  const settled = visits.flatMap((visit) => visit.settled ?? []);
  return {
    visits: visits.length,
    exchanges: mean(settled.map(({ exchanges }) => exchanges)),
    days: median(settled.map(({ days }) => days)),
    requests: share(sum(visits.map(({ confirmed }) => confirmed)), sum(visits.map(({ asked }) => asked))),
    tests: share(sum(visits.map(({ asPlanned }) => asPlanned)), sum(visits.map(({ tests }) => tests))),
  };
};

/** Months from one to another, both included: "2026-11", "2026-12", "2027-01". */
export const monthsFrom = (from: string, to: string): readonly string[] => {
  const at = (month: string): number => Number(month.slice(0, 4)) * 12 + Number(month.slice(5, 7)) - 1;
  return Array.from({ length: Math.max(0, at(to) - at(from) + 1) }, (_, place) => {
    const month = at(from) + place;
    return `${String(Math.floor(month / 12)).padStart(4, "0")}-${String((month % 12) + 1).padStart(2, "0")}`;
  });
};

/** The figures month by month, by the month in which a visit begins. */
export const byMonth = (
  visits: readonly VisitFigures[],
  months: readonly string[],
): readonly { readonly month: string; readonly figures: Figures }[] =>
  months.map((month) => ({ month, figures: together(visits.filter(({ begins }) => begins.startsWith(month))) }));

/** One cause why tests were not done as planned, in the words in which it was first written. */
export interface Cause {
  readonly key: string;
  readonly words: string;
  readonly count: number;
}

/** The causes of some visits, the most frequent first. */
export const causesOf = (visits: readonly Pick<VisitFigures, "causes">[]): readonly Cause[] => {
  const counted = new Map<string, Cause>();
  for (const words of visits.flatMap(({ causes }) => causes)) {
    const key = causeKey(words);
    const before = counted.get(key);
    counted.set(key, { key, words: before?.words ?? words, count: (before?.count ?? 0) + 1 });
  }
  return [...counted.values()].sort((a, b) => b.count - a.count || (a.key < b.key ? -1 : 1));
};
