import { imoNumber } from "../../figures/checkDigit.ts";
import { dosePercent, HEARING_PROTECTION_ABOVE, hearingProtectionWanted, noiseBasis, permittedMinutes } from "../../figures/exposure.ts";
import { addWorkingDays, type WorkCalendar, workingDaysBetween } from "../../figures/workingDays.ts";
import { longDate } from "../longDate.ts";
import { ARITHMETIC, amount, choice, day, outcome, outcomes, read, whole, written } from "./build.ts";
import type { FigurePage, Input } from "./types.ts";

const NOISE = ["OSHA", "NIOSH"] as const;
const noiseRules: Input = choice("rules", "Limits", [
  ["OSHA", "29 CFR 1910.95 (OSHA)"],
  ["NIOSH", "NIOSH, the stricter"],
]);

const WEEKS = {
  "Monday to Friday": [1, 2, 3, 4, 5],
  "Sunday to Thursday": [0, 1, 2, 3, 4],
  "Monday to Saturday": [1, 2, 3, 4, 5, 6],
  "every day": [0, 1, 2, 3, 4, 5, 6],
} as const;
const WEEK_NAMES = Object.keys(WEEKS) as (keyof typeof WEEKS)[];
const week: Input = choice(
  "week",
  "Days that are worked",
  WEEK_NAMES.map((name) => [name, name]),
);
const holidays: Input = written("holidays", "Holidays", "As 2026-04-03, with blanks between (optional)", { optional: true });

const calendarOf = (name: keyof typeof WEEKS, given: string): WorkCalendar => ({
  workingDays: WEEKS[name],
  holidays: given.split(/[\s,;]+/).filter((one) => one !== ""),
});

export const generalPages: readonly FigurePage[] = [
  {
    id: "exposure",
    name: "time in noise",
    says: "How long somebody may stand beside a running set without protection, and what a day amounts to.",
    caution: `Above ${HEARING_PROTECTION_ABOVE.value} dB(A) hearing protection is worn, however short the stay.`,
    sources: [noiseBasis("OSHA"), noiseBasis("NIOSH"), HEARING_PROTECTION_ABOVE.basis],
    sums: [
      {
        id: "time",
        title: "Permitted time",
        formula: ["OSHA: t = 480 ÷ 2^((L − 90) ÷ 5) min, never above the table; NIOSH: t = 480 ÷ 2^((L − 85) ÷ 3) min"],
        inputs: [noiseRules, amount("level", "Level", "dB(A)")],
        work: (given) => {
          const wanted = hearingProtectionWanted(given.number("level"));
          return outcomes(permittedMinutes(given.number("level"), given.one("rules", NOISE)), (minutes) => [
            outcome(
              "permitted time",
              minutes,
              "min",
              1,
              minutes > 1440 ? "More than a day: all day." : minutes === 0 ? "None, without protection." : "In a day, without protection.",
            ),
            outcome("hearing protection", wanted.ok && wanted.value ? "is worn" : "is not asked"),
          ]);
        },
        example: {
          given: { rules: "OSHA", level: "105 dB(A)" },
          gives: [
            ["permitted time", 60, 1e-9],
            ["hearing protection", "is worn"],
          ],
          source: "29 CFR 1910.95 Table G-16",
        },
      },
      {
        id: "dose",
        title: "Dose of a day with two stays",
        formula: ["D = 100 × (C1 ÷ T1 + C2 ÷ T2), T the reference time of each level"],
        inputs: [
          noiseRules,
          amount("first", "Level of the one stay", "dB(A)"),
          amount("firstMinutes", "Its time", "min"),
          amount("second", "Level of another", "dB(A)", { optional: true, hint: "(optional)" }),
          amount("secondMinutes", "Its time", "min", { optional: true, hint: "(optional)" }),
        ],
        work: (given) => {
          const stays = [
            { decibels: given.maybe("first"), minutes: given.maybe("firstMinutes") },
            { decibels: given.maybe("second"), minutes: given.maybe("secondMinutes") },
          ].flatMap(({ decibels, minutes }) =>
            decibels === undefined && minutes === undefined ? [] : [{ decibels: decibels ?? Number.NaN, minutes: minutes ?? Number.NaN }],
          );
          return outcomes(dosePercent(stays, given.one("rules", NOISE)), (percent) => [
            outcome("dose", percent, "%", 1, percent <= 100 ? "At or under 100 %, what a day permits." : "Above what a day permits."),
          ]);
        },
        example: {
          given: { rules: "NIOSH", first: "91 dB(A)", firstMinutes: "60 min", second: "100 dB(A)", secondMinutes: "3 min" },
          gives: [["dose", 70, 1e-9]],
          source: "NIOSH recommended exposure limit, worked",
        },
      },
    ],
  },
  {
    id: "checkDigit",
    name: "IMO number and its check digit",
    says: "Whether a ship’s IMO number can be right, so that a slip of the pen is found before it stands in a letter.",
    sources: [read("tickerdossier.com/wiki/imo-ship-identification-number")],
    sums: [
      {
        id: "number",
        title: "Check of a number",
        formula: ["7 × d1 + 6 × d2 + 5 × d3 + 4 × d4 + 3 × d5 + 2 × d6; its last digit is d7"],
        inputs: [written("imo", "IMO number", "Seven digits, with or without IMO before them")],
        work: (given) =>
          outcomes(imoNumber(given.text("imo")), (digits) => [
            outcome("number", digits, undefined, undefined, "Its check digit is right."),
          ]),
        example: {
          given: { imo: "IMO 9074729" },
          gives: [["number", "9074729"]],
          source: "published example: 63 + 0 + 35 + 16 + 21 + 4 = 139",
        },
      },
    ],
  },
  {
    id: "workingDays",
    name: "working days",
    says: "The day by which something must be ordered or answered, counted in days that are worked.",
    sources: [ARITHMETIC],
    sums: [
      {
        id: "after",
        title: "So many working days after or before a day",
        formula: ["the day itself never counts; a number below 0 counts back"],
        inputs: [day("from", "From"), whole("count", "Working days"), week, holidays],
        work: (given) =>
          outcomes(
            addWorkingDays(given.text("from"), given.number("count"), calendarOf(given.one("week", WEEK_NAMES), given.text("holidays"))),
            (date) => [outcome("day", longDate(date))],
          ),
        example: {
          given: { from: "2026-04-07", count: "-1", week: "Monday to Friday", holidays: "2026-04-03 2026-04-06" },
          gives: [["day", longDate("2026-04-02")]],
          source: "Good Friday and Easter Monday 2026 with the weekend between, holidays of date-holidays",
        },
      },
      {
        id: "between",
        title: "Working days between two days",
        formula: ["those after the first day, up to and with the second"],
        inputs: [day("from", "From"), day("to", "To"), week, holidays],
        work: (given) =>
          outcomes(
            workingDaysBetween(given.text("from"), given.text("to"), calendarOf(given.one("week", WEEK_NAMES), given.text("holidays"))),
            (count) => [outcome("working days", count, undefined, 0, count < 0 ? "Below 0: the second day lies before the first." : "")],
          ),
        example: {
          given: { from: "2026-04-01", to: "2026-04-08", week: "Monday to Friday", holidays: "2026-04-03 2026-04-06" },
          gives: [["working days", 3]],
          source: "Easter 2026, holidays of date-holidays",
        },
      },
    ],
  },
];
