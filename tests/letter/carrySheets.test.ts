import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import type { Block } from "../../lib/letter/blocks.ts";
import { SAY } from "../../lib/letter/catalogue.ts";
import { htmlOf } from "../../lib/letter/html/document.tsx";
import type { PlanInput } from "../../lib/letter/protections.ts";
import { renderLetter } from "../../lib/letter/render.ts";
import { actOf, comesAfter, expectedOf, restoredOf } from "../../lib/letter/sheets/acts.ts";
import type { SheetBlock } from "../../lib/letter/sheets/blocks.ts";
import { carrySheetsOf } from "../../lib/letter/sheets/carrySheets.ts";
import { HAZARDS } from "../../lib/letter/sheets/hazards.ts";
import { BODY, BOX, WRITE_IN } from "../../lib/letter/sheets/measures.ts";
import { rulebookOf } from "../../lib/letter/sheets/mover.ts";
import { dayOf } from "../../lib/plan/day/planDay.ts";
import { drawnUp } from "../../lib/plan/day/setup.ts";
import type { DayLine, DayPlan } from "../../lib/plan/day/types.ts";
import { testsOf } from "../../lib/plan/places.ts";
import type { PlanProtection } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { scratch } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";
import { planned, visitText, withVisit } from "./letters.ts";

const inputOf = async (text: string, units: PlanInput["units"] = "metric"): Promise<PlanInput> => {
  const { plan, read } = await planned(text);
  return { plan, read, rulebook, units };
};
const methods = rulebook.protections.flatMap((protection) => protection.methods);
const done = methods.filter(({ hazard }) => hazard !== 3);
const plannedIn = ({ plan }: PlanInput): readonly PlanProtection[] =>
  testsOf(plan).filter(({ decision }) => decision.outcome === "combination");

/** The sheet of each test, by its reference, in the order of the paper. */
const sheetsIn = (blocks: readonly Block[]): ReadonlyMap<string, SheetBlock> =>
  new Map(
    blocks.flatMap((block) => {
      const first = block.kind === "sheetTogether" ? block.blocks[0] : undefined;
      const ref = first?.kind === "sheetHeading" ? /^T\d+(?= {2})/.exec(first.text)?.[0] : undefined;
      return ref === undefined || block.kind !== "sheetTogether" ? [] : [[ref, block] as const];
    }),
  );

const plain = (text: string): string =>
  text
    .toLowerCase()
    .replaceAll("\u00a0", " ")
    .replace(/[^\p{L}\p{N}±°×%/]+/gu, "");

/** Every text of a block and those within it. */
const textsIn = (block: SheetBlock): readonly string[] => {
  switch (block.kind) {
    case "sheetHeading":
      return [block.text, block.note];
    case "sheetText":
      return [block.label, block.text];
    case "sheetStrip":
      return [block.text];
    case "sheetDrawings":
      return [];
    case "sheetTable":
      return [
        ...block.columns.map(({ title }) => title),
        ...block.rows.flat().map((cell) => (typeof cell === "string" ? cell : "box" in cell ? cell.box : cell.blank.trim())),
      ];
    case "sheetTogether":
      return block.blocks.flatMap(textsIn);
  }
};

describe("a method's text as a written procedure", () => {
  test.each(done.map((method) => [method.id, method] as const))(
    "loses no word and has a state, a step and something to be seen: %s",
    (_, method) => {
      const { steps: _steps, ...prose } = method;
      const { status, steps, minds } = actOf(prose);
      const told = plain([method.does.startsWith(status) ? status : "", ...steps, ...minds].join(" "));
      expect([...told].sort().join("")).toBe([...plain(method.does)].sort().join(""));
      expect(status.length).toBeGreaterThan(5);
      expect(steps.length).toBeGreaterThan(0);
      const { seen, minds: besides } = expectedOf(method);
      expect(seen.length).toBeGreaterThan(0);
      expect([...plain([...seen, ...besides].join(""))].sort()).toEqual([...plain(method.expected)].sort());
      expect(plain(restoredOf(method).join(""))).toBe(plain(method.restore ?? ""));
    },
  );

  test("what is no step has no box: nothing that is done hides among it", () => {
    const minds = new Set(done.flatMap((method) => actOf(method).minds));
    expect([...minds].filter((text) => /\b(is|are) (shut|drawn|raised|lowered|fed|bled|pumped|heated|closed|read)\b/.test(text))).toEqual(
      [],
    );
  });
});

