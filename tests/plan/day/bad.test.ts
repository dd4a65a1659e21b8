import { describe, expect, test } from "vitest";
import { dayTexts, dayTyped } from "../../../lib/flow/dayForm.ts";
import { daySettingsSchema } from "../../../lib/model/daySettings.ts";
import { dayOf } from "../../../lib/plan/day/planDay.ts";
import { drawnUp } from "../../../lib/plan/day/setup.ts";
import type { DayPlan } from "../../../lib/plan/day/types.ts";
import { demo, inputOf } from "./visits.ts";

type Json = Record<string, unknown>;

const FEW = 100;

const dayFor = (name: string, day: Json, more: Json = {}): DayPlan => {
  const setup = drawnUp(inputOf({ ...demo(name), day, ...more }));
  return dayOf(setup, setup.asked, FEW);
};

/** The old vessel with one day only. */
const ONE_DAY: Json = { visit: { ...(demo("old-mechanical")["visit"] as Json), window: { from: "2026-04-29", to: "2026-04-29" } } };

const begins = (day: DayPlan, id: string): number | undefined => day.lines.find((line) => line.id === id)?.begins;

describe("what cannot be", () => {
  test("a window too short for even one test is told with how long the least takes and with what it would do", () => {
    const day = dayFor("old-mechanical", { hours: { from: "08:00", to: "09:00" }, pause: null }, ONE_DAY);
    expect(day.lines).toEqual([]);
    const self = day.leftOut.find(({ what }) => what === "The day itself");
    expect(self?.why).toBe("papers, hazard brief and close-out alone take 1 h 35 min; the hours give 1 h");
    expect(day.leftOut.some(({ why }) => /all would fit/.test(why))).toBe(true);
    // Papers that do not fit for themselves do not make the least shorter.
    const half = dayFor("old-mechanical", { hours: { from: "08:00", to: "08:30" }, pause: null }, ONE_DAY);
    expect(half.leftOut.find(({ what }) => what === "The day itself")?.why).toBe(
      "papers, hazard brief and close-out alone take 1 h 35 min; the hours give 30 min",
    );
    const longer = dayFor("old-mechanical", { hours: { from: "06:00", to: "20:00" }, pause: null }, ONE_DAY);
    expect(longer.lines.length).toBeGreaterThan(20);
  });

  test("more time that would do is named rightly: with it all fits", () => {
    const short = dayFor("old-mechanical", {}, ONE_DAY);
    expect(short.leftOut.some(({ why }) => why.includes("all would fit with 1 day more"))).toBe(true);
    const longer = dayFor("old-mechanical", {});
    expect(longer.leftOut.filter(({ why }) => why.includes("fit"))).toEqual([]);
  });

  test("where it is the starts in store that keep tests apart, the store is named, and a faster recharge does it", () => {
    const short = dayFor("mixed-channels", { recharge: { accumulator: 1440 } });
    expect(short.leftOut.some(({ why }) => why.startsWith("Emergency generator: starting store does not hold enough starts"))).toBe(true);
    expect(
      short.notes.some(({ says }) =>
        /^Nothing, until there are \d starts in Emergency generator: (?:second )?starting store again$/.test(says),
      ),
    ).toBe(true);
    const faster = dayFor("mixed-channels", { recharge: { battery: 60, accumulator: 60 } });
    expect(faster.leftOut.filter(({ why }) => why.includes("starts"))).toEqual([]);
    expect(faster.lines.length).toBeGreaterThan(short.lines.length);
  });

  test("without the hand stop of a set nothing of it is run: what leans on it falls with it, and says so", () => {
    const day = dayFor("old-mechanical", { minutes: [{ task: "T1", minutes: 600 }] });
    const why = (ref: string): string | undefined => day.leftOut.find((one) => one.ref === ref)?.why;
    expect(why("T1")).toMatch(/^it takes 10 h in one go/);
    for (const ref of ["T3", "T5", "T6", "T7", "T9"])
      expect([ref, why(ref)]).toEqual([ref, "T1 is not on the day, and must be proven before it"]);
    expect(day.lines.some(({ ref }) => ref === "T10")).toBe(true);
    const hours = dayFor("old-mechanical", { hours: { from: "08:00", to: "10:00" }, pause: null });
    const out = new Set(hours.leftOut.flatMap(({ ref }) => ref ?? []));
    if (out.has("T1")) expect(hours.lines.filter(({ phase, set }) => set === 0 && phase === "overspeed")).toEqual([]);
    expect(hours.leftOut.some(({ why: reason }) => reason.includes("all would fit"))).toBe(true);
  });

  test("the least important are left out: no test of the rule basis before one that it does not ask for, and the stops stay", () => {
    const day = dayFor("modern-electronic", {});
    const out = new Set(day.leftOut.map(({ ref }) => ref));
    expect(out.size).toBeGreaterThan(0);
    for (const stop of ["T1", "T11", "T21"]) expect(out.has(stop)).toBe(false);
  });

  test("pins that contradict each other are refused with the reason and the rest is kept", () => {
    const pins = [
      { task: "T3", is: "begins at", time: "2026-03-24T16:00" },
      { task: "T3", is: "begins at", time: "2026-03-24T17:00" },
      { task: "T4", is: "not before", time: "2026-03-24T14:00" },
    ];
    // A third day leaves room to move in.
    const visit = { ...(demo("shaft-generator")["visit"] as Json), window: { from: "2026-03-24", to: "2026-03-26" } };
    const day = dayFor("shaft-generator", { pins }, { visit });
    expect(day.refused).toEqual([
      "T3 Low lube-oil pressure cannot begin at 17:00 on 24 March 2026: it is asked to begin at 16:00 on 24 March 2026 as well.",
    ]);
    expect(begins(day, "T3")).toBe(16 * 60);
    expect(begins(day, "T4") ?? 0).toBeGreaterThanOrEqual(14 * 60);
  });

  test("a pin where the task stands anyhow is kept, and one outside the visit is told as that", () => {
    const usual = dayFor("old-mechanical", {}, ONE_DAY);
    const at = begins(usual, "T6") ?? 0;
    const time = `2026-04-29T${String(Math.floor(at / 60)).padStart(2, "0")}:${String(at % 60).padStart(2, "0")}`;
    const same = dayFor("old-mechanical", { pins: [{ task: "T6", is: "begins at", time }] }, ONE_DAY);
    expect([same.refused, begins(same, "T6")]).toEqual([[], at]);
    const outside = dayFor("old-mechanical", { pins: [{ task: "T6", is: "begins at", time: "2027-05-01T10:00" }] }, ONE_DAY);
    expect(outside.refused).toEqual([expect.stringContaining("that is outside the hours of the visit")]);
    // What is asked for is not the first to be left out.
    expect(usual.leftOut.map(({ ref }) => ref)).toContain("T13");
    const wanted = dayFor("old-mechanical", { pins: [{ task: "T13", is: "not before", time: "2026-04-29T09:00" }] }, ONE_DAY);
    expect([wanted.refused, wanted.leftOut.some(({ ref }) => ref === "T13")]).toEqual([[], false]);
    const none = dayFor("old-mechanical", { pins: [{ task: "T8", is: "begins at", time: "2026-04-29T15:00" }] }, ONE_DAY);
    expect(none.refused).toEqual(["There is no “T8” in this day; what was asked for it is passed over."]);
  });

  test("a beginning before what must come first is refused with the nearest that can be", () => {
    const day = dayFor("old-mechanical", { pins: [{ task: "T3", is: "begins at", time: "2026-04-29T08:00" }] }, ONE_DAY);
    expect(day.refused).toEqual([
      expect.stringMatching(/^T3 Low lube-oil pressure cannot begin at 08:00: the earliest that it can begin is \d\d:\d\d\.$/),
    ]);
    expect(day.lines.length).toBeGreaterThan(10);
  });

  test("a technician who comes late is waited for; one who is never there leaves his tests out with the reason", () => {
    const late = dayFor("shaft-generator", { technicians: [{ need: "relay-technician", from: "2026-03-25T10:00" }] });
    const his = late.lines.filter(({ takes }) => takes.some(({ lane }) => lane === "relay-technician"));
    expect(his.length).toBeGreaterThan(1);
    for (const line of his) expect(line.begins).toBeGreaterThanOrEqual(1440 + 600);
    const never = dayFor("shaft-generator", {
      technicians: [{ need: "relay-technician", from: "2026-03-24T09:00", to: "2026-03-24T09:30" }],
    });
    const out = never.leftOut.filter(({ why }) => why.includes("in one go"));
    expect(out.map(({ ref }) => ref).sort()).toEqual([...new Set(his.flatMap(({ ref }) => ref ?? []))].sort());
  });

  test("with one engineer no channel is blinded on a running set, and that is said", () => {
    const day = dayFor("old-mechanical", { engineers: 1 });
    expect(day.lines.some(({ blind }) => blind === true)).toBe(false);
    expect(day.leftOut.some(({ ref, why }) => ref === "T3" && why.includes("it wants 2 of ship’s engineers at once, there is 1"))).toBe(
      true,
    );
  });

  test("no set is left to carry the ship: its tests are left out and what would help is said", () => {
    const day = dayFor("mixed-channels", {});
    expect(day.lines.some(({ set, phase }) => set === 0 && phase !== "recovery")).toBe(false);
    const out = day.leftOut.filter(({ why }) => why.startsWith("no other set is left to carry the ship; with shore power"));
    expect(out.length).toBeGreaterThan(5);
  });

  test("too much load for the others is told with what they could carry", () => {
    const plant = { ...(demo("old-mechanical")["plant"] as Json), load: 480 };
    const day = dayFor("old-mechanical", {}, { plant });
    expect(day.leftOut.some(({ why }) => why === "the others cannot carry 525 kW within 85 %; they could carry 425 kW")).toBe(true);
  });

  test("receivers that hold not even one start above their floor leave the tests out that need it", () => {
    const file = demo("old-mechanical");
    const sets = (file["sets"] as readonly Json[]).map((set) => ({
      ...set,
      start: { ...(set["start"] as Json), store: "its own", storedStarts: 1 },
    }));
    const day = dayFor("old-mechanical", { keepStarts: 3 }, { sets });
    for (const { points, floor } of day.stores) for (const [, level] of points) expect(level).toBeGreaterThanOrEqual(floor - 1e-9);
    // A floor above what a store holds is brought down to what leaves one start.
    expect(day.stores.every(({ floor }) => floor === 0)).toBe(true);
    const stops = day.leftOut.find(({ ref }) => ref === "T1");
    expect(stops?.why).toMatch(/^it wants 3 starts of SSDG 1: starting store above its floor and the store gives 1; with a larger store/);
  });

  test("lengths that are none are told, and a test is never made shorter than its restart", () => {
    const day = dayFor("old-mechanical", {
      minutes: [
        { task: "T3", minutes: 5 },
        { task: "T99", minutes: 5 },
      ],
    });
    expect(day.refused).toEqual([
      "There is no “T99” in this day; what was asked for it is passed over.",
      "T3 Low lube-oil pressure cannot take 5 min; at least 16 min, its restart included.",
    ]);
    expect(() => inputOf({ ...demo("old-mechanical"), day: { minutes: [{ task: "T3", minutes: -5 }] } })).toThrow(/day.*minutes/);
  });
});

