import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readDay } from "../../lib/figures/readDay.ts";
import { missingIn, particulars, textOf, withParticulars } from "../../lib/flow/particulars.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";

const FRAME = { format: "forehail visit 1", preparedOn: "2027-01-11", visit: {}, sets: [{ name: "Generator 1" }] };
const filled = (texts: Readonly<Record<string, string>>, frame: object = FRAME) =>
  withParticulars(frame, new Map(Object.entries(texts)), rulebook.facts);
const faultsOf = (texts: Readonly<Record<string, string>>): readonly string[] => {
  const outcome = filled(texts);
  return outcome.ok ? [] : outcome.faults.map(({ at, says }) => `${at} ${says}`);
};

describe("days as people write them", () => {
  test.each([
    ["2027-03-24", "2027-03-24"],
    ["24 March 2027", "2027-03-24"],
    ["24 mar. 2027", "2027-03-24"],
    ["March 24, 2027", "2027-03-24"],
    ["1st Sept 2027", "2027-09-01"],
    ["24.3.2027", "2027-03-24"],
    ["24/3/2027", "2027-03-24"],
    ["3/24/2027", "2027-03-24"],
    ["29 February 2028", "2028-02-29"],
  ])("%s", (written, day) => expect(readDay(written)).toEqual({ ok: true, value: day }));

  test.each(["29 February 2027", "2027-13-01", "3/4/2027", "tomorrow", "24 Ma 2027", "", "0000-01-01"])("%s is none", (written) => {
    const read = readDay(written);
    expect(read.ok ? "" : read.faults.join()).toContain("a day such as 2026-03-24");
  });

  test("without its year it is the first such day on or after another, and none where no such other is given", () => {
    expect(readDay("29 February", "2027-03-01")).toEqual({ ok: true, value: "2028-02-29" });
    expect(readDay("March 24th", "2027-03-24")).toEqual({ ok: true, value: "2027-03-24" });
    expect(readDay("23rd of March", "2027-03-24")).toEqual({ ok: true, value: "2028-03-23" });
    expect(readDay("30 February", "2027-03-24").ok).toBe(false);
    expect(readDay("24 March").ok).toBe(false);
  });

  test("any real day, however it is written, is read as itself", () => {
    const MONTHS = "January February March April May June July August September October November December".split(" ");
    fc.assert(
      fc.property(fc.date({ min: new Date("1900-01-01"), max: new Date("2200-12-31"), noInvalidDate: true }), (date) => {
        const iso = date.toISOString().slice(0, 10);
        const [year, month, day] = [date.getUTCFullYear(), date.getUTCMonth(), date.getUTCDate()];
        for (const written of [iso, `${day} ${MONTHS[month]} ${year}`, `${MONTHS[month]} ${day}, ${year}`, `${day}.${month + 1}.${year}`])
          expect(readDay(written)).toEqual({ ok: true, value: iso });
      }),
    );
  });
});

describe("particulars", () => {
  test("may all be left open, and what a letter cannot do without is told", () => {
    const outcome = filled(Object.fromEntries(particulars.flatMap(({ fields }) => fields.map(({ at }) => [at, ""]))));
    expect(outcome.ok).toBe(true);
    expect(missingIn(outcome.ok ? outcome.value : {}).map(({ at }) => at)).toEqual([
      "/visit/vessel/name",
      "/visit/place/name",
      "/visit/window/from",
      "/visit/window/to",
      "/preparedOn",
    ]);
  });

  test("what is told stands in the file and in the field again", () => {
    const texts = {
      "/visit/vessel/name": "Sundalis Reach",
      "/visit/vessel/grossTonnage": "12,500 GT",
      "/visit/window/from": "24 March 2027",
      "/visit/window/to": "2027-03-25",
      "/policy/office/address": "Quay 4\n\n Haverdyn ",
      "/visit/people/0/name": "Jon Askvik",
      "/visit/people/0/role": "superintendent",
      "/visit/people/0/side": "vessel",
      "/visit/people/1/side": "office",
    };
    const outcome = filled(texts);
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
    expect(outcome.value).toMatchObject({
      visit: {
        vessel: { name: "Sundalis Reach", grossTonnage: 12500 },
        window: { from: "2027-03-24", to: "2027-03-25" },
        people: [{ name: "Jon Askvik", role: "superintendent", side: "vessel" }],
      },
      policy: { office: { address: ["Quay 4", "Haverdyn"] } },
    });
    const fields = particulars.flatMap((group) => group.fields);
    const shown = Object.fromEntries(fields.map((field) => [field.at, textOf(outcome.value, field)]));
    expect(shown["/visit/window/from"]).toBe("2027-03-24");
    expect(filled(shown, outcome.value)).toEqual(outcome);
  });

  test.each([
    [
      { "/visit/vessel/imo": "1234560" },
      /^\/visit\/vessel\/imo IMO number: given “1234560”; wanted an IMO number with the right check digit/,
    ],
    [{ "/visit/window/from": "3/4/2027" }, /^\/visit\/window\/from First day: given “3\/4\/2027”; wanted a day such as/],
    [
      { "/visit/window/from": "2027-03-25", "/visit/window/to": "2027-03-24" },
      /Last day: given 2027-03-24; wanted the first day, 2027-03-25, or a later one/,
    ],
    [{ "/visit/vessel/name": "x".repeat(121) }, /Vessel’s name: given “x{80}”; wanted at most 120 characters/],
    [{ "/visit/vessel/name": "Sun\u202edalis" }, /wanted text without control, direction or other hidden characters/],
    [{ "/visit/vessel/grossTonnage": "many" }, /Gross tonnage: given “many”; wanted a number/],
    [
      { "/visit/people/0/role": "", "/visit/people/0/name": "Jon Askvik", "/visit/people/0/side": "vessel" },
      /^\/visit\/people\/0\/role Role of a person who is named: given nothing/,
    ],
  ])("%j is told with field, given and wanted", (texts, said) => {
    const faults = faultsOf(texts);
    expect(faults).toHaveLength(1);
    expect(faults[0]).toMatch(said);
  });

  test("nothing else of the frame is touched", () => {
    const frame = { ...FRAME, policy: { loadLimit: 70, office: { name: "Office" } }, references: [{ ref: "T1", for: "/sets/0/handStop" }] };
    const outcome = filled({ "/visit/vessel/name": "Sundalis Reach" }, frame);
    expect(outcome).toEqual({ ok: true, value: { ...frame, visit: { vessel: { name: "Sundalis Reach" } } } });
  });
});
