import { execFileSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import type { Letter } from "../../lib/letter/blocks.ts";
import { htmlOf } from "../../lib/letter/html/document.tsx";
import { inspectorPlanOf } from "../../lib/letter/inspectorPlan.ts";
import { jobSheetOf } from "../../lib/letter/jobSheet.ts";
import { letterOf } from "../../lib/letter/letter.ts";
import { ACT, DANGER, INK, QUIET } from "../../lib/letter/pdf/style.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { formatNumber } from "../../lib/units/units.ts";
import { cli, scratch, visit } from "../cli/cli.ts";
import { VISITS } from "../golden/golden.ts";
import { namedIn, planned, referencesIn, visitText, withVisit } from "./letters.ts";

const inputOf = async (text: string) => {
  const { plan, read } = await planned(text);
  return { plan, read, rulebook, units: "metric" as const };
};
const words = (letter: Letter): string => JSON.stringify(letter.blocks);
const methods = new Map(rulebook.protections.flatMap((protection) => protection.methods.map((method) => [method.id, method] as const)));
/** A page's text as a reader sees it. */
const plain = (html: string): string =>
  html
    .replace(/<style>.*?<\/style>/s, "")
    // A link stands within its word or beside its comma.
    .replace(/<\/?a\b[^>]*>/g, "")
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, "&")
    .replace(/\s+/g, " ");

test("a set that is motored has its load drawn under its test, once, in the letter and in the inspector's plan", async () => {
  const text = await withVisit("old-mechanical", ({ sets }) => {
    for (const set of sets) Object.assign(set["reversePower"] ?? {}, { motoringPower: 14 });
  });
  const input = await inputOf(text);
  for (const paper of [letterOf(input), inspectorPlanOf(input)]) {
    const drawn = paper.blocks.flatMap((block) => (block.kind === "protection" && block.drawings.length > 0 ? [block.name] : []));
    expect(drawn).toEqual(["Reverse power"]);
    expect(htmlOf(paper)).toContain("Together 325 kW on 500 kW: 65 %, within 85 %.");
  }
  expect(htmlOf((await planned(visitText("too-near"))).letter)).not.toContain("Together");
});

test.each(VISITS)("the job sheet has the set point and the signal of every test that has one: %s", async (name) => {
  const input = await inputOf(visitText(name));
  const sheet = jobSheetOf(input);
  if (sheet === null) return;
  const text = words(sheet);
  const technicians = input.plan.requests.filter(({ kind, at }) => kind === "technician" && at !== undefined);
  const refs = new Set(technicians.flatMap(({ neededBy }) => neededBy));
  const figures = input.plan.sets
    .flatMap(({ protections }) => protections)
    .filter(({ ref }) => refs.has(ref))
    .flatMap((protection) => protection.figures.filter(({ officeOnly, later }) => officeOnly !== true && later !== true));
  for (const { value, unit } of figures)
    expect(text).toContain(`${typeof value === "number" ? formatNumber(value, 2) : value} ${unit}`.trim());
});

/** How bright a colour is in grey, 0 to 1, by WCAG 2.2's relative luminance. */
const luminance = (hex: string): number => {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5]
    .map((from) => Number.parseInt(hex.slice(from, from + 2), 16) / 255)
    .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
};

test("printed in black and white, all words stand out from the paper and nothing is told by colour alone", () => {
  for (const colour of [INK, QUIET, ACT, DANGER]) expect(1.05 / (luminance(colour) + 0.05), colour).toBeGreaterThan(4.5);
  // A copier makes black of what is darker than half: the hatched and the empty parts of a strip must stay paper.
  for (const colour of [INK, ACT, DANGER]) expect(luminance(colour)).toBeLessThan(0.2);
});

