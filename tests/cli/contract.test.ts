import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { type Plan, planSchema } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { cli, ROOT, scratch, visit } from "./cli.ts";

const parse = (text: string): unknown => JSON.parse(text) as unknown;

describe("plan", () => {
  test("--json prints one plan per line in the order of the files, fits its schema, and --units changes no byte", async () => {
    const files = [visit("old-mechanical"), visit("modern-electronic")];
    const metric = await cli(["plan", ...files, "--json"]);
    const us = await cli(["plan", ...files, "--json", "--units", "us"]);
    expect(metric.code).toBe(0);
    expect(us.out).toBe(metric.out);
    const lines = metric.out.trimEnd().split("\n");
    const plans = lines.map((line) => planSchema.parse(parse(line)));
    expect(plans.map((plan) => plan.visit.vessel)).toEqual(["Kestrel Bight", "Ardenvoe Pioneer"]);
  });

  test("clock, time zone, locale, key order and order of other files change no byte", async () => {
    const folder = scratch();
    const turned = (value: unknown): unknown => {
      if (Array.isArray(value)) return value.map(turned);
      if (typeof value !== "object" || value === null) return value;
      return Object.fromEntries(
        Object.entries(value)
          .reverse()
          .map(([key, inner]) => [key, turned(inner)]),
      );
    };
    const reversed = join(folder, "mixed-channels.json");
    writeFileSync(reversed, JSON.stringify(turned(parse(readFileSync(visit("mixed-channels"), "utf8")))));
    const plain = await cli(["plan", visit("mixed-channels"), "--json"], { TZ: "UTC", LC_ALL: "C" });
    const elsewhere = await cli(["plan", reversed, "--json"], { TZ: "Pacific/Kiritimati", LC_ALL: "tr_TR.UTF-8", LANG: "tr_TR.UTF-8" });
    expect(plain.code).toBe(0);
    expect(elsewhere.out).toBe(plain.out);
  });

  test("--since tells in the letter what changed since the plan of the last one; another visit's plan is refused", async () => {
    const [folder, name] = [scratch(), "shaft-generator"];
    expect((await cli(["plan", visit(name), "--out", folder])).code).toBe(0);
    const former = join(folder, `${name}.plan.json`);
    const { references } = planSchema.parse(parse(readFileSync(former, "utf8")));
    const second = join(folder, "second.json");
    writeFileSync(
      second,
      JSON.stringify({
        ...(parse(readFileSync(visit(name), "utf8")) as object),
        references,
        letters: [{ number: 1, sentOn: "2026-03-02" }],
      }).replace('"heatBlock":"in time"', '"heatBlock":"not to be had"'),
    );
    const ran = await cli(["plan", second, "--out", folder, "--since", former, "--sheets"]);
    expect([ran.err, ran.code]).toEqual(["", 0]);
    const page = readFileSync(join(folder, "second.letter.html"), "utf8");
    expect(page).toContain("What changed since the last letter");
    expect(page).toMatch(/before: sensor drawn from its dry well and heated/);
    const other = await cli(["plan", visit("too-near"), "--out", folder, "--since", former]);
    expect([other.code, other.err]).toEqual([
      2,
      `--since: ${former}: visit.vessel: given "Orvane Link"; wanted the plan of "Skerry Ransome"\n`,
    ]);
    const broken = await cli(["plan", second, "--out", folder, "--since", second]);
    expect(broken.code).toBe(2);
    expect(broken.err).toContain('format: given "forehail visit 1"; wanted "forehail plan 1"');
    expect((await cli(["plan", second, "--since", former])).err).toContain("--since: given without --out");
  });

  test("--out writes plan and letter; two files of one name are told apart; nothing partial stays", async () => {
    const folder = scratch();
    for (const sub of ["a", "b"]) {
      mkdirSync(join(folder, sub));
      writeFileSync(join(folder, sub, "visit.json"), readFileSync(visit("old-mechanical")));
    }
    const ran = await cli(["plan", join(folder, "a/visit.json"), join(folder, "b/visit.json"), "--out", join(folder, "out")]);
    expect(ran.err).toBe("");
    expect(ran.code).toBe(0);
    expect(readdirSync(join(folder, "out")).sort()).toEqual([
      "a-visit.letter.pdf",
      "a-visit.plan.json",
      "b-visit.letter.pdf",
      "b-visit.plan.json",
    ]);
    expect(readFileSync(join(folder, "out/a-visit.letter.pdf")).subarray(0, 5).toString()).toBe("%PDF-");
  });

  test("a bad file is told, the good ones are still planned, and the exit code is 2", async () => {
    const folder = scratch();
    const bad = join(folder, "bad.json");
    writeFileSync(bad, '{ "format": "forehail visit 1", "sets": [] }');
    const ran = await cli(["plan", bad, visit("old-mechanical"), "--json"]);
    expect(ran.code).toBe(2);
    const [first = "", second = ""] = ran.out.trimEnd().split("\n");
    expect(parse(first)).toMatchObject({ file: bad, faults: expect.arrayContaining([expect.objectContaining({ at: "/sets" })]) });
    expect(planSchema.parse(parse(second)).visit.vessel).toBe("Kestrel Bight");
    expect(ran.err).toContain("preparedOn: given nothing; wanted");
  });

  test("shows units as chosen, the exact value kept in the plan", async () => {
    const metric = await cli(["plan", visit("old-mechanical")]);
    const us = await cli(["plan", visit("old-mechanical"), "--units", "us"]);
    expect(metric.out).toContain("1.52 bar");
    expect(us.out).toContain("22 psi ± 3 psi");
    expect(us.out).toContain("205 °F ± 5 °F");
  });
});