describe("the form", () => {
  test("says what it was given: settings go into it and come out as they were", () => {
    const settings = daySettingsSchema.parse({
      hours: { from: "07:30", to: "19:00" },
      pause: null,
      technicians: [{ need: "service-engineer", sisters: "B", from: "2026-04-29T13:00" }],
      pins: [{ task: "T3", is: "done by", time: "2026-04-29T15:00" }],
      minutes: [{ task: "walk-round 0", minutes: 30 }],
    });
    expect(dayTyped(dayTexts(settings))).toEqual({ ok: true, value: settings });
  });

  test.each([
    [{ from: "8 o'clock" }, "from", "Work begins: given “8 o'clock”; wanted a time of day"],
    [{ from: "19:00" }, "to", "wanted an end that is later"],
    [{ from: "04:00", to: "23:00", pauseFrom: "", pauseTo: "" }, "to", "at most 14 hours"],
    [{ pauseFrom: "07:00" }, "pauseFrom", "wanted a pause within the hours"],
    [{ pauseTo: "" }, "pauseTo", "Pause to: given nothing"],
    [{ engineers: "two" }, "engineers", "Ship’s engineers: given “two”; wanted a whole number"],
    [{ engineers: "0" }, "engineers", "given “0”"],
    [{ "minutes.T3": "-5" }, "minutes.T3", "T3, minutes: given “-5”"],
    [{ "minutes.T3": "1.5" }, "minutes.T3", "given “1.5”; wanted a whole number"],
    [{ "pin.T3": "begins at" }, "time.T3", "T3, time asked for: given nothing; wanted a day and a time"],
    [{ "time.T3": "13:00" }, "time.T3", "given “13:00”; wanted a day and a time of the ship's clock"],
    [{ "pin.T3": "whenever", "time.T3": "2026-04-29T13:00" }, "pin.T3", "given “whenever”"],
    [{ "comes.x": "2026-04-29T16:00", "leaves.x": "2026-04-29T15:00" }, "leaves.x", "wanted a leaving that is later than the coming"],
    [{ "comes.relay-technician": "2026-02-30T10:00" }, "comes.relay-technician", "wanted a day and a time"],
  ])("%o is told at its field", (typed, field, says) => {
    const usual = dayTexts(daySettingsSchema.parse({}));
    const read = dayTyped({ ...usual, ...typed } as Record<string, string>);
    expect(read.ok ? [] : read.faults).toEqual(expect.arrayContaining([{ field, says: expect.stringContaining(says) as string }]));
  });
});
