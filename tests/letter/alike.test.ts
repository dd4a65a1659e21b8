import { expect, test } from "vitest";
import { alikeRows, ledIn } from "../../lib/letter/alike.ts";
import { formLetter } from "./forms.ts";

test("what reads the same of several sets is told once, with all references and sets; what is about something else stands apart", () => {
  const rows = alikeRows([
    { ref: "Q1", at: "/sets/0/overspeed/tolerance", set: "A", text: "A: How much?" },
    { ref: "Q2", at: "/sets/0/lubeOil/tolerance", set: "A", text: "A: How much?" },
    { ref: "Q3", at: "/sets/1/overspeed/tolerance", set: "B", text: "B: How much?" },
    { ref: "Q4", set: "", text: "Which rules?" },
  ]);
  expect(rows.map(({ refs, text }) => [refs.join(), text])).toEqual([
    ["Q1,Q3", "A, B: How much?"],
    ["Q2", "A: How much?"],
    ["Q4", "Which rules?"],
  ]);
});

test("a question that leans on the one before it is led in by the protection that it is about", async () => {
  const { asked } = await formLetter("mixed-channels");
  const texts = ledIn(asked).map(({ text }) => text);
  const leaning = texts.filter((text) => /\bthat set point\b/.test(text));
  expect(leaning.length).toBeGreaterThan(1);
  for (const text of leaning) expect(text).toMatch(/^[^:]+ generator: [A-Z][^.?]+\. What tolerance/);
  expect(new Set(leaning).size).toBe(leaning.length);
  expect(texts.filter((text, place) => text === asked.questions[place]?.text).length).toBeGreaterThan(leaning.length);
});