describe("schema, rulebook and explain", () => {
  test("JSON Schemas of visit and plan are printed, with descriptions and units", async () => {
    const [visitSchema, plan] = await Promise.all([cli(["schema", "visit"]), cli(["schema", "plan"])]);
    expect(parse(visitSchema.out)).toMatchObject({
      type: "object",
      properties: { ruleBasis: { description: expect.stringContaining("Which rules bind") } },
    });
    expect(visitSchema.out).toContain("Unit: rpm.");
    expect(parse(plan.out)).toMatchObject({ type: "object", properties: { questions: {} } });
    expect((await cli(["schema", "letter"])).code).toBe(2);
  });

  test("the rulebook is printed whole, with version and digest", async () => {
    const printed = parse((await cli(["rulebook"])).out);
    expect(printed).toMatchObject({ version: rulebook.version, digest: expect.stringMatching(/^[0-9a-f]{16}$/) });
    expect(printed).toMatchObject(parse(JSON.stringify(rulebook)) as object);
  });

  test("explain says in words why, and names the references there are when asked for another", async () => {
    const plan = parse((await cli(["plan", visit("old-mechanical"), "--json"])).out) as Plan;
    const ref = plan.sets[0]?.protections.find(({ kind }) => kind === "overspeed")?.ref ?? "";
    const told = await cli(["explain", visit("old-mechanical"), ref]);
    expect(told.out).toContain("real overspeed, unloaded, raised to the trip");
    expect(told.out).toContain("no other fact can change it");
    const wrong = await cli(["explain", visit("old-mechanical"), "T999"]);
    expect(wrong.code).toBe(2);
    expect(wrong.err).toContain("wanted one of T1, T2, T3, T4, T5, T6");
  });
});

test("the demo plans every demo visit, writes plan and letter of each, and says where", async () => {
  const ran = await cli(["demo"], {}, scratch());
  // With so many files progress is told.
  expect(ran.err).toMatch(/^(\d+ of \d+: \S+\n)+$/);
  expect(ran.code).toBe(0);
  expect(ran.out).toContain(join(ROOT, "out"));
  for (const { name } of readdirSync(join(ROOT, "fixtures/visits"), { withFileTypes: true })) {
    for (const ending of [".plan.json", ".letter.pdf"]) expect(existsSync(join(ROOT, "out", name.replace(/\.json$/, ending)))).toBe(true);
  }
});