describe.each(VISITS)("%s", (name) => {
  test("the page says what the letter says: every reference, every caution, every block", async () => {
    const { plan, letter } = await planned(visitText(name));
    const html = htmlOf(letter);
    const text = plain(html);
    const found = referencesIn(text);
    expect(namedIn(plan).filter((ref) => !found.has(ref))).toEqual([]);
    const used = new Set(plan.sets.flatMap(({ protections }) => protections.flatMap(({ cautions }) => cautions)));
    for (const { id, text: caution } of rulebook.cautions) if (used.has(id)) expect(text).toContain(caution);
    for (const block of letter.blocks)
      if (block.kind === "protection") for (const { text: line } of block.lines) expect(text).toContain(line.replace(/\s+/g, " "));
    expect(html).not.toMatch(/undefined|NaN|\[object/);
    expect(html.match(/<h1>/g)).toHaveLength(1);
    expect(html.match(/<th\b(?! scope=)/g)).toBeNull();
    expect(html).toMatch(/^<!doctype html>\n<html lang="en">/);
  });

  test("the inspector's plan has every finding, way and verdict with its reason, and what to watch", async () => {
    const input = await inputOf(visitText(name));
    const text = words(inspectorPlanOf(input)).toLowerCase();
    const has = (part: string): void => expect(text.includes(JSON.stringify(part).slice(1, -1).toLowerCase()), part).toBe(true);
    for (const { text: finding } of input.plan.findings) has(finding);
    for (const { text: warning } of input.plan.warnings) has(warning);
    for (const protection of input.plan.sets.flatMap(({ protections }) => protections)) {
      expect(referencesIn(text.toUpperCase()).has(protection.ref), protection.ref).toBe(true);
      if (protection.applies === "no") continue;
      for (const { method, reason } of protection.verdicts) {
        has(methods.get(method)?.name ?? "no such method");
        has(reason);
      }
      for (const id of protection.decision.methods) has(methods.get(id)?.expected ?? "no such method");
    }
    expect(text).not.toMatch(/undefined|nan\b|\[object/);
  });

  test("the job sheet has every test that a technician is asked for, and nothing else", async () => {
    const input = await inputOf(visitText(name));
    const wanted = input.plan.requests.filter(({ kind, at, neededBy }) => kind === "technician" && at !== undefined && neededBy.length > 0);
    const sheet = jobSheetOf(input);
    if (wanted.length === 0) {
      expect(sheet).toBeNull();
      return;
    }
    const rows = (sheet?.blocks ?? []).flatMap((block) => (block.kind === "table" ? block.rows.map(([refs = ""]) => refs) : []));
    const told = referencesIn(rows.join(" "));
    const expected = new Set(wanted.flatMap(({ neededBy }) => neededBy));
    const ranges = rows.join(" ").includes(" to ");
    for (const ref of expected) if (!ranges) expect(told.has(ref), ref).toBe(true);
    for (const ref of told) expect(expected.has(ref), ref).toBe(true);
    const heads = (sheet?.blocks ?? []).flatMap((block) => (block.kind === "heading" ? [block.text.split(" ")[0]] : []));
    expect(heads).toEqual(wanted.map(({ ref }) => ref));
  });
});

test("hostile text is text: no markup of people's gets into the page", async () => {
  const evil = `<script>alert(1)</script><img src=x onerror=alert(1)>"'&`;
  const text = await withVisit("old-mechanical", ({ visit: file, sets }) => {
    file.vessel["owner"] = evil;
    if (sets[0] !== undefined) sets[0]["name"] = "<b>Set</b>";
  });
  const { letter } = await planned(text);
  const html = htmlOf(letter);
  expect(html).not.toMatch(/<script|<img|<b>/);
  expect(plain(html.replaceAll("&lt;", "‹").replaceAll("&gt;", "›"))).toContain("‹script›alert(1)‹/script›");
});

test("--sheets writes them all, sound and beside the letter; without a folder it says what is missing", async () => {
  const out = scratch();
  const done = await cli(["plan", visit("modern-electronic"), "--out", out, "--sheets"]);
  expect(done.code).toBe(0);
  for (const ending of ["plan.json", "letter.pdf", "letter.html", "inspector.pdf", "jobs.pdf", "sheets.pdf"])
    expect(existsSync(join(out, `modern-electronic.${ending}`)), ending).toBe(true);
  for (const ending of ["inspector.pdf", "jobs.pdf", "sheets.pdf"]) {
    const path = join(out, `modern-electronic.${ending}`);
    execFileSync("qpdf", ["--check", path]);
    for (const font of execFileSync("pdffonts", [path], { encoding: "utf8" }).trimEnd().split("\n").slice(2))
      expect(font).toMatch(/SourceSans3.*\byes yes yes\b/);
  }
  expect(readFileSync(join(out, "modern-electronic.letter.html"), "utf8")).toContain("Ardenvoe Pioneer");
  const none = await cli(["plan", visit("modern-electronic"), "--sheets"]);
  expect([none.code, none.err.includes("--sheets: given without --out")]).toEqual([2, true]);
});
