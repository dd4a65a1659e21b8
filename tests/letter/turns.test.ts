import { expect, test } from "vitest";
import type { Letter } from "../../lib/letter/blocks.ts";
import { openRenderer } from "../../lib/letter/render.ts";

const LETTER: Letter = {
  title: "",
  subject: "",
  date: "",
  isoDate: "2026-03-02",
  paper: "A4",
  reference: "",
  office: { name: "Office", address: [], contact: "" },
  to: [],
  statement: "",
  blocks: [{ kind: "heading", text: "Heading" }],
};

test("each letter is told how many come before it, until it is its turn; more than the most are turned away", async () => {
  const renderer = openRenderer({ timeout: 60_000, memory: 512, waiting: 2 });
  const told: number[][] = [[], [], [], []];
  const outcomes = await Promise.all(told.map((places) => renderer.render(LETTER, (before) => places.push(before))));
  expect(told.map((places) => places.filter((place, at) => place !== places[at - 1]))).toEqual([[0], [1, 0], [2, 1, 0], []]);
  expect(outcomes.map(({ ok }) => ok)).toEqual([true, true, true, false]);
  expect(outcomes[3]).toEqual({ ok: false, faults: ["3 letters are waiting already; try again in a few minutes"] });
  expect(renderer.waiting()).toBe(0);
  await renderer.close();
});