test("every caution tells of a hazard of the day, keeps an order of acts, or belongs to what is put back", () => {
  const ordered = ["hand-stop-first", "coolant-level", "flap-once"];
  const grouped = Object.values(HAZARDS).flat();
  for (const { id } of rulebook.cautions) expect([id, grouped.includes(id) || comesAfter(id) || ordered.includes(id)]).toEqual([id, true]);
  for (const id of grouped)
    expect(
      rulebook.cautions.some((caution) => caution.id === id),
      id,
    ).toBe(true);
  expect(new Set(grouped).size).toBe(grouped.length);
});

describe.each(VISITS)("%s", (name) => {
  test("no planned test is missing, and each has its steps, what is seen, room to write, cautions at the act, what is put back", async () => {
    const input = await inputOf(visitText(name));
    const sheets = sheetsIn(carrySheetsOf(input, null).blocks);
    expect([...sheets.keys()].sort()).toEqual(
      plannedIn(input)
        .map(({ ref }) => ref)
        .sort(),
    );
    for (const { ref, at, kind, decision, cautions } of plannedIn(input)) {
      const sheet = sheets.get(ref);
      if (sheet === undefined) throw new Error(ref);
      const texts = textsIn(sheet).map(plain);
      const has = (text: string): void =>
        expect(
          texts.some((own) => own.includes(plain(text))),
          `${ref}: ${text}`,
        ).toBe(true);
      const spoken = rulebookOf(Number(at.split("/")[2]), input);
      const own = spoken.protections.flatMap((protection) => protection.methods).filter(({ id }) => decision.methods.includes(id));
      expect(own.length, kind).toBe(decision.methods.length);
      for (const method of own) {
        const { steps, status } = actOf(method);
        for (const text of [status, ...steps, ...expectedOf(method).seen, ...restoredOf(method)]) has(text);
      }
      for (const { id, text } of spoken.cautions) if (cautions.includes(id)) has(text);
      for (const label of [SAY.carry.as, SAY.carry.notAs, SAY.carry.notDone, SAY.carry.witness, SAY.carry.ship]) has(label);
      if (own.some(({ blinds }) => blinds)) has(SAY.carry.othersAlive);
      const text = JSON.stringify(sheet);
      // Cautions stand before the first step of their act, but for those of what is put back.
      for (const { id, text: caution } of spoken.cautions)
        if (cautions.includes(id))
          expect(
            text.indexOf(JSON.stringify(caution).slice(1, -1)) < text.lastIndexOf(SAY.carry.procedure) || comesAfter(id),
            `${ref} ${id}`,
          ).toBe(true);
      expect(text.match(/"blank":/g)?.length ?? 0, ref).toBeGreaterThanOrEqual(5);
      expect(text).not.toMatch(/undefined|NaN|\[object/);
    }
  });

  test("what has no acceptable way is said, and every figure stands at its test", async () => {
    const input = await inputOf(visitText(name));
    const blocks = carrySheetsOf(input, null).blocks;
    const text = JSON.stringify(blocks);
    for (const { ref, decision } of testsOf(input.plan)) if (decision.outcome === "nothing acceptable") expect(text).toContain(`"${ref}  `);
    const sheets = sheetsIn(blocks);
    for (const { ref, figures } of plannedIn(input))
      for (const { later, officeOnly, name: figure } of figures)
        if (later !== true && officeOnly !== true)
          expect(textsIn(sheets.get(ref) ?? { kind: "sheetDrawings", drawings: [] }).map(plain)).toContain(plain(figure));
  });
});

test.each(["46 CFR 61.40", "46 CFR 130.480"])(
  "under %s every test has a place for each thing that a written procedure must contain",
  async (basis) => {
    const input = await inputOf(
      await withVisit("old-mechanical", (file) => {
        Object.assign(file, { ruleBasis: basis });
        if (basis === "46 CFR 130.480") Object.assign(file.visit.vessel, { offshoreSupplyVessel: "yes", grossTonnage: 900 });
      }),
    );
    const items = input.plan.rules?.procedure ?? [];
    expect(items.length).toBeGreaterThan(2);
    const { blocks } = carrySheetsOf(input, null);
    expect(JSON.stringify(blocks)).toContain(items[0]);
    const form = blocks.find((block) => block.kind === "sheetTogether" && JSON.stringify(block).includes(SAY.carry.blankForm));
    const all = [...sheetsIn(blocks)];
    expect(all.length).toBeGreaterThan(3);
    for (const item of items) {
      const label = item.replace("results", "result");
      const states = (sheet: SheetBlock): boolean => textsIn(sheet).some((text) => text.toLowerCase().startsWith(label));
      for (const [ref, sheet] of all) expect([ref, item, states(sheet)]).toEqual([ref, item, true]);
      // What is needed to do an unexpected test is written where its apparatus is.
      if (form?.kind === "sheetTogether" && label !== "functions needed") expect(states(form), item).toBe(true);
    }
  },
);

/** A day on which the tests come in the reverse of the plan's order; the last of them is not on it. */
const reversed = (input: PlanInput): DayPlan => {
  const [last, ...others] = input.plan.sets
    .flatMap(({ protections }, set) =>
      protections
        .filter(({ applies, decision }) => applies !== "no" && decision.outcome === "combination")
        .map(({ ref, kind }) => ({ set, ref, kind })),
    )
    .reverse();
  const lines = others.map(
    ({ set, ref, kind }, place): DayLine => ({
      id: ref,
      phase: "running",
      set,
      ref,
      what: kind,
      how: "",
      minutes: 20,
      restart: 0,
      starts: 0,
      hotStops: 0,
      begins: 8 * 60 + 30 * place,
      ends: 8 * 60 + 30 * place + 20,
      takes: [{ lane: "inspector", to: 8 * 60 + 30 * place + 20 }],
      ...(place === 0 ? { grave: true as const } : {}),
    }),
  );
  return {
    days: [
      { date: "2026-04-29", from: 8 * 60, to: 20 * 60, breaks: [] },
      { date: "2026-04-30", from: 32 * 60, to: 44 * 60, breaks: [] },
    ],
    wish: "day first",
    lines,
    notes: [],
    lanes: [{ id: "inspector", kind: "inspector", label: "inspector" }],
    stores: [],
    load: null,
    quality: { ends: 0, noneEndsBefore: 0, lengthGap: 0, attendance: 0, attendanceGap: 0 },
    assumed: [{ text: "the cooling-down takes ten minutes", mark: "practice" }],
    leftOut: last === undefined ? [] : [{ ref: last.ref, what: last.kind, why: "the day is too short for it" }],
    refused: ["a beginning at 06:00"],
  };
};

test("with an order of the day the tests of a set follow it; what is not on it is said and has its sheet all the same", async () => {
  const input = await inputOf(visitText("old-mechanical"));
  const day = reversed(input);
  const { blocks } = carrySheetsOf(input, day);
  const refs = [...sheetsIn(blocks).keys()];
  const first = plannedIn(input).filter(({ at }) => at.startsWith("/sets/0/"));
  expect(refs.slice(0, first.length)).toEqual(first.map(({ ref }) => ref).reverse());
  expect([...refs].sort()).toEqual(
    plannedIn(input)
      .map(({ ref }) => ref)
      .sort(),
  );
  // What is on no day comes last of its set.
  expect(refs.at(-1)).toBe(day.leftOut[0]?.ref);
  expect(JSON.stringify(sheetsIn(blocks).get(refs.at(-1) ?? ""))).toContain(SAY.carry.notOn(2));
  expect(JSON.stringify(sheetsIn(blocks).get(day.lines[0]?.ref ?? ""))).toContain("From 08:00 on 29 April 2026 to 08:20");
  const text = JSON.stringify(blocks);
  expect(text).not.toContain(SAY.carry.dayWithout);
  for (const said of [
    "08:00–08:20",
    "29 April 2026",
    "30 April 2026",
    "The day is too short for it",
    "A beginning at 06:00",
    "Day 1 of 2, 08:00 to 20:00",
  ])
    expect(text).toContain(said);
  for (const said of ["The cooling-down takes ten minutes [practice]", SAY.carry.graveMark]) expect(text).toContain(said);
});

test("set points stand in the reader's units and in the ship's own, and a gauge is read in the ship's", async () => {
  const oilSheet = async (units: PlanInput["units"]): Promise<string> => {
    const input = await inputOf(visitText("old-mechanical"), units);
    const ref = plannedIn(input).find(({ kind }) => kind === "lubeOilPressure")?.ref ?? "";
    return JSON.stringify(sheetsIn(carrySheetsOf(input, null).blocks).get(ref));
  };
  const metric = await oilSheet("metric");
  expect(metric).toContain('"1.52 bar ± 0.21 bar","22 psi ± 3 psi"');
  expect(metric).toContain('{"blank":"psi"}');
  expect(await oilSheet("us")).toContain('"22 psi ± 3 psi"');
  const wholeOf = async (name: string): Promise<string> => JSON.stringify(carrySheetsOf(await inputOf(visitText(name)), null).blocks);
  expect(await wholeOf("old-mechanical")).toContain("1 bar = 14.504 psi; 1 psi = 0.069 bar; °F = 1.8 × °C + 32");
  // Nothing is converted where ship and reader use the same.
  expect(await wholeOf("too-near")).not.toContain(SAY.carry.conversion);
});

test("what role and arrangement make of an expected result goes before the method's own words; a loss of power is timed three times", async () => {
  const emergency = await inputOf(visitText("mixed-channels"));
  const oil = plannedIn(emergency).find(
    ({ kind, notes }) => kind === "lubeOilPressure" && notes.some(({ text }) => text.includes("no stop")),
  );
  const sheet = JSON.stringify(sheetsIn(carrySheetsOf(emergency, null).blocks).get(oil?.ref ?? ""));
  const note = sheet.indexOf(SAY.carry.noteFirst("An alarm is expected and no stop: the set keeps running."));
  expect(note).toBeGreaterThan(0);
  expect(note).toBeLessThan(sheet.indexOf(`"${SAY.carry.expected}"`));
  const passenger = await inputOf(visitText("passenger-ship"));
  const loss = plannedIn(passenger).find(({ kind }) => kind === "lossOfPower")?.ref ?? "";
  const timed = JSON.stringify(sheetsIn(carrySheetsOf(passenger, null).blocks).get(loss));
  for (const until of ["To emergency power", "To essential services", "To full recovery"])
    expect(timed).toContain(`["${until}",{"blank":"s"}]`);
});

test("a data plate that contradicts itself is said on the page of its set", async () => {
  const { blocks } = carrySheetsOf(await inputOf(visitText("too-near")), null);
  const told = blocks.filter((block) => block.kind === "sheetText" && block.label === SAY.carry.plateWrong);
  expect(told).toHaveLength(1);
  expect(JSON.stringify(told)).toContain("rated current is given as 250 A");
});

/** The sheet of the first test of a kind. */
const sheetFor = (input: PlanInput, kind: string, day: DayPlan | null = null): SheetBlock => {
  const ref = plannedIn(input).find((protection) => protection.kind === kind)?.ref ?? "";
  const found = sheetsIn(carrySheetsOf(input, day).blocks).get(ref);
  if (found === undefined) throw new Error(kind);
  return found;
};

/** The rows of a sheet, as their words and units. */
const rowsIn = (block: SheetBlock): readonly (readonly string[])[] => {
  if (block.kind === "sheetTogether") return block.blocks.flatMap(rowsIn);
  return block.kind !== "sheetTable"
    ? []
    : block.rows.map((row) => row.map((cell) => (typeof cell === "string" ? cell : "box" in cell ? `☐${cell.box}` : `_${cell.blank}`)));
};

describe("what is read of a test", () => {
  test("each place that a set is stopped from has ticks and seconds of its own; not known how many, a place to name", async () => {
    const rows = rowsIn(sheetFor(await inputOf(visitText("old-mechanical")), "handStop"));
    for (const place of [SAY.carry.handStop, SAY.carry.emergencyStop(1), SAY.carry.emergencyStop(2)])
      expect(rows).toContainEqual([place, "☐", "☐", "☐", "_s"]);
    expect(rows.some(([name]) => name === SAY.carry.emergencyStop(3))).toBe(false);
    const unknown = await withVisit("old-mechanical", (file) => {
      for (const set of file.sets) Object.assign(set, { handStop: {} });
    });
    expect(rowsIn(sheetFor(await inputOf(unknown), "handStop"))).toContainEqual(["_", "☐", "☐", "☐", "_s"]);
  });

  test("of three sensors that vote each deviation is ticked and each pair read, of two each alone", async () => {
    const rowsBy = async (vote: string) => {
      const text = await withVisit("dual-fuel", ({ sets }) => {
        for (const set of sets)
          Object.assign(set, { lubeOilPressure: { ...(set as { lubeOilPressure?: object }).lubeOilPressure, sensors: vote } });
      });
      return rowsIn(sheetFor(await inputOf(text), "lubeOilPressure"));
    };
    const three = await rowsBy("two out of three");
    const { alone, aloneOf, pair } = SAY.carry.sensors;
    for (const sensor of [1, 2, 3]) expect(three).toContainEqual([alone(sensor), "☐"]);
    for (const [one, other] of [
      [1, 2],
      [2, 3],
      [1, 3],
    ] as const)
      expect(three).toContainEqual([pair(one, other), "_bar", "after", "_s"]);
    expect(three.flat()).not.toContain(SAY.carry.actedAt);
    const two = await rowsBy("two, either acts");
    for (const sensor of [1, 2]) expect(two).toContainEqual([aloneOf(sensor), "_bar", "after", "_s"]);
    expect(two.flat()).not.toContain(SAY.carry.actedAt);
    for (const vote of ["one", "separate for alarm and stop"])
      expect(await rowsBy(vote)).toContainEqual([SAY.carry.actedAt, "_bar", "after", "_s"]);
  });

  test("what is done one after the other, nobody knows how often, has lines to name, tick and read", async () => {
    const input = await inputOf(visitText("steam-turbines"));
    for (const [kind, unit] of [
      ["sensorFailure", "_"],
      ["controlSupply", "_"],
      ["fuelShutOff", "_"],
      ["windingTemperature", "_Ω"],
    ] as const) {
      const rows = rowsIn(sheetFor(input, kind));
      for (const place of ["1", "2", "3", "4"]) expect(rows, kind).toContainEqual([place, "_", "☐", "☐", unit]);
    }
  });

  test.each([
    ["old-mechanical", "overspeed", [["Ship's tachometer", "_rpm", "Second tachometer", "_rpm"]]],
    ["steam-turbines", "turbineOverspeed", [["Ship's tachometer", "_rpm", "Second tachometer", "_rpm"]]],
    ["old-mechanical", "airFlap", [["Speed set down to", "_rpm", "Stopped by the flap", "_s"]]],
    ["modern-electronic", "overspeed", [["Speed set down to", "_rpm", "Speed at the trip", "_rpm"]]],
    ["steam-turbines", "secondTurbineOverspeed", [["Trip speed lowered to", "_rpm", "Speed at the trip", "_rpm"]]],
    [
      "shaft-generator",
      "shaftTrips",
      [
        ["Over-frequency", "_Hz", "after", "_s"],
        ["Under-frequency", "_Hz", "after", "_s"],
      ],
    ],
  ] as const)("%s: %s has a line for each value", async (name, kind, lines) => {
    const rows = rowsIn(sheetFor(await inputOf(visitText(name)), kind));
    for (const line of lines) expect(rows).toContainEqual(line);
    expect(rows.flat()).not.toContain(SAY.carry.actedAt);
  });
});

test("on the sheets of a turbine and of a shaft nothing is said of an engine, fuel or a turbocharger of its own", async () => {
  const strange = /\b(?:fuel|turbocharger|flywheel|crankcase)\b|(?<!driving |propulsion )\bengine\b/i;
  const wrongOn = async (name: string, isOne: (set: PlanInput["plan"]["sets"][number], input: PlanInput, place: number) => boolean) => {
    const input = await inputOf(visitText(name));
    const blocks = carrySheetsOf(input, null).blocks;
    const names = input.plan.sets.filter((set, place) => isOne(set, input, place)).map((set) => set.name);
    expect(names.length).toBeGreaterThan(0);
    // From the heading of a set to that of the next.
    const own = blocks.filter((_, place) => {
      const heading = blocks
        .slice(0, place + 1)
        .flatMap((block): readonly Block[] => (block.kind === "sheetTogether" ? block.blocks.slice(0, 1) : [block]))
        .findLast((block) => block.kind === "sheetHeading");
      return heading?.kind === "sheetHeading" && (names.includes(heading.text) || names.includes(heading.note));
    });
    expect(own.length).toBeGreaterThan(10);
    return own
      .flatMap((block) => (block.kind.startsWith("sheet") ? textsIn(block as SheetBlock) : []))
      .filter((text) => strange.test(text) && !/^Never feed|belts or couplings until/.test(text));
  };
  expect(await wrongOn("steam-turbines", (_, { read }, set) => read.answers.get(`/sets/${set}/primeMover`) === "steam turbine")).toEqual(
    [],
  );
  expect(await wrongOn("shaft-generator", ({ role }) => role === "shaft-driven")).toEqual([]);
  // A diesel keeps them.
  expect(JSON.stringify(carrySheetsOf(await inputOf(visitText("old-mechanical")), null).blocks)).toContain("turbocharger");
});

describe("with an order of the day", () => {
  test("hazards and consents are those of the tests on it, with a line for what is done after all", async () => {
    const input = await inputOf(visitText("old-mechanical"));
    const whole = reversed(input);
    const grave = plannedIn(input).filter(({ decision }) =>
      methods.some(({ id, hazard }) => hazard === 2 && decision.methods.includes(id)),
    );
    expect(grave.length).toBeGreaterThan(1);
    const [off, on] = [grave[0], grave[1]];
    const day = { ...whole, lines: whole.lines.filter(({ ref }) => ref !== off?.ref) };
    const brief = (own: DayPlan | null): string => {
      const { blocks } = carrySheetsOf(input, own);
      return JSON.stringify(
        blocks.slice(
          0,
          blocks.findIndex(({ kind }) => kind === "newPage"),
        ),
      );
    };
    expect(brief(null)).toContain(`"${off?.ref} `);
    expect(brief(day)).not.toContain(`"${off?.ref} `);
    expect(brief(day)).toContain(`"${on?.ref} `);
    expect(brief(day)).toContain('[{"blank":""},{"blank":""},{"blank":""}]');
    expect(brief(null)).not.toContain('[{"blank":""},{"blank":""},{"blank":""}]');
    const speed = (own: DayPlan | null): string => new RegExp(`"${SAY.carry.hazards.speed}","([^"]*)"`).exec(brief(own))?.[1] ?? "";
    const raised = plannedIn(input)
      .filter(({ kind }) => kind === "overspeed")
      .map(({ ref }) => ref);
    expect(raised.length).toBeGreaterThan(1);
    const without = { ...whole, lines: whole.lines.filter(({ ref }) => ref !== raised[0]) };
    expect(speed(null)).toContain(raised[0] ?? "");
    expect(speed(without).split(", ")).not.toContain(raised[0]);
  });

  /** The day of these visits as it is planned, and the paper made of it. */
  const onItsDays = async (name: string) => {
    const input = await inputOf(visitText(name));
    const day = dayOf(drawnUp(input));
    return { input, day, blocks: carrySheetsOf(input, day).blocks };
  };
  const onDays = ({ lines }: DayPlan): readonly string[] => [
    ...new Set(lines.flatMap(({ ref, also = [] }) => (ref === undefined ? [] : [ref, ...also]))),
  ];

  test.each(["too-near", "mixed-channels", "passenger-ship"])(
    "%s: the starts of a set are those of the table of its days",
    async (name) => {
      const { input, day, blocks } = await onItsDays(name);
      const told = blocks.flatMap((block) => (block.kind === "sheetText" && /^Starts of the day/.test(block.text) ? [block.text] : []));
      const wanted = input.plan.sets.flatMap((_, set): readonly string[] => {
        const lane = `set ${set}`;
        const own = day.lines.filter((line) => line.set === set);
        // The morning's words name the sets that are started again; here each of them starts from a store.
        const mornings = day.lines.filter(({ what }) => what.startsWith("Started again: "));
        const again = mornings.map(({ what, starts, takes }) =>
          takes.some((take) => take.lane === lane) ? starts / what.replace("Started again: ", "").split(", ").length : 0,
        );
        // One act for several sets is followed by a start of each.
        const shared = day.lines.flatMap(({ also, starts, takes }) =>
          also !== undefined && takes.some((take) => take.lane === lane) ? [starts / (also.length + 1)] : [],
        );
        const alone = own.filter(({ also }) => also === undefined).map((line) => line.starts);
        const starts = [...alone, ...again, ...shared].reduce((sum, one) => sum + one, 0);
        const hot = own.reduce((sum, line) => sum + line.hotStops, 0);
        return starts + hot === 0 ? [] : [SAY.carry.startsOn(day.days.length, starts, hot)];
      });
      expect(wanted.length).toBeGreaterThan(0);
      expect([...told].sort()).toEqual([...wanted].sort());
      // Every start of the table is one of a set's.
      const sum = told.reduce((total, text) => total + Number(/: (\d+)/.exec(text)?.[1]), 0);
      expect(sum).toBe(day.lines.reduce((total, { starts }) => total + starts, 0));
      for (const text of told) expect(text.startsWith(day.days.length > 1 ? "Starts of the days: " : "Starts of the day: ")).toBe(true);
      expect(JSON.stringify(blocks)).not.toContain("with the first start; ");
    },
  );

  test("a heading says how many of the tests are on the days, and of a set that is on none no starts are told", async () => {
    const { day, blocks } = await onItsDays("mixed-channels");
    const all = [...sheetsIn(blocks).keys()].length;
    const on = onDays(day).length;
    expect(on).toBeLessThan(all);
    const notes = blocks.flatMap((block) => (block.kind === "sheetHeading" ? [`${block.text}: ${block.note}`] : []));
    expect(notes).toContain(`${SAY.headings.theDay}: ${on} of ${all} tests`);
    expect(notes).toContain(`Port generator: ship service; ${SAY.carry.testsOf(0, 13)}`);
    const from = blocks.findIndex((block) => block.kind === "sheetHeading" && block.text === "Port generator");
    expect(JSON.stringify(blocks.slice(from))).not.toContain("Starts of the day");
    expect(JSON.stringify(blocks.slice(0, from))).toContain("Starts of the days");
  });

  test.each(["too-near", "mixed-channels"])(
    "%s: what is on no day comes last of its set behind a page of its own, a set that is on none after all others",
    async (name) => {
      const { input, day, blocks } = await onItsDays(name);
      const on = onDays(day);
      const heading = SAY.carry.notOn(day.days.length);
      const sets = input.plan.sets.map(({ name: set, protections }) => ({
        set,
        refs: protections.filter(({ applies, decision }) => applies !== "no" && decision.outcome === "combination").map(({ ref }) => ref),
      }));
      const order = blocks.flatMap((block): readonly string[] => {
        if (block.kind === "sheetHeading") return block.text === heading ? [`${heading}: ${block.note}`] : [];
        const [ref] = sheetsIn([block]).keys();
        return ref === undefined ? [] : [ref];
      });
      const isOn = (ref: string): boolean => on.includes(ref);
      const carried = sets.filter(({ refs }) => refs.some(isOn));
      const ashore = sets.filter(({ refs }) => !refs.some(isOn));
      const wanted = [
        ...carried.flatMap(({ set, refs }) => [
          ...on.filter((ref) => refs.includes(ref)),
          ...(refs.every(isOn) ? [] : [`${heading}: ${set}`]),
          ...refs.filter((ref) => !isOn(ref)),
        ]),
        ...ashore.flatMap(({ refs }) => refs),
      ];
      expect(order).toEqual(wanted);
      expect(order.some((one) => one.startsWith(heading))).toBe(true);
      if (name === "mixed-channels") expect(ashore.map(({ set }) => set)).toEqual(["Port generator"]);
    },
  );

  test("each reason why something is on no day is said once, with all that it keeps out", async () => {
    const { day, blocks } = await onItsDays("too-near");
    const reasons = [...new Set(day.leftOut.map(({ why }) => why))];
    expect(day.leftOut.length).toBeGreaterThan(reasons.length);
    const text = JSON.stringify(blocks).toLowerCase();
    for (const why of reasons) expect(text.split(why.toLowerCase()).length - 1, why).toBe(1);
    for (const { ref = "", why } of day.leftOut) {
      const under = blocks.find(
        (block) => block.kind === "sheetTogether" && JSON.stringify(block).toLowerCase().includes(why.toLowerCase()),
      );
      expect(JSON.stringify(under)).toContain(`"${ref}"`);
    }
  });

  test("a test says its own minutes and those of the day", async () => {
    const input = await inputOf(visitText("old-mechanical"));
    const whole = reversed(input);
    const ref = plannedIn(input).find(({ kind }) => kind === "handStop")?.ref;
    const day = { ...whole, lines: whole.lines.map((line) => (line.ref === ref ? { ...line, minutes: 60, restart: 45 } : line)) };
    expect(JSON.stringify(sheetFor(input, "handStop", day))).toContain(SAY.carry.aboutOnDay(15, 60));
    expect(JSON.stringify(sheetFor(input, "handStop"))).toContain(`${SAY.carry.about(15)}.`);
    expect(JSON.stringify(carrySheetsOf(input, day).blocks)).toContain(`"${SAY.carry.withRestarts(15, 60)}"`);
  });
});

test("a common store that no set is started from is told nowhere", async () => {
  const store = "starts in the common store";
  const input = await inputOf(visitText("old-mechanical"));
  expect(input.plan.figures.map(({ name }) => name)).not.toContain(store);
  const shared = await withVisit("old-mechanical", (file) => {
    for (const set of file.sets) Object.assign(set, { start: { store: "common with other sets" } });
  });
  expect((await inputOf(shared)).plan.figures.map(({ name }) => name)).toContain(store);
});

const MM = 72 / 25.4;
/** A machine that does other things besides is given longer. */
const PATIENCE = { timeoutMs: 240_000 };

const pagesOf = async (input: PlanInput): Promise<{ readonly pages: readonly string[]; readonly path: string }> => {
  const pdf = await renderLetter(carrySheetsOf(input, null), PATIENCE);
  if (!pdf.ok) throw new Error(pdf.faults.join());
  const path = join(scratch(), "sheets.pdf");
  writeFileSync(path, pdf.value);
  const text = execFileSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8", maxBuffer: 1 << 26 });
  return { pages: text.split("\f").slice(0, -1), path };
};

/** The words of a text that are found as they are: those of a narrow column are cut. */
const wordsIn = (text: string): readonly string[] => text.split(/[^\p{L}\p{N}]+/u).filter((word) => word.length > 2 && word.length < 13);
const linesIn = (page: string): readonly string[] => page.split("\n").filter((line) => line.trim() !== "");

describe.each([
  ["old-mechanical", "A4", "595.28 x 841.89"],
  ["shaft-generator", "Letter", "612 x 792"],
  ["too-near", "A4", "595.28 x 841.89"],
] as const)("on paper: %s on %s", (name, paper, size) => {
  test("nothing is cut off, every test begins a page, and a page that follows bears its name", { timeout: 300_000 }, async () => {
    const file = JSON.parse(visitText(name)) as { policy?: object };
    const input = await inputOf(JSON.stringify({ ...file, policy: { ...file.policy, paper } }));
    const { pages, path } = await pagesOf(input);
    expect(execFileSync("pdfinfo", [path], { encoding: "utf8" })).toContain(size);
    execFileSync("qpdf", ["--check", path]);
    const sheets = sheetsIn(carrySheetsOf(input, null).blocks);
    expect(sheets.size).toBeGreaterThan(8);
    for (const [ref, sheet] of sheets) {
      const begins = pages.findIndex((page) => new RegExp(`^\\s*${ref}\\s`).test(linesIn(page)[1] ?? ""));
      expect(begins, ref).toBeGreaterThan(0);
      const goesOn = pages
        .slice(begins + 1, begins + 4)
        .filter((page) => new RegExp(`: ${ref}\\s`).test(linesIn(page).slice(0, 2).join("\n")));
      const own = [pages[begins] ?? "", ...goesOn];
      const found = new Set(wordsIn(own.join("\n")));
      const wanted = textsIn(sheet).flatMap(wordsIn);
      expect([ref, wanted.filter((word) => !found.has(word))]).toEqual([ref, []]);
      // The name of a test is whole on every page of it.
      const name = sheet.kind === "sheetTogether" && sheet.blocks[0]?.kind === "sheetHeading" ? sheet.blocks[0].text : "";
      for (const page of goesOn) {
        const head = linesIn(page).slice(0, 2).join(" ");
        expect(head).not.toContain("…");
        for (const word of wordsIn(name)) expect(head, name).toContain(word);
      }
      // The result stands on the last of its pages.
      expect(own.at(-1), ref).toContain(SAY.carry.notDone);
    }
    // What is put back and signed never stands at the head of a page.
    for (const page of pages)
      expect(linesIn(page).slice(1, 3).join("\n"), page).not.toMatch(
        new RegExp(`^\\s*(?:${SAY.carry.restore}|${SAY.carry.as}|${SAY.columns.because})`, "m"),
      );
    // No page holds a heading alone.
    for (const page of pages) expect(linesIn(page).length, page).toBeGreaterThan(6);
  });
});

test("names that are long, of other scripts or look like markup are only names", { timeout: 300_000 }, async () => {
  const names = ["W".repeat(60), "<b>Żółw & Ωμέγα</b> \"'"];
  const input = await inputOf(
    await withVisit("too-near", ({ sets, visit }) => {
      sets.forEach((set, place) => {
        Object.assign(set, { name: names[place] ?? "X", maker: "M".repeat(80), model: names[1] });
      });
      Object.assign(visit.vessel, { name: "V".repeat(70) });
    }),
  );
  const { pages, path } = await pagesOf(input);
  execFileSync("qpdf", ["--check", path]);
  for (const { ref } of plannedIn(input))
    expect(
      pages.some((page) => new RegExp(`\\b${ref}\\b`).test(page)),
      ref,
    ).toBe(true);
  expect(pages.join("")).toContain("Żółw");
  const html = htmlOf(carrySheetsOf(input, null));
  expect(html).not.toContain("<b>");
  expect(html).toContain("&lt;b&gt;Żółw");
});

test("it is large enough for gloves and bad light", () => {
  expect(BODY).toBeGreaterThanOrEqual(11);
  expect(BOX).toBeGreaterThanOrEqual(6 * MM);
  expect(WRITE_IN).toBeGreaterThanOrEqual(9 * MM);
});
