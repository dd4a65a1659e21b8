import type { Figure, Figures, VisitFigures } from "./figures.ts";

/** One thing that is looked at over time. Data: the page, its drawings, its tables and the sheet all go by this list. */
export interface Measure {
  readonly id: "exchanges" | "days" | "requests" | "tests";
  readonly title: string;
  readonly about: string;
  readonly unit: string;
  /** The head of the column of values. */
  readonly head: string;
  /** What a value stands on. */
  readonly counted: string;
  /** The highest that can be, as it is drawn. */
  readonly most?: number;
  readonly of: (figures: Figures) => Figure;
  /** A value as it is drawn. */
  readonly drawn: (value: number) => number;
  readonly words: (value: number) => string;
  /** Whether a visit is among what the value stands on. */
  readonly counts: (visit: VisitFigures) => boolean;
}

const tenth = (value: number): string => (Math.round(value * 10) / 10).toFixed(1);
const same = (value: number): number => value;
const percent = (value: number): number => Math.round(value * 100);
const percentWords = (value: number): string => `${percent(value)} %`;

export const MEASURES: readonly Measure[] = [
  {
    id: "exchanges",
    title: "Exchanges to settle",
    about: "How many letters with their replies it took until all was agreed: the mean of the visits that were settled.",
    unit: "exchanges",
    head: "Exchanges, mean",
    counted: "visits settled",
    of: ({ exchanges }) => exchanges,
    drawn: same,
    words: tenth,
    counts: ({ settled }) => settled !== undefined,
  },
  {
    id: "days",
    title: "Days to settle",
    about:
      "From the day of the first letter to that of the letter that settled it: the median, so that one long exchange does not hide the others.",
    unit: "days",
    head: "Days, median",
    counted: "visits settled",
    of: ({ days }) => days,
    drawn: same,
    words: tenth,
    counts: ({ settled }) => settled !== undefined,
  },
  {
    id: "requests",
    title: "Requests confirmed",
    about: "Of all that the letters asked the vessels to arrange, what was confirmed and taken in. Photographs are not counted.",
    unit: "% of the requests",
    head: "Confirmed",
    counted: "requests asked",
    most: 100,
    of: ({ requests }) => requests,
    drawn: percent,
    words: percentWords,
    counts: ({ asked }) => asked > 0,
  },
  {
    id: "tests",
    title: "Tests done as planned",
    about: "Of the tests of which it was entered aboard what became of them, those that were done as planned.",
    unit: "% of the tests",
    head: "As planned",
    counted: "tests entered",
    most: 100,
    of: ({ tests }) => tests,
    drawn: percent,
    words: percentWords,
    counts: ({ tests }) => tests > 0,
  },
];

type Cell = string | number;

const cell = ({ value }: Figure, digits: number): Cell => (value === undefined ? "" : Number(value.toFixed(digits)));

/** The figures as rows of a sheet, the heads first. A share is a number from 0 to 1. */
export const monthRows = (months: readonly { readonly month: string; readonly figures: Figures }[]): readonly (readonly Cell[])[] => [
  [
    "Month of the visit",
    "Visits",
    "Visits settled",
    "Exchanges to settle (mean)",
    "Days to settle (median)",
    "Requests asked",
    "Requests confirmed",
    "Share confirmed",
    "Tests entered",
    "Tests as planned",
    "Share as planned",
  ],
  ...months.map(({ month, figures: { visits, exchanges, days, requests, tests } }) => [
    month,
    visits,
    exchanges.of,
    cell(exchanges, 2),
    cell(days, 1),
    requests.of,
    requests.met,
    cell(requests, 4),
    tests.of,
    tests.met,
    cell(tests, 4),
  ]),
];
