import { describe, expect, test } from "vitest";
import { anchorsIn, followed, refsIn, wholeWords } from "../../lib/letter/anchors.ts";
import { htmlOf } from "../../lib/letter/html/document.tsx";
import { letterOf } from "../../lib/letter/letter.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { VISITS } from "../golden/golden.ts";
import { letterText, namedIn, planned, visitText } from "./letters.ts";

test("references are found one by one and in runs", () => {
  expect(refsIn("T1, T3 to T5; Q12 and R2 to R2")).toEqual(["T1", "T3", "T4", "T5", "Q12", "R2"]);
  expect(refsIn("T5 to T3, Pt100, XT4, from 3 to 5")).toEqual([]);
});

test.each(VISITS)("every reference of the letter leads to where it is told: %s", async (name) => {
  const { plan, letter } = await planned(visitText(name));
  const anchors = anchorsIn(letter.blocks);
  expect(namedIn(plan).filter((ref) => !anchors.has(ref))).toEqual([]);
  // Nothing is cited that the letter does not tell: what the next letter asks is called by its name.
  expect([...new Set(refsIn(letterText(letter)))].filter((ref) => !anchors.has(ref))).toEqual([]);
  const html = htmlOf(letter);
  const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id = ""]) => id);
  expect(new Set(ids).size).toBe(ids.length);
  const leads = [...html.matchAll(/href="#([^"]+)"/g)].map(([, id = ""]) => id);
  expect(leads.length).toBeGreaterThan(10);
  expect(leads.filter((id) => !ids.includes(id))).toEqual([]);
});

test("a text is cut at its references and nothing of it is lost", () => {
  const anchors = new Map([
    ["Q3", "Q1"],
    ["R2", "R2"],
  ]);
  const pieces = followed("Q3: dry; R2, R9 can be had", anchors);
  expect(pieces).toEqual([{ ref: "Q3", to: "Q1" }, ": dry; ", { ref: "R2", to: "R2" }, ", R9 can be had"]);
});

describe("the second letter", () => {
  test("says at the top what changed and marks it", async () => {
    const { plan, read } = await planned(visitText("shaft-generator"));
    const [set] = plan.sets;
    const [test1] = set?.protections ?? [];
    if (set === undefined || test1 === undefined) throw new Error("no test");
    const former = {
      ...plan,
      sets: [
        {
          ...set,
          protections: set.protections.map((own) =>
            own.kind === "overspeed" ? { ...own, decision: { ...own.decision, methods: ["os-real"] } } : own,
          ),
        },
        ...plan.sets.slice(1),
      ],
      questions: [],
    };
    const letter = letterOf({ plan, read, rulebook, units: "metric", former });
    expect(letter.changed).toEqual(["Q1", "T5"]);
    const heads = letter.blocks.flatMap((block) => (block.kind === "heading" ? [block.text] : []));
    expect(heads.slice(0, 3)).toEqual(["What we ask of you", "What changed since the last letter", "What we have assumed"]);
    const html = htmlOf(letter);
    expect(html.match(/<em class="changed">changed<\/em>/g)?.length).toBe(2);
    const unchanged = letterOf({ plan, read, rulebook, units: "metric", former: plan });
    expect(htmlOf(unchanged)).toContain("Nothing has changed since the last letter.");
    expect(htmlOf(letterOf({ plan, read, rulebook, units: "metric" }))).not.toContain("since the last letter");
  });
});

test("what stands joined to a reference stays in its piece, so that no line is broken between the two", () => {
  const anchors = new Map([
    ["T1", "T1"],
    ["T2", "T2"],
  ]);
  expect(wholeWords(followed("for T1, (T2) and T1/T2; T1", anchors))).toEqual([
    "for ",
    { ref: "T1,", to: "T1" },
    " ",
    { ref: "(T2)", to: "T2" },
    " and ",
    { ref: "T1/T2;", to: "T1" },
    " ",
    { ref: "T1", to: "T1" },
  ]);
  for (const text of ["", "T1", "none", " T1 ", "(T1)(T2)"])
    expect(
      wholeWords(followed(text, anchors))
        .map((piece) => (typeof piece === "string" ? piece : piece.ref))
        .join(""),
    ).toBe(text);
});
