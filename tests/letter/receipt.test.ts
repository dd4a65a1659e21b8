import { execFileSync } from "node:child_process";
import fc from "fast-check";
import { afterAll, describe, expect, test } from "vitest";
import type { Letter } from "../../lib/letter/blocks.ts";
import { htmlOf } from "../../lib/letter/html/document.tsx";
import { type ReceiptInput, receiptOf } from "../../lib/letter/receipt.ts";
import type { Reply } from "../../lib/model/reply.ts";
import type { Asked } from "../../lib/plan/asked.ts";
import { someReply } from "../reply/replies.ts";
import { fileOf, formLetter, formRenderer } from "./forms.ts";
import { referencesIn, shown } from "./letters.ts";

const receiptFor = (asked: Asked, reply: Reply, more: Partial<ReceiptInput> = {}): Letter =>
  receiptOf({
    office: { name: "Tallowmere Survey Office", address: ["Quay House"], contact: "plans@tallowmere.example" },
    vessel: "Kestrel Bight",
    reference: "V-7",
    number: 2,
    asked,
    reply,
    confirmedAt: "2026-03-03T08:05:59.000Z",
    confirmedBy: reply.by.name,
    attachments: [],
    paper: "A4",
    ...more,
  });

const saying = (more: Partial<Reply>): Reply => ({
  format: "forehail reply 1",
  letter: "M-2",
  by: { name: "Jan Kowal" },
  questions: {},
  requests: {},
  tests: {},
  ...more,
});

const rowsIn = ({ blocks }: Letter): readonly (readonly string[])[] =>
  blocks.flatMap((block) => (block.kind === "table" ? block.rows : []));
const answerTo = (letter: Letter, ref: string): string | undefined => rowsIn(letter).find(([first]) => first === ref)?.[2];
/** The references under "Not answered", each time it stands. */
const unansweredIn = ({ blocks }: Letter): readonly string[] =>
  blocks.flatMap((block, place) => {
    const before = blocks[place - 1];
    if (block.kind !== "labelled" || before?.kind !== "subheading" || before.text !== "Not answered") return [];
    return block.items.flatMap(({ label }) => [...referencesIn(label)]);
  });

const { asked, specAt, mark } = await formLetter("old-mechanical");
const all = [...asked.questions, ...asked.requests, ...asked.tests].map(({ ref }) => ref);

