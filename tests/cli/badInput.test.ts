import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { messageOf } from "../../lib/model/fault.ts";
import { readVisit } from "../../lib/model/read.ts";
import { knownOf } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { cli, scratch, visit } from "./cli.ts";

type Json = Record<string, unknown>;

const good = (): Json => JSON.parse(readFileSync(visit("old-mechanical"), "utf8")) as Json;

/** A good visit with one thing changed at a path. */
const changed = (path: readonly (string | number)[], value: unknown): Json => {
  const document = good();
  let here: unknown = document;
  for (const step of path.slice(0, -1)) here = (here as Json)[step];
  (here as Json)[path.at(-1) ?? ""] = value;
  return document;
};

const faultsOf = (document: unknown): readonly string[] => {
  const read = readVisit(document, rulebook.facts, knownOf(rulebook));
  return read.ok ? [] : read.faults.map(messageOf);
};

test("the visit that the cases start from is good", () => {
  expect(faultsOf(good())).toEqual([]);
});

const cases: readonly (readonly [string, Json, string])[] = [
  ["unknown key", changed(["sets", 0, "colour"], "grey"), 'sets[0].colour: given "grey"; wanted no field "colour" here'],
  [
    "wrong type",
    changed(["sets", 0, "plate", "ratedSpeed"], "fast"),
    'sets[0].plate.ratedSpeed: given "fast"; wanted a number from 100 to 6000 rpm',
  ],
  [
    "wrong choice",
    changed(["sets", 0, "governor"], "steam"),
    'sets[0].governor: given "steam"; wanted one of "mechanical or hydraulic", "electronic", "not known"',
  ],
  [
    "wrong unit",
    changed(["sets", 0, "lubeOilPressure", "setPoint"], { value: 22, unit: "°C" }),
    'sets[0].lubeOilPressure.setPoint: given {"value":22,"unit":"°C"}; wanted a number from 0.05 to 20 bar, or a unit of the same kind',
  ],
  [
    "negative rating",
    changed(["sets", 0, "plate", "ratedPower"], -5),
    "sets[0].plate.ratedPower: given -5; wanted a number from 1 to 30,000 kW",
  ],
  [
    "absurd rating",
    changed(["sets", 0, "plate", "ratedPower"], 9e9),
    "sets[0].plate.ratedPower: given 9000000000; wanted a number from 1 to 30,000 kW",
  ],
  [
    "absurd in another unit",
    changed(["sets", 0, "jacketWaterTemperature", "setPoint"], { value: 900, unit: "°F" }),
    "sets[0].jacketWaterTemperature.setPoint",
  ],
  [
    "duplicate set names",
    changed(["sets", 1, "name"], "ssdg 1"),
    'sets[1].name: given "ssdg 1"; wanted a name of its own: sets[0] is called the same',
  ],
  [
    "wrong check digit",
    changed(["visit", "vessel", "imo"], "3000454"),
    'visit.vessel.imo: given "3000454"; wanted an IMO number with the right check digit',
  ],
  [
    "window that ends before it starts",
    changed(["visit", "window", "to"], "2026-04-28"),
    'visit.window.to: given "2026-04-28"; wanted a day not before the window\'s first day, 2026-04-29',
  ],
  [
    "window before the plan was prepared",
    changed(["preparedOn"], "2026-05-01"),
    'visit.window.from: given "2026-04-29"; wanted a day not before the plan was prepared, 2026-05-01',
  ],
  [
    "date that does not exist",
    changed(["preparedOn"], "2026-02-30"),
    'preparedOn: given "2026-02-30"; wanted a date that exists, as YYYY-MM-DD',
  ],
  [
    "newer format",
    changed(["format"], "forehail visit 7"),
    'format: given "forehail visit 7"; wanted "forehail visit 1": the file was made for a newer Forehail than this one',
  ],
  [
    "rule basis that tonnage shuts out",
    changed(["ruleBasis"], "46 CFR 130.480"),
    'ruleBasis: given "46 CFR 130.480"; wanted another rule basis',
  ],
  [
    "deviation without reason",
    changed(["deviations"], [{ protection: "/sets/0/lubeOilPressure", method: "lo-pump", reason: "" }]),
    'deviations[0].reason: given ""; wanted some text',
  ],
  [
    "deviation to no protection",
    changed(["deviations"], [{ protection: "T400", method: "lo-pump", reason: "r" }]),
    'deviations[0].protection: given "T400"; wanted a protection of this visit',
  ],
  [
    "deviation to another channel's method",
    changed(["deviations"], [{ protection: "/sets/0/lubeOilPressure", method: "os-raise", reason: "r" }]),
    'deviations[0].method: given "os-raise"; wanted one of lo-bleed',
  ],
  [
    "two deviations for one protection",
    changed(
      ["deviations"],
      [
        { protection: "T3", method: "lo-pump", reason: "r" },
        { protection: "/sets/0/lubeOilPressure", method: "lo-spare", reason: "r" },
      ],
    ),
    "deviations[1].protection",
  ],
  [
    "reference handed out twice",
    changed(
      ["references"],
      [
        { ref: "T1", for: "/sets/0/overspeed" },
        { ref: "T1", for: "/sets/1/overspeed" },
      ],
    ),
    'references[1].ref: given "T1"; wanted a reference handed out once',
  ],
  [
    "group without a set",
    changed(["support", "sisters", "B"], {}),
    'support.sisters.B: given "B"; wanted the letter of a group that a set bears: A',
  ],
  [
    "direction character in a name",
    changed(["visit", "vessel", "name"], "Kestrel\u202eBight"),
    "wanted text without control, direction or other hidden characters",
  ],
  ...["日本丸", "سفينة", "Kestrel 🚢"].map((name): (typeof cases)[number] => [
    `a name that the letter cannot print, ${name}`,
    changed(["visit", "vessel", "name"], name),
    `visit.vessel.name: given ${JSON.stringify(name)}; wanted text in Latin, Greek or Cyrillic letters, which the letter can print`,
  ]),
  ["policy without working days", changed(["policy", "workingDays"], []), "policy.workingDays: given []; wanted at least 1 of them"],
  ["no sets", changed(["sets"], []), "sets: given []; wanted at least 1 of them"],
  ["not an object", [] as unknown as Json, "the file: given []; wanted an object"],
];

