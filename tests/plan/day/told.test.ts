import { describe, expect, test } from "vitest";
import { dayOf } from "../../../lib/plan/day/planDay.ts";
import { drawnUp } from "../../../lib/plan/day/setup.ts";
import type { DayPlan } from "../../../lib/plan/day/types.ts";
import { qualityWords } from "../../../lib/plan/day/words.ts";
import { demo, inputOf } from "./visits.ts";

type Json = Record<string, unknown>;

const FEW = 60;

const dayFor = (name: string, day: Json = {}): DayPlan => {
  const setup = drawnUp(inputOf({ ...demo(name), day }));
  return dayOf(setup, setup.asked, FEW);
};

const lanesOf = (day: DayPlan, id: string): readonly string[] =>
  day.lines.find((line) => line.id === id)?.takes.map(({ lane }) => lane) ?? [];

describe("who and what a task takes", () => {
  test("live terminals are the electrician's, where no technician works in the panel", () => {
    const day = dayFor("modern-electronic");
    const live = day.lines.filter(({ how }) => /control supply taken off|circuit opened and shorted/.test(how));
    expect(live.length).toBeGreaterThan(0);
    for (const { id } of live) expect([id, lanesOf(day, id)]).toEqual([id, expect.arrayContaining(["electricians"])]);
  });

  test("a technician is briefed on the day of his first task, right before it, by nobody who takes part elsewhere", () => {
    for (const name of ["passenger-ship", "dual-fuel", "offshore-vessel", "shaft-generator"]) {
      const day = dayFor(name);
      for (const brief of day.lines.filter(({ id }) => /^brief ./.test(id))) {
        const technician = brief.id.slice("brief ".length);
        const his = day.lines.filter(({ id, takes }) => id !== brief.id && takes.some(({ lane }) => lane === technician));
        const first = Math.min(...his.map(({ begins }) => begins));
        expect([name, brief.takes.map(({ lane }) => lane)]).toEqual([name, [technician]]);
        expect([name, Math.floor(brief.begins / 1440)]).toEqual([name, Math.floor(first / 1440)]);
        const pause = day.days.flatMap(({ breaks }) => breaks).find(({ from, to }) => from < first && to >= first);
        expect([name, brief.ends]).toEqual([name, pause === undefined ? first : pause.from]);
      }
    }
  });

  test("the generator of a shaft is taken off it without a start or a hot stop", () => {
    const day = dayFor("shaft-generator");
    const shaft = day.lines.filter(({ set, ref }) => set === 1 && ref !== undefined);
    expect(shaft.length).toBeGreaterThan(4);
    for (const { id, starts, hotStops } of shaft) expect([id, starts, hotStops]).toEqual([id, 0, 0]);
  });

  test("sets whose fuel was shut in one act are each started once after it", () => {
    const day = dayFor("modern-electronic");
    const [act] = day.lines.filter(({ also }) => also !== undefined);
    expect([act?.starts, act?.also?.length]).toEqual([3, 2]);
  });
});

describe("one act for several sets", () => {
  const lookedAndLeft = (day: DayPlan) => {
    const at = (id: string): number => day.lines.find((line) => line.id === id)?.begins ?? Number.NaN;
    return {
      looked: [0, 1, 2].map((set) => at(`walk-round ${set}`)).sort((one, other) => one - other),
      left: [0, 1, 2].map((set) => at(`as left ${set}`)).sort((one, other) => one - other),
    };
  };

  test("has all of them looked over before it; without it a third is begun only when one of two is left", () => {
    const all = dayFor("modern-electronic");
    const act = all.lines.find(({ also }) => also !== undefined)?.begins ?? Number.NaN;
    for (const at of lookedAndLeft(all).looked) expect(at).toBeLessThan(act);
    const none = dayFor("modern-electronic", { minutes: [{ task: "T2", minutes: 600 }] });
    expect(none.lines.some(({ also }) => also !== undefined)).toBe(false);
    const { looked, left } = lookedAndLeft(none);
    expect(looked[2]).toBeGreaterThan(left[0] ?? Number.NaN);
  });
});

describe("a test of several parts", () => {
  test("sensors that one manifold goes round are a line each, one after the other", () => {
    const day = dayFor("dual-fuel");
    const rounds = day.lines.filter(({ ref }) => ref === "T31");
    expect(rounds.map(({ id }) => id)).toEqual(["T31", "T31 2", "T31 3"]);
    expect(rounds.map(({ how }) => /\((\d) of 3\)$/.exec(how)?.[1])).toEqual(["1", "2", "3"]);
    // Fitted at one standstill, taken out at the next: two stops and two starts a sensor, an hour and two restarts of a quarter.
    for (const { starts, hotStops, minutes } of rounds) expect([starts, hotStops, minutes]).toEqual([2, 2, 90]);
  });

  test("cold windings are compared with the air at rest and with one another under load", () => {
    const day = dayFor("shaft-generator");
    const [cold, loaded] = [day.lines.find(({ id }) => id === "T6 at rest"), day.lines.find(({ id }) => id === "T6 on the board")];
    expect([cold?.how, loaded?.how]).toEqual([
      "cold winding compared with the air around it",
      "windings under load compared with one another",
    ]);
    expect(loaded?.begins ?? 0).toBeGreaterThan(cold?.ends ?? Number.POSITIVE_INFINITY);
  });
});

describe("what is told", () => {
  test("a set whose prime mover is not known is one machine: the day has it as a diesel, and what is for another is left out as that", () => {
    const day = dayFor("almost-nothing-known");
    const other = day.leftOut.filter(({ why }) => why.startsWith("it is for another prime mover than a diesel"));
    expect(other.map(({ what }) => what).join()).toMatch(/Turbine overspeed/);
    expect(day.lines.filter(({ set, what }) => set === 1 && /turbine|shaft/i.test(what))).toEqual([]);
    expect(day.assumed.some(({ text }) => text.includes("is taken as a diesel"))).toBe(true);
  });

  test("a store that is low as people leave is told, with how long it is charged", () => {
    const low = dayFor("mixed-channels");
    expect(low.notes.map(({ says }) => says).join("\n")).toMatch(
      /Emergency generator: starting store holds \d(?:\.\d)? of 4 starts: it is charged until there are 3 again, in about .+, and its set is not counted on before/,
    );
    const fast = dayFor("mixed-channels", { recharge: { battery: 30, accumulator: 20 } });
    expect(fast.notes.some(({ says }) => says.includes("is not counted on before"))).toBe(false);
  });

  test("a set that is measured cold in the morning stands through the night, and who carries the ship is said", () => {
    const day = dayFor("shaft-generator");
    expect(day.lines.find(({ id }) => id === "T6 at rest")?.begins).toBeGreaterThan(1440);
    expect(day.notes.map(({ says }) => says)).toContain(
      "DG 1 stays stopped through the night, to be measured cold; the others carry the ship",
    );
  });

  test("on how many days each technician comes is told beside his minutes", () => {
    const day = dayFor("dual-fuel");
    const days = new Set(
      day.lines.filter(({ takes }) => takes.some(({ lane }) => lane === "relay-technician")).map(({ begins }) => Math.floor(begins / 1440)),
    );
    expect(qualityWords(day.quality, day).join(" ")).toContain(`Relay technician: on ${days.size} ${days.size === 1 ? "day" : "days"}.`);
  });
});
