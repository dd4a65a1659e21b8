import Holidays from "date-holidays";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addWorkingDays,
  compareDates,
  daysAfter,
  daysBetween,
  isDate,
  type WorkCalendar,
  weekday,
  workingDaysBetween,
} from "../../lib/figures/workingDays.ts";
import { faultsOf, numberOf } from "./check.ts";

const WEEK: WorkCalendar = { workingDays: [1, 2, 3, 4, 5], holidays: [] };

const publicHolidays = (country: string, year: number): readonly string[] =>
  new Holidays(country, { types: ["public"] }).getHolidays(year).map((holiday) => holiday.date.slice(0, 10));

/** An ISO date made by the runtime's own calendar, in UTC: the second opinion. */
const isoOf = (milliseconds: number): string => new Date(milliseconds).toISOString().slice(0, 10);
const dates = fc
  .date({ min: new Date("1600-01-01"), max: new Date("2400-12-31"), noInvalidDate: true })
  .map((date) => isoOf(date.getTime()));

const calendars: fc.Arbitrary<WorkCalendar> = fc.record({
  workingDays: fc.uniqueArray(fc.integer({ min: 0, max: 6 }), { minLength: 1 }),
  holidays: fc.array(
    fc.date({ min: new Date("2026-01-01"), max: new Date("2027-12-31"), noInvalidDate: true }).map((date) => isoOf(date.getTime())),
    { maxLength: 20 },
  ),
});
const visits = fc
  .date({ min: new Date("2026-03-01"), max: new Date("2027-09-30"), noInvalidDate: true })
  .map((date) => isoOf(date.getTime()));

describe("dates", () => {
  it("are recognised as the Gregorian calendar has them", () => {
    for (const text of ["2024-02-29", "2000-02-29", "2026-12-31", "0001-01-01", "9999-12-31"]) expect(isDate(text), text).toBe(true);
    const wrong = [
      "2026-02-29",
      "1900-02-29",
      "2026-13-01",
      "2026-00-10",
      "2026-04-31",
      "2026-01-00",
      "0000-01-01",
      "2026-1-1",
      "",
      "today",
    ];
    for (const text of [...wrong, "2026-01-01T00:00:00Z", " 2026-01-01", "2026-01-01\n"]) expect(isDate(text), text).toBe(false);
  });

  it("have the runtime's weekdays", () => {
    expect(weekday("2000-01-01")).toEqual({ ok: true, value: 6 });
    expect(faultsOf(weekday("2026-02-30"))).toContain("2026-02-30");
    fc.assert(
      fc.property(dates, (date) => {
        expect(weekday(date)).toEqual({ ok: true, value: new Date(`${date}T00:00:00Z`).getUTCDay() });
      }),
    );
  });

  it("are stepped as the runtime steps them", () => {
    const everyDay: WorkCalendar = { workingDays: [0, 1, 2, 3, 4, 5, 6], holidays: [] };
    fc.assert(
      fc.property(dates, fc.integer({ min: -9000, max: 9000 }), (date, count) => {
        const expected = isoOf(Date.parse(`${date}T00:00:00Z`) + count * 86_400_000);
        expect(addWorkingDays(date, count, everyDay)).toEqual({ ok: true, value: expected });
      }),
    );
  });

  it("compare as they follow each other", () => {
    expect([
      compareDates("2026-01-31", "2026-02-01"),
      compareDates("2026-02-01", "2026-01-31"),
      compareDates("2026-02-01", "2026-02-01"),
    ]).toEqual([-1, 1, 0]);
    fc.assert(
      fc.property(dates, dates, (first, second) => {
        expect(compareDates(first, second)).toBe(Math.sign(Date.parse(first) - Date.parse(second)));
      }),
    );
  });
});

