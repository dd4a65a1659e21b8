import { describe, expect, test } from "vitest";
import type { Block, Letter } from "../../lib/letter/blocks.ts";
import { formDigest } from "../../lib/letter/formFields.ts";
import { jobSheetOf } from "../../lib/letter/jobSheet.ts";
import { letterOf } from "../../lib/letter/letter.ts";
import { calendarOf } from "../../lib/outside/calendar.ts";
import { askedInLetter, askedOf, confirmedIn } from "../../lib/plan/asked.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { VISITS } from "../golden/golden.ts";
import { planned, referencesIn, visitText } from "./letters.ts";

/** The second letter of a demo visit of which these requests were confirmed with the first. */
const second = async (name: string, of: (plan: Plan) => readonly string[]) => {
  const first = await planned(visitText(name));
  const file = JSON.parse(visitText(name)) as object;
  const confirmed = of(first.plan).map((request) => ({ request, letter: 1, by: "2026-03-20", words: `ours for ${request.slice(1)}` }));
  const { plan, read } = await planned(
    JSON.stringify({ ...file, references: first.plan.references, letters: [{ number: 1, sentOn: "2026-03-02" }], confirmed }),
  );
  const letter = letterOf({ plan, read, rulebook, units: "metric", form: { mark: "M" }, former: first.plan });
  return { plan, read, letter, former: first.plan, confirmed: confirmed.map(({ request }) => request) };
};

const under = ({ blocks }: Letter, text: string): Block | undefined =>
  blocks[blocks.findIndex((block) => block.kind === "subheading" && block.text === text) + 1];

const confirmedRows = (letter: Letter): readonly (readonly string[])[] => {
  const table = under(letter, "Confirmed already");
  return table?.kind === "table" ? table.rows : [];
};

const askedOnPageOne = ({ blocks }: Letter): ReadonlySet<string> => {
  const asks = blocks.find((block) => block.kind === "asks");
  return referencesIn(asks?.kind === "asks" ? asks.lines.map(({ what }) => what).join(" ") : "");
};

const formRefs = ({ blocks }: Letter): readonly string[] =>
  blocks.flatMap((block) => (block.kind === "form" ? block.rows.map(({ ref }) => ref) : []));

const everySecond = ({ requests }: Plan): readonly string[] => requests.filter((_, place) => place % 2 === 0).map(({ ref }) => ref);

describe.each(VISITS)("%s", (name) => {
  test("what was confirmed is told as confirmed, once, and asked by none: page one, form, reply page, calendar", async () => {
    const { plan, read, letter, confirmed } = await second(name, everySecond);
    const rest = plan.requests.map(({ ref }) => ref).filter((ref) => !confirmed.includes(ref));
    expect(confirmed.length).toBeGreaterThan(0);
    const rows = confirmedRows(letter);
    expect(rows.map(([ref]) => ref)).toEqual(confirmed);
    for (const [ref = "", , , words] of rows) expect(words).toBe(`With letter 1, by 20 March 2026: “ours for ${ref.slice(1)}”`);
    const asked = askedInLetter(askedOf(plan, rulebook, confirmedIn(read.visit), { read, units: "metric" }));
    expect(asked.requests.map(({ ref }) => ref)).toEqual(rest);
    const calendar = calendarOf({
      plan,
      earlier: [],
      done: confirmedIn(read.visit),
      ended: null,
      uidStem: "v",
      sequence: 1,
      stamp: "2026-03-02T09:30:15.000Z",
    });
    const noted = referencesIn(calendar.ok ? calendar.value.replaceAll("\r\n ", "") : "");
    for (const ref of confirmed) {
      expect([askedOnPageOne(letter).has(ref), formRefs(letter).includes(ref), noted.has(ref)], ref).toEqual([false, false, false]);
      // In the requests it stands in its own row and in no other.
      const own = letter.blocks.flatMap((block) =>
        block.kind === "table" ? block.rows.filter(([first = ""]) => referencesIn(first).has(ref)) : [],
      );
      expect(own, ref).toHaveLength(1);
    }
    for (const ref of rest) expect([askedOnPageOne(letter).has(ref), formRefs(letter).includes(ref)], ref).toEqual([true, true]);
    const mark = letter.blocks.find((block) => block.kind === "formMark");
    expect(mark?.kind === "formMark" ? mark.text : "").toBe(`Form of letter M, digest ${formDigest(asked)}.`);
    expect(JSON.stringify(letter)).not.toContain(`“${confirmed[0]}: yes”`);
  });
});

test("the second letter says at the top what is confirmed since the first, and marks it; the third does not say it again", async () => {
  const { plan, read, letter, former, confirmed } = await second("old-mechanical", everySecond);
  const list = letter.blocks.find((block) => block.kind === "labelled" && block.items.some(({ label }) => label === "Now confirmed"));
  const told = list?.kind === "labelled" ? list.items.find(({ label }) => label === "Now confirmed")?.text : "";
  expect([...referencesIn(told ?? "")]).toEqual(confirmed);
  expect(letter.changed).toEqual(expect.arrayContaining([...confirmed]));
  const letters = [...read.visit.letters, { number: 2, sentOn: "2026-03-05" }];
  const third = letterOf({ plan, read: { ...read, visit: { ...read.visit, letters } }, rulebook, units: "metric", former });
  expect(JSON.stringify(third.blocks)).not.toContain("Now confirmed");
});

test("where all is confirmed nothing more is to be arranged; photographs that were promised leave their questions asked in writing", async () => {
  const { plan, letter, confirmed } = await second("almost-nothing-known", ({ requests }) => requests.map(({ ref }) => ref));
  expect(JSON.stringify(letter)).toContain("Nothing more has to be arranged.");
  expect(confirmedRows(letter)).toHaveLength(confirmed.length);
  expect(under(letter, "Photographs")).toBe(letter.blocks[0]);
  const photographs = plan.requests.filter(({ kind }) => kind === "photograph");
  expect(photographs.length).toBeGreaterThan(0);
  const [from, to] = ["Questions", "Requests"].map((text) =>
    letter.blocks.findIndex((block) => block.kind === "heading" && block.text === text),
  );
  const written = referencesIn(
    letter.blocks
      .slice(from, to)
      .flatMap((block) => (block.kind === "table" ? block.rows.flat() : []))
      .join(" "),
  );
  const wanted = new Set(askedInLetter(askedOf(plan, rulebook)).questions.map(({ ref }) => ref));
  for (const ref of photographs.flatMap(({ answers }) => answers ?? []).filter((one) => wanted.has(one)))
    expect(written.has(ref), ref).toBe(true);
});

test("a technician who is confirmed is said to be so on his job sheet", async () => {
  const technician = ({ requests }: Plan): readonly string[] =>
    requests.filter(({ kind, at }) => kind === "technician" && at !== undefined).map(({ ref }) => ref);
  const { plan, read } = await second("modern-electronic", technician);
  const sheet = JSON.stringify(jobSheetOf({ plan, read, rulebook, units: "metric" }));
  expect(sheet).toContain("Confirmed with letter 1, by 20 March 2026: “ours for");
  expect(sheet).not.toContain("To be confirmed by");
  const before = await planned(visitText("modern-electronic"));
  expect(JSON.stringify(jobSheetOf({ ...before, rulebook, units: "metric" }))).toContain("To be confirmed by");
});
