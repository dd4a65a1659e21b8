import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, test } from "vitest";
import { DayDrawing } from "../../components/day/DayDrawing.tsx";
import { DayTable } from "../../components/day/DayTable.tsx";
import { dayDrawing } from "../../lib/drawing/day.ts";
import { linesOfDay, rowOf } from "../../lib/drawing/dayLanes.ts";
import type { Drawing as Drawn } from "../../lib/drawing/shapes.ts";
import type { Letter } from "../../lib/letter/blocks.ts";
import { Drawing } from "../../lib/letter/html/drawing.tsx";
import { pdfOf } from "../../lib/letter/pdf/document.tsx";
import type { DayLane } from "../../lib/plan/day/types.ts";
import { scratch } from "../cli/cli.ts";
import { dayPlan, line } from "./days.ts";

const plan = dayPlan();
const found = (text: string, pattern: RegExp): readonly string[] => [...text.matchAll(pattern)].map(([, one = ""]) => one);

describe.each([0, 1])("day %i on a page", (day) => {
  const drawn = renderToStaticMarkup(<DayDrawing plan={plan} day={day} />);
  const table = renderToStaticMarkup(<DayTable plan={plan} day={day} />);
  const ids = linesOfDay(plan, day).map(({ id }) => rowOf(id));

  test("every task is a row of the table, once, and every bar leads to one", () => {
    expect(found(table, /<tr id="([^"]+)"/g)).toEqual(ids);
    for (const id of ids) expect(id).toMatch(/^task-[\w-]+$/);
    expect(new Set(found(drawn, /href="#([^"]+)"/g))).toEqual(new Set(ids));
  });

  test("the keyboard meets every task once in a drawing of the whole day, under a name that tells it", () => {
    const whole = /<div class="page">(.*?)<\/div>/s.exec(drawn)?.[1] ?? "";
    const links = [...whole.matchAll(/<a ([^>]*)>/g)].map(([, attributes = ""]) => attributes);
    const met = links.filter((attributes) => !attributes.includes('tabindex="-1"'));
    expect(met.flatMap((attributes) => found(attributes, /href="#([^"]+)"/g)).sort()).toEqual([...ids].sort());
    for (const attributes of met) expect(attributes).toMatch(/aria-label="[^"]+, \d\d:\d\d to \d\d:\d\d"/);
    for (const attributes of links.filter((each) => !met.includes(each))) expect(attributes).toContain('aria-hidden="true"');
    // An image has no inside that anybody could be led through.
    expect(drawn).not.toContain('role="img"');
  });
});

test("the table tells what the marks of the drawing mean", () => {
  const table = renderToStaticMarkup(<DayTable plan={plan} day={0} />);
  const row = (id: string): string => (new RegExp(`<tr id="${id}">(.*?)</tr>`, "s").exec(table)?.[1] ?? "").replace(/<[^>]+>/g, " ");
  expect(row("task-T3")).toMatch(/09:25 to 10:00 .*T3 .*Generator 1 .*Low lube-oil pressure .*The channel is blind meanwhile\./);
  expect(row("task-T3")).toMatch(/Inspector until 09:50; Technician for .*; Engineers of the ship .*09:50 to 10:00 .*1 start, 1 hot stop/);
  expect(row("task-T5")).toContain("It wants the inspector’s consent.");
  expect(table).toContain("24\u00a0bar at 10:30");
  expect(table).toContain("1000\u00a0kW from 09:05");
  const without = renderToStaticMarkup(<DayTable plan={dayPlan({ stores: [], load: null })} day={0} />);
  expect(without).not.toContain("Starting energy");
  expect(without).not.toContain("Load and running capacity");
});

test("where it leads nowhere it is an image that says all", () => {
  const [drawing] = dayDrawing(plan, 0);
  if (drawing === undefined) throw new Error("no drawing");
  const image = renderToStaticMarkup(<Drawing drawing={drawing} />);
  expect(image).toMatch(/role="img" aria-label="Day 1 of 2, 08:00 to 18:00\. Inspector\. Papers 08:00 to 08:30; Briefing 08:30 to 08:45;/);
  expect(image).not.toContain("<a ");
});

/** A paper of one heading over drawings, on a page of their own. */
const paperOf = (paper: Letter["paper"], drawings: readonly Drawn[]): Letter => ({
  title: "Order of the day",
  subject: "Order of the day",
  date: "1 March 2026",
  isoDate: "2026-03-01",
  paper,
  reference: "1",
  office: { name: "Office", address: [], contact: "office@example.org" },
  to: [],
  statement: "Forehail plans.",
  blocks: [
    { kind: "paragraph", text: "Begins overleaf." },
    { kind: "newPage" },
    { kind: "heading", text: "Drawn" },
    { kind: "drawings", drawings },
  ],
});

test.each(["A4", "Letter"] as const)("the same on paper, within its margins: %s", async (paper) => {
  const path = join(scratch(), "day.pdf");
  const drawings = [0, 1].flatMap((day) => dayDrawing(plan, day));
  writeFileSync(path, await pdfOf(paperOf(paper, drawings)));
  const boxes = execFileSync("pdftotext", ["-bbox", path, "-"], { encoding: "utf8" });
  const words = [...boxes.matchAll(/xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)/g)];
  const [right, bottom] = paper === "A4" ? [551, 825] : [568, 775];
  const beyond = words.filter(([, x, , end, low, word]) => word !== "" && (Number(x) < 44 || Number(end) > right || Number(low) > bottom));
  expect(beyond.map(([, , , , , word]) => word)).toEqual([]);
  const told = words.map(([, , , , , word]) => word);
  // T22 on the lanes of the inspector, the technician, the crew and the set; T1 where its bar has room.
  expect(told.filter((word) => word === "T22")).toHaveLength(4);
  for (const word of ["T1", "T2", "T5", "T24", "T41", "Papers", "Briefing", "Close-out", "08:00", "18:00", "30", "760"])
    expect(told).toContain(word);
});

test.each(["A4", "Letter"] as const)("the tallest drawing stands on one page with its heading: %s", async (paper) => {
  for (const sets of [8, 10, 11, 12, 13]) {
    const lanes = Array.from(
      { length: sets },
      (_, place): DayLane => ({ id: `set ${place}`, kind: "set", label: `Generator ${place + 1}` }),
    );
    const lines = lanes.map((_, set) =>
      line({ id: `T${set}`, ref: `T${set}`, phase: "running", set, what: "Overspeed", begins: 540, minutes: 40 }),
    );
    const path = join(scratch(), "tall.pdf");
    writeFileSync(path, await pdfOf(paperOf(paper, dayDrawing(dayPlan({ lanes, lines }), 0))));
    const pages = execFileSync("pdftotext", [path, "-"], { encoding: "utf8" }).split("\f");
    expect(pages.filter((page) => page.includes("Drawn"))).toHaveLength(1);
    expect(pages.find((page) => page.includes("Drawn"))).toContain("Day 1 of 2");
  }
});
