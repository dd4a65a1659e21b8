import { describe, expect, test } from "vitest";
import { answerIn, pageSchema, readPage, type Typed } from "../../lib/flow/fields.ts";
import type { FactSpec } from "../../lib/model/fact.ts";
import { usualRanges } from "../../lib/model/usual.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";

const specAt = (at: string): FactSpec => {
  const spec = rulebook.facts.find((one) => one.at === at);
  if (spec === undefined) throw new Error(at);
  return spec;
};
const oil = specAt("/sets/*/lubeOilPressure/setPoint");
const mover = specAt("/sets/*/primeMover");
const waterTolerance = specAt("/sets/*/jacketWaterTemperature/tolerance");
const poles = specAt("/sets/*/plate/poles");
const ratedVoltage = specAt("/sets/*/plate/voltage");
const water = specAt("/sets/*/jacketWaterTemperature/setPoint");

describe("one question as it was filled in", () => {
  test.each<[FactSpec, Typed, unknown]>([
    [oil, { text: "1.5" }, 1.5],
    [oil, { text: " 1,5 bar " }, 1.5],
    [oil, { text: "22", unit: "psi" }, { value: 22, unit: "psi" }],
    [oil, { text: "22 psi", unit: "bar" }, { value: 22, unit: "psi" }],
    [water, { text: "208 °F" }, { value: 208, unit: "°F" }],
    [water, { text: "98°C" }, 98],
    [waterTolerance, { text: "2 K" }, 2],
    [ratedVoltage, { text: "6.6 kV" }, { value: 6.6, unit: "kV" }],
    [oil, { text: "" }, undefined],
    [oil, { text: "  " }, undefined],
    [oil, { text: "", notKnown: true }, "not known"],
    [oil, { text: "not known" }, "not known"],
    [mover, { text: "diesel" }, "diesel"],
    [mover, { text: "not known" }, "not known"],
  ])("%#", (spec, typed, answer) => expect(answerIn(spec, typed)).toEqual({ ok: true, value: answer }));

  test.each<[FactSpec, Typed, RegExp]>([
    [
      oil,
      { text: "high" },
      /^Low lube-oil pressure: set point: given "high"; wanted a number such as 1250 or 2\.5, in bar, .*, or “not known”$/,
    ],
    [oil, { text: "2000 bar" }, /given "2000 bar.*"; wanted a number from .* bar/],
    [poles, { text: "2.5" }, /given "2\.5"; wanted a whole, even number from 2 to 60, or/],
    [poles, { text: "5" }, /given "5"; wanted a whole, even number/],
    [water, { text: "371 K" }, /given "371 K"; wanted a number/],
    [oil, { text: "98 °C" }, /given "98 °C"; wanted a number/],
    [oil, { text: "x".repeat(201) }, /wanted at most 200 characters/],
    [mover, { text: "sails" }, /^Prime mover: given "sails"; wanted one of: diesel, diesel that also burns gas/],
    [mover, { text: "<script>" }, /given "<script>"/],
    [mover, { text: "die\u202esel" }, /given "die\?sel"/],
  ])("%# is told with what is asked, given and wanted", (spec, typed, said) => {
    const outcome = answerIn(spec, typed);
    expect(outcome.ok ? [] : outcome.faults.map(({ kind }) => kind)).toEqual(["wrong"]);
    expect(outcome.ok ? "" : outcome.faults[0]?.says).toMatch(said);
  });

  test("an unlikely number is asked once more, told what is usual and on which ground, and taken when it is meant", () => {
    const outcome = answerIn(oil, { text: "8" });
    expect(outcome.ok ? [] : outcome.faults.map(({ kind }) => kind)).toEqual(["unlikely"]);
    expect(outcome.ok ? "" : outcome.faults[0]?.says).toMatch(/8 bar is unusual \(usually .* bar: .*; common practice without a source\)/);
    expect(answerIn(oil, { text: "8", sure: true })).toEqual({ ok: true, value: 8 });
    // Sure or not, what cannot be is not taken.
    expect(answerIn(oil, { text: "2000", sure: true }).ok).toBe(false);
  });

  test("both ends of every usual range are taken without a question", () => {
    for (const { at, from, to } of usualRanges) {
      const spec = rulebook.facts.find((one) => one.at === at);
      if (spec === undefined) throw new Error(at);
      for (const edge of [from, to]) expect(answerIn(spec, { text: String(edge) }), `${at} ${edge}`).toEqual({ ok: true, value: edge });
    }
  });
});

test("browser and server read a page with one schema: same answers, same words", () => {
  const asked = [
    { spec: oil, at: "/sets/0/lubeOilPressure/setPoint" },
    { spec: mover, at: "/sets/0/primeMover" },
  ];
  const typed = { "/sets/0/lubeOilPressure/setPoint": { text: "high" }, "/sets/0/primeMover": { text: "diesel" } };
  const read = readPage(asked, new Map(Object.entries(typed)));
  const parsed = pageSchema(asked).safeParse(typed);
  expect(parsed.success ? [] : parsed.error.issues.map(({ message, path }) => [path.join("."), message])).toEqual(
    read.ok ? null : read.faults.map(({ says, at }) => [`${at}.text`, says]),
  );
  const strange = readPage(asked, new Map([["/sets/1/primeMover", { text: "diesel" }]]));
  expect(strange.ok ? [] : strange.faults.map(({ kind }) => kind)).toEqual(["strange"]);
});