describe("working days", () => {
  it.each([
    ["2026-03-13", 1, "2026-03-16"],
    ["2026-03-16", -1, "2026-03-13"],
    ["2026-03-14", 1, "2026-03-16"],
    ["2026-03-14", -1, "2026-03-13"],
    ["2026-03-14", 0, "2026-03-14"],
    ["2026-03-11", 5, "2026-03-18"],
    ["2026-12-31", 1, "2027-01-01"],
    ["2024-02-28", 2, "2024-03-01"],
  ])("%s and %d gives %s over a plain week", (date, count, expected) => {
    expect(addWorkingDays(date, count, WEEK)).toEqual({ ok: true, value: expected });
  });

  it("step over public holidays of date-holidays", () => {
    const us = { ...WEEK, holidays: publicHolidays("US", 2026) };
    expect(us.holidays).toContain("2026-11-26");
    expect(addWorkingDays("2026-11-25", 1, us)).toEqual({ ok: true, value: "2026-11-27" });
    expect(addWorkingDays("2026-11-25", 1, WEEK)).toEqual({ ok: true, value: "2026-11-26" });
    const germany = { ...WEEK, holidays: [...publicHolidays("DE", 2026), ...publicHolidays("DE", 2027)] };
    // Good Friday 3 April and Easter Monday 6 April 2026 with the weekend between.
    expect(addWorkingDays("2026-04-07", -1, germany)).toEqual({ ok: true, value: "2026-04-02" });
    expect(addWorkingDays("2026-12-24", 1, germany)).toEqual({ ok: true, value: "2026-12-28" });
    expect(workingDaysBetween("2026-04-01", "2026-04-08", germany)).toEqual({ ok: true, value: 3 });
  });

  it("follow a week that rests on Friday and Saturday", () => {
    expect(addWorkingDays("2026-03-12", 1, { workingDays: [0, 1, 2, 3, 4], holidays: [] })).toEqual({ ok: true, value: "2026-03-15" });
  });

  it("are counted back to what was added, and land on a working day", () => {
    fc.assert(
      fc.property(visits, fc.integer({ min: -60, max: 60 }), calendars, (date, count, calendar) => {
        const there = addWorkingDays(date, count, calendar);
        expect(there.ok).toBe(true);
        if (!there.ok) return;
        expect(workingDaysBetween(date, there.value, calendar)).toEqual({ ok: true, value: count });
        expect(compareDates(there.value, date)).toBe(Math.sign(count));
        if (count === 0) return;
        expect(calendar.workingDays).toContain(numberOf(weekday(there.value)));
        expect(calendar.holidays).not.toContain(there.value);
        const back = addWorkingDays(there.value, -count, calendar);
        const startIsWorked = calendar.workingDays.includes(numberOf(weekday(date))) && !calendar.holidays.includes(date);
        if (startIsWorked) expect(back).toEqual({ ok: true, value: date });
      }),
    );
  });

  it("lie as many days apart as the runtime's own calendar says, and so many after another are found again", () => {
    fc.assert(
      fc.property(dates, fc.integer({ min: -5000, max: 5000 }), (date, days) => {
        const then = isoOf(Date.parse(date) + days * 86_400_000);
        expect(daysBetween(date, then)).toBe(days);
        expect(daysAfter(date, days)).toBe(then);
      }),
    );
    expect(daysBetween("2026-02-30", "2026-03-01")).toBeNaN();
    expect(daysAfter("x", 1)).toBe("x");
  });

  it("are refused on unusable input", () => {
    expect(faultsOf(addWorkingDays("2026-02-30", 1, WEEK))).toContain("2026-02-30");
    for (const count of [0.5, 10_001, Number.NaN]) expect(faultsOf(addWorkingDays("2026-01-01", count, WEEK))).toContain("whole number");
    expect(faultsOf(addWorkingDays("2026-01-01", 1, { ...WEEK, workingDays: [] }))).toContain("at least one");
    for (const day of [7, -1, 1.5])
      expect(faultsOf(addWorkingDays("2026-01-01", 1, { ...WEEK, workingDays: [day] }))).toContain(`not ${day}`);
    expect(faultsOf(addWorkingDays("2026-01-01", 1, { ...WEEK, holidays: ["Easter"] }))).toContain("Easter");
    expect(faultsOf(addWorkingDays("9999-12-31", 1, WEEK))).toContain("leave the calendar");
    expect(faultsOf(addWorkingDays("0001-01-01", -1, WEEK))).toContain("leave the calendar");
    expect(faultsOf(workingDaysBetween("x", "2026-01-01", WEEK))).toContain('"x"');
    expect(faultsOf(workingDaysBetween("2026-01-01", "y", WEEK))).toContain('"y"');
    expect(faultsOf(workingDaysBetween("2026-01-01", "2026-01-02", { ...WEEK, workingDays: [] }))).toContain("at least one");
  });
});