describe("the receipt of a reply", () => {
  test("has everything that was asked once: answered in full, or named as not answered", () => {
    fc.assert(
      fc.property(someReply(asked, mark, specAt), (reply) => {
        const letter = receiptFor(asked, reply);
        const said = [reply.questions, reply.requests, reply.tests, reply.corrections ?? {}].flatMap(Object.keys);
        const rows = rowsIn(letter).map(([ref = ""]) => ref);
        expect([...rows].sort()).toEqual([...said].sort());
        expect([...unansweredIn(letter)].sort()).toEqual(all.filter((ref) => !said.includes(ref)).sort());
        expect(shown(letter)).not.toMatch(/undefined|NaN|\[object|“”/);
        for (const { words, contact } of Object.values(reply.requests)) {
          if (words !== undefined) expect(JSON.stringify(rowsIn(letter))).toContain(JSON.stringify(`“${words}”`).slice(1, -1));
          if (contact !== undefined) expect(JSON.stringify(rowsIn(letter))).toContain(JSON.stringify(`Contact: ${contact}.`).slice(1, -1));
        }
        expect(receiptFor(asked, structuredClone(reply))).toEqual(letter);
      }),
      { numRuns: 30, seed: 20261126 },
    );
  });

  test("says what was corrected beside what it was taken as, and nothing of what was left as it was", () => {
    const choice = asked.known.find(({ choices }) => choices.length > 1);
    const number = asked.known.find(({ unit }) => unit === "rpm");
    const other = choice?.choices.find(({ value }) => value !== choice.value);
    const letter = receiptFor(
      asked,
      saying({ corrections: { [choice?.ref ?? ""]: other?.value ?? "", [number?.ref ?? ""]: { value: 15.5, unit: "Hz" } } }),
    );
    expect(answerTo(letter, choice?.ref ?? "")).toBe(`${other?.label}.`);
    expect(answerTo(letter, number?.ref ?? "")).toBe("15.5 Hz.");
    expect(rowsIn(letter).find(([ref]) => ref === choice?.ref)?.[1]).toBe(`${choice?.name}, taken as ${choice?.told}.`);
    expect(shown(letter)).toContain("Otherwise than we assumed");
    expect(shown(receiptFor(asked, saying({})))).not.toContain("Otherwise than we assumed");
    expect(unansweredIn(letter).filter((ref) => ref.startsWith("K"))).toEqual([]);
  });

  test("says each answer in words: the choice, the number with its unit, or when it will be known", () => {
    const choice = asked.questions.find(({ choices }) => choices.length > 1);
    const [first, second] = asked.questions.filter(({ choices }) => choices.length === 0);
    if (choice === undefined) throw new Error("no choice is asked");
    const [a, b] = [
      first ?? { ...choice, ref: "Q91", choices: [], unit: "bar" as const },
      second ?? { ...choice, ref: "Q92", choices: [], unit: "bar" as const },
    ];
    const rest = { ...choice, ref: "Q93" };
    const letter = receiptFor(
      { ...asked, questions: [choice, a, b, rest] },
      saying({
        questions: {
          [choice.ref]: { says: "answer", value: choice.choices[1]?.value ?? "" },
          [a.ref]: { says: "answer", value: 1234.5 },
          [b.ref]: { says: "answer", value: { value: 22, unit: "psi" } },
          [rest.ref]: { says: "we will find out", by: "2026-03-20" },
        },
      }),
    );
    expect(answerTo(letter, choice.ref)).toBe(`${choice.choices[1]?.label}.`);
    expect(answerTo(letter, a.ref)).toBe(a.unit === undefined ? "1234.5." : `1234.5 ${a.unit}.`);
    expect(answerTo(letter, b.ref)).toBe("22 psi.");
    expect(answerTo(letter, rest.ref)).toBe("We will find out by 20 March 2026.");
  });

  test("says what of a request was confirmed, how, by when and whom to ask, and which way was agreed or proposed", () => {
    const how = asked.requests.find(({ had }) => had.length > 1);
    const [bare, other] = asked.requests.filter(({ had }) => had.length === 0);
    const way = asked.tests.find(({ others }) => others.length > 0) ?? asked.tests[0];
    const [agreed] = asked.tests.filter(({ ref }) => ref !== way?.ref);
    if (how === undefined || bare === undefined || other === undefined || way === undefined || agreed === undefined)
      throw new Error("too little is asked");
    const tests = asked.tests.map((one) => (one.ref === way.ref ? { ...one, others: [{ value: "m", label: "Hand pump" }] } : one));
    const letter = receiptFor(
      { ...asked, tests },
      saying({
        requests: {
          [how.ref]: { says: "yes", had: how.had[0]?.value ?? "", contact: "the store keeper" },
          [bare.ref]: { says: "by another date", by: "2026-03-20" },
          [other.ref]: { says: "instead", words: "our own" },
        },
        tests: { [way.ref]: { says: "another way", method: "m", words: "as last year" }, [agreed.ref]: { says: "agreed" } },
      }),
    );
    expect(answerTo(letter, how.ref)).toBe(`Yes: ${how.had[0]?.label.toLowerCase()}.\nContact: the store keeper.`);
    expect(answerTo(letter, bare.ref)).toBe("By another date: 20 March 2026.");
    expect(answerTo(letter, other.ref)).toBe("Instead we propose.\n“our own”");
    expect(answerTo(letter, way.ref)).toBe("We propose another way: Hand pump.\n“as last year”");
    expect(answerTo(letter, agreed.ref)).toBe("Agreed.");
  });

  test("says who confirmed and when, which files came, and that nothing is settled by it", () => {
    const reply = saying({ by: { name: "Jan Kowal", role: "chief engineer", contact: "jan@ship.example" }, remarks: "Berth 4, not 3." });
    const letter = receiptFor(asked, reply, {
      confirmedBy: "The superintendent 😀",
      attachments: [
        { name: "well\u202egpj.exe", what: "photograph of R9", size: 1_234_567 },
        { name: "well.jpg", what: "photograph of R9", size: 999 },
      ],
    });
    expect([letter.title, letter.date, letter.isoDate, letter.reference]).toEqual([
      "Receipt of the reply to letter 2",
      "3 March 2026",
      "2026-03-03",
      "V-7, reply to letter 2",
    ]);
    const [, head] = letter.blocks;
    expect(head?.kind === "labelled" ? head.items.map(({ label, text }) => `${label}: ${text}`) : []).toEqual([
      "Confirmed by: Jan Kowal, chief engineer, jan@ship.example.",
      "On: 3 March 2026, 08:05 UTC.",
      "Sent by: The superintendent ?",
      "In answer to: Letter 2, mark M-2.",
      `Answered: Questions 0 of ${asked.questions.length}, requests 0 of ${asked.requests.length}, tests 0 of ${asked.tests.length}.`,
    ]);
    expect(rowsIn(letter)).toEqual([
      ["1  well?gpj.exe", "photograph of R9", "1.3 MB"],
      ["2  well.jpg", "photograph of R9", "1 kB"],
    ]);
    expect(shown(letter)).toContain("Berth 4, not 3.");
    expect(JSON.stringify(letter.blocks.at(-1))).toContain("Nothing of it is settled until the inspector has taken it in");
    expect(receiptFor(asked, reply, { reference: undefined }).reference).toBe("reply to letter 2");
    // Where he confirmed it himself, he is named once.
    expect(shown(receiptFor(asked, saying({})))).not.toContain("Sent by");
  });
});

describe("on paper and page", async () => {
  const renderer = await formRenderer();
  afterAll(() => renderer.close());

  test("it is printed whole by the renderers of the letters", async () => {
    const [reply] = fc.sample(someReply(asked, mark, specAt), { numRuns: 1, seed: 3 });
    if (reply === undefined) throw new Error("no reply");
    const letter = receiptFor(asked, reply);
    const path = await fileOf(renderer, letter);
    const told = (tool: string, ...args: readonly string[]): string => execFileSync(tool, args, { encoding: "utf8" });
    told("qpdf", "--check", path);
    const found = referencesIn(told("pdftotext", path, "-").replace(/\s+/g, " "));
    expect(all.filter((ref) => !found.has(ref))).toEqual([]);
    expect(told("pdftotext", "-l", "1", path, "-")).toContain("Receipt of the reply to letter 2: Kestrel Bight");
    // The layout knows blocks apart by what they say.
    const blocks = letter.blocks.map((block) => JSON.stringify(block));
    expect(new Set(blocks).size).toBe(blocks.length);
    const page = htmlOf(letter);
    for (const ref of Object.keys(reply.questions)) expect(page).toMatch(new RegExp(`\\b${ref}\\b`));
  }, 120_000);
});