test.each(cases)("%s: one clear message that names field, given and wanted", (_, document, message) => {
  const faults = faultsOf(document);
  expect(
    faults.some((fault) => fault.includes(message)),
    faults.join("\n"),
  ).toBe(true);
  expect(faults.length).toBe(1);
});

test("all faults of a file are told at once", () => {
  const document = changed(["sets", 0, "colour"], "grey");
  (document["visit"] as Json)["window"] = { from: "2026-04-29", to: "2026-04-01" };
  document["ruleBasis"] = "the captain's";
  expect(faultsOf(document).length).toBe(3);
});

describe("files", () => {
  const hostile = (name: string, content: string): string => {
    const path = join(scratch(), name);
    writeFileSync(path, content);
    return path;
  };
  const files: readonly (readonly [string, () => string, string])[] = [
    ["broken JSON", () => hostile("broken.json", '{ "format": '), "wanted a visit file in JSON"],
    ["50 MB", () => hostile("large.json", " ".repeat(50 * 1024 * 1024)), "wanted a visit file of at most"],
    ["a directory", () => scratch(), "given a directory; wanted a visit file"],
    ["no such file", () => join(scratch(), "none.json"), "given no such file; wanted a visit file"],
    [
      "bytes that are not text",
      () => {
        const path = join(scratch(), "bytes.json");
        writeFileSync(path, Buffer.from([0x7b, 0xff, 0xfe, 0x7d]));
        return path;
      },
      "given bytes that are not UTF-8 text",
    ],
    ["deeply nested", () => hostile("deep.json", `${"[".repeat(100_000)}${"]".repeat(100_000)}`), "the file"],
  ];
  test.each(files)("%s: a message, exit 2, no stack trace, the good file still planned", async (_, make, message) => {
    const ran = await cli(["plan", make(), visit("old-mechanical"), "--json"]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain(message);
    expect(ran.err).not.toMatch(/\n\s+at /);
    expect(ran.out.trimEnd().split("\n").length).toBe(2);
  });

  test("a folder that cannot be made is told before anything is planned", async () => {
    const folder = scratch();
    writeFileSync(join(folder, "file"), "");
    const ran = await cli(["plan", visit("old-mechanical"), "--out", join(folder, "file", "out")]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain("--out");
    expect(ran.out).toBe("");
  });

  test("a place where no folder can be made is told", async () => {
    const ran = await cli(["plan", visit("old-mechanical"), "--out", "/proc/self/forehail-out"]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain("wanted a folder for --out that can be written");
  });

  test("an output name that is taken by a folder is told, the other files are written, and the run ends", async () => {
    const out = scratch();
    mkdirSync(join(out, "old-mechanical.plan.json"));
    const ran = await cli(["plan", visit("old-mechanical"), visit("modern-electronic"), "--out", out]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain("where a file of that name cannot be written");
    expect(readdirSync(out)).toContain("modern-electronic.letter.pdf");
  });

  test("wrong arguments say what is wanted", async () => {
    expect((await cli(["plan"])).err).toContain("wanted at least one visit file");
    expect((await cli(["plan", visit("old-mechanical"), "--units", "stone"])).err).toContain('--units: given "stone"; wanted metric or us');
    expect((await cli(["plan", visit("old-mechanical"), "--colour"])).code).toBe(2);
  });
});
