import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { LONGEST_MAIL, type MailReply, replyFromMail } from "../../lib/reply/fromMail.ts";
import { formLetter } from "../letter/forms.ts";
import { someReply, someWords } from "./replies.ts";

const { asked, specAt } = await formLetter("mixed-channels");
const LETTER = { mark: "TSO/1", asked };
const BY = { name: "A. Brandvold", contact: "master@vessel.example" };

const read = (text: string, today?: string): MailReply => {
  const reply = replyFromMail(text, LETTER, BY, { specAt, ...(today === undefined ? {} : { today }) });
  if (!reply.ok) throw new Error(JSON.stringify(reply.faults));
  return reply.value;
};

/** What was taken from a text, by the references. */
const taken = (text: string): object => {
  const { questions, requests, tests, corrections } = read(text).reply;
  return { ...questions, ...requests, ...tests, ...corrections };
};

const said = (value: unknown) => ({ says: "answer", value });

describe("lines as people write them", () => {
  test.each<readonly [string, object]>([
    ["Q12: dry", { Q12: said("dry") }],
    ["q12 DRY", { Q12: said("dry") }],
    ["Q 12 = Dry.", { Q12: said("dry") }],
    ["- Q12 – dry", { Q12: said("dry") }],
    ["12) Q12. dry", { Q12: said("dry") }],
    ["“Q12: dry”".slice(1, -1), { Q12: said("dry") }],
    ["Q3, Q6: yes", { Q3: said("yes"), Q6: said("yes") }],
    ["Q3 and Q6 : yes", { Q3: said("yes"), Q6: said("yes") }],
    ["Q6-Q8: no", { Q6: said("no"), Q7: said("no"), Q8: said("no") }],
    ["Q6 to Q7 no", { Q6: said("no"), Q7: said("no") }],
    ["Q3: yes; Q12: wet, R9: no", { Q3: said("yes"), Q12: said("wet"), R9: { says: "no" } }],
    ["Q2: stops", { Q2: said("stops the set") }],
    ["Q2: stops the set", { Q2: said("stops the set") }],
    ["Q9: test cock", { Q9: said("test cock") }],
    ["Q4 – 8.5 mm", { Q4: said({ value: 8.5, unit: "mm" }) }],
    ["Q4: 8,5", { Q4: said(8.5) }],
    ["Q35: 208 °F", { Q35: said({ value: 208, unit: "°F" }) }],
    ["Q3: not known", { Q3: { says: "we will find out" } }],
    ["Q3: We don’t know.", { Q3: { says: "we will find out" } }],
    ["Q4: ?", { Q4: { says: "we will find out" } }],
    ["Q3: not known, by 24 March 2026", { Q3: { says: "we will find out", by: "2026-03-24" } }],
    ["Q3: we will find out by 2026-03-24", { Q3: { says: "we will find out", by: "2026-03-24" } }],
    ["R2: yes", { R2: { says: "yes" } }],
    ["R2: confirmed", { R2: { says: "yes" } }],
    ["R2: yes, aboard", { R2: { says: "yes", had: "aboard" } }],
    ["R2: can be hired", { R2: { says: "yes", had: "in time" } }],
    ["R2: yes, by 12.6.2026", { R2: { says: "yes", by: "2026-06-12" } }],
    ["R2: Yes, but only the small one", { R2: { says: "yes", words: "but only the small one" } }],
    ["R5 no, we propose the ship's own source", { R5: { says: "instead", words: "the ship's own source" } }],
    ["R5: instead: źródło statku, ΩΜ", { R5: { says: "instead", words: "źródło statku, ΩΜ" } }],
    ["R5: no", { R5: { says: "no" } }],
    ["R5: not to be had", { R5: { says: "no" } }],
    ["R4: 12 March 2026", { R4: { says: "by another date", by: "2026-03-12" } }],
    ["R4: by 12 March 2026, from the yard", { R4: { says: "by another date", by: "2026-03-12", words: "from the yard" } }],
    ["T4: agreed", { T4: { says: "agreed" } }],
    ["T1, T2: OK", { T1: { says: "agreed" }, T2: { says: "agreed" } }],
    ["T4: no, we propose an oil bath", { T4: { says: "another way", words: "an oil bath" } }],
    ["T5: running comparison", { T5: { says: "another way", method: asked.tests.find(({ ref }) => ref === "T5")?.others[0]?.value } }],
  ])("%s", (text, expected) => {
    expect(taken(text)).toEqual(expected);
    expect(read(text).told).toEqual([]);
  });
});

describe("a day without its year is the first such day from that on which the letter went out", () => {
  const at = (text: string): object => {
    const { reply, told } = read(text, "2026-11-26");
    expect(told).toEqual([]);
    return { ...reply.questions, ...reply.requests };
  };

  test.each<readonly [string, object]>([
    ["R2: by 12 March", { R2: { says: "by another date", by: "2027-03-12" } }],
    ["R1: by 12 December", { R1: { says: "by another date", by: "2026-12-12" } }],
    ["R4: 26 November", { R4: { says: "by another date", by: "2026-11-26" } }],
    ["R4: 25.11.", { R4: { says: "by another date", by: "2027-11-25" } }],
    ["R4: yes, on 12 December.", { R4: { says: "yes", by: "2026-12-12" } }],
    ["R5: another date, 2026-12-12", { R5: { says: "by another date", by: "2026-12-12" } }],
    ["R5: By another date: 12 December, from the yard", { R5: { says: "by another date", by: "2026-12-12", words: "from the yard" } }],
    ["R5: Instead we propose: the ship's own source", { R5: { says: "instead", words: "the ship's own source" } }],
    ["Q3: not known, we will find out by 3 December", { Q3: { says: "we will find out", by: "2026-12-03" } }],
    ["Q6: we don't know, we will find out by 3 December 2026", { Q6: { says: "we will find out", by: "2026-12-03" } }],
    ["Q6: We do not know yet and will find out by 3 December", { Q6: { says: "we will find out", by: "2026-12-03" } }],
    ["Q6: If not known yet: we will find out by 3 December", { Q6: { says: "we will find out", by: "2026-12-03" } }],
    ["Q6: not known, will find out", { Q6: { says: "we will find out" } }],
  ])("%s", (text, expected) => {
    expect(at(text)).toEqual(expected);
  });
});

describe("lines that say what an assumption is in fact", () => {
  const known = (name: RegExp, set = "") => {
    const fact = asked.known.find((one) => name.test(one.name) && one.set.includes(set));
    if (fact === undefined) throw new Error(`nothing such is taken as known: ${name}`);
    return fact.ref;
  };
  const [cooled, power] = [known(/^Engine cooled by/), known(/^Rated power/)];

  test.each<readonly [string, unknown]>([
    [`${cooled}: air`, "air"],
    [`${cooled.toLowerCase()} – Air.`, "air"],
    [`${cooled}: in fact air`, "air"],
    [`${cooled}: wrong, it is air`, "air"],
    [`${cooled}: we don’t know`, "not known"],
  ])("%s", (text, value) => {
    expect(taken(text)).toEqual({ [cooled]: value });
    expect(read(text).told).toEqual([]);
  });

  test("numbers with their unit, several in one line, and what is behind the value", () => {
    expect(taken(`${power}: 1,2 MW; ${cooled}: air, Q12: dry`)).toEqual({
      [power]: { value: 1.2, unit: "MW" },
      [cooled]: "air",
      Q12: said("dry"),
    });
    expect(read(`${cooled}: air, since 2019`)).toMatchObject({
      reply: { corrections: { [cooled]: "air" } },
      told: [{ why: [{ at: cooled, given: "“since 2019”" }] }],
    });
    expect(read("Q12: dry").reply).not.toHaveProperty("corrections");
  });

  test("what is no value of it is told with what is wanted, and so is a reference that the letter has not", () => {
    expect(taken(`${cooled}: oil\n${power}: 8 bar\nK999: yes`)).toEqual({});
    expect(read(`${cooled}: oil\n${power}: 8 bar\nK999: yes`).told).toMatchObject([
      { why: [{ at: cooled, given: "“oil”", wanted: "Water / Air / not known" }] },
      { why: [{ at: power, wanted: expect.stringContaining("kW") }] },
      { why: [{ at: "K999", wanted: "a reference of the letter" }] },
    ]);
  });
});

describe("what is not understood is told, with what is wanted", () => {
  test.each<readonly [string, string, RegExp]>([
    ["Q12: purple", "Q12", /^Dry \/ Wet \/ not known$/],
    ["Q9: cock", "Q9", /Test cock/],
    ["Q9: test", "Q9", /Test cock/],
    ["Q12: dry and wet", "Q12", /Dry \/ Wet/],
    ["Q12: dry, wet", "Q12", /Dry \/ Wet/],
    ["Q4: thick", "Q4", /a number such as/],
    ["Q4: 8 bar", "Q4", /mm, in/],
    ["Q4: 2, 5 mm", "Q4", /a number/],
    ["Q4: 90000", "Q4", /a number from/],
    ["Q14 -5", "Q14", /colon/],
    ["Q3:", "Q3", /an answer/],
    ["Q3: not known, by 3/4/2026", "Q3", /told apart/],
    ["R7: no problem", "R7", /Yes \/ No/],
    ["R4: 30 February 2026", "R4", /no such day/],
    ["R4: instead", "R4", /write what/],
    ["T4: no", "T4", /write which other way/],
    ["T4: perhaps", "T4", /Agreed/],
    ["T4: agreed, we propose a bath", "T4", /not both/],
    ["Q999: yes", "Q999", /a reference of the letter/],
    [`R5: instead ${"x".repeat(700)}`, "R5", /600/],
  ])("%s", (text, at, wanted) => {
    expect(taken(text)).toEqual({});
    const [told] = read(text).told;
    expect(told).toMatchObject({ line: 1, text });
    const fault = typeof told?.why === "string" ? undefined : told?.why[0];
    expect(fault?.at).toBe(at);
    expect(fault?.wanted).toMatch(wanted);
  });

  test("an answer with more behind it is taken, and the rest told", () => {
    expect(read("Q12: dry, I think")).toMatchObject({
      reply: { questions: { Q12: said("dry") } },
      understood: [1],
      told: [{ line: 1, why: [{ at: "Q12", given: "“I think”" }] }],
    });
  });

  test("of two answers to one reference none is taken, and both lines are told; the same twice is one", () => {
    const twice = read("Q12: dry\nR2: yes\nQ12: wet");
    expect(twice.reply.questions).toEqual({});
    expect(twice.reply.requests).toEqual({ R2: { says: "yes" } });
    expect(twice.told.map(({ line }) => line)).toEqual([1, 3]);
    expect(read("Q12: dry\nQ12: Dry").reply.questions).toEqual({ Q12: said("dry") });
  });

  test("greetings, signatures, quoted lines and the message below are told as what they are", () => {
    const { reply, told, understood } = read(
      "Good day,\r\n\r\nQ12: wet\r\n> Q12: dry\r\n  >> R2: no\r\nBest regards\r\n\r\nFrom: Office <office@example.org>\r\nSent: Monday\r\nR2: yes",
    );
    expect(reply.questions).toEqual({ Q12: said("wet") });
    expect(reply.requests).toEqual({});
    expect(understood).toEqual([3]);
    expect(told.map(({ line, why }) => [line, why])).toEqual([
      [1, "greeting or signature"],
      [4, "quoted from an earlier message"],
      [5, "quoted from an earlier message"],
      [6, "greeting or signature"],
      [8, "quoted from an earlier message"],
      [9, "quoted from an earlier message"],
      [10, "quoted from an earlier message"],
    ]);
  });

  test("a day that has passed is told; so is a message too long and a writer without a name", () => {
    expect(read("R4: 12 March 2026", "2026-05-20").told).toMatchObject([{ why: [{ at: "R4", wanted: "a day from 2026-05-20 on" }] }]);
    expect(replyFromMail("x".repeat(LONGEST_MAIL + 1), LETTER, BY)).toMatchObject({ ok: false, faults: [{ at: "" }] });
    expect(replyFromMail("Q12: dry", LETTER, { name: "" })).toMatchObject({ ok: false, faults: [{ at: "by" }] });
  });
});

describe("what only frames a message is folded away", () => {
  const counted = (text: string): readonly string[] =>
    read(text).told.flatMap(({ text: line, why }) =>
      why === "greeting or signature" || why === "quoted from an earlier message" ? [] : [line.trim()],
    );

  test.each([
    "Dear Mr. Okvist,\n\nmany thanks for your letter 2 of 24 November.\nPlease find our answers below:",
    "Hello,\nthank you for your letter,",
    "Sehr geehrter Herr Dr. Okvist,",
    "Good morning Capt. Okvist,\nHello all,",
  ])("%j before the answers", (head) => {
    expect(counted(`${head}\n\nQ12: wet`)).toEqual([]);
  });

  test("what says more than thanks before the answers has to be read", () => {
    const more = "Many thanks for your letter; the second set is out of order.";
    expect(counted(`Hello,\n${more}\nQ12: wet`)).toEqual([more]);
  });

  test.each([
    "Best regards / Mit freundlichen Grüßen\nA. Brandvold",
    "-- \nA. Brandvold\nMaster, m/v Ardenvoe Pioneer\nIridium +8816 777 12345",
    "Best regards,\n\nCapt. A. Brandvold\nMaster\nTel.: +47 55 51 23 45 | Bridge",
    "B.rgds\nBrandvold / Master",
    "Thank you and best regards\nA. Brandvold",
    "Mit freundlichen Grüßen\nA. Brandvold",
    "Z poważaniem\nA. Brandvold",
    "A. Brandvold\nMaster",
    "master@vessel.example\nwww.vessel.example",
    "Sent from my telephone",
    "This e-mail and its files are confidential and intended solely for the addressee.\nIf it reached you by mistake,\nplease delete it.",
    `${"Disclaimer: nothing in this message binds anybody. ".repeat(60)}`,
    "Please consider the environment before printing.",
    "On Tue, 3 March 2026 at 09:15, Tallowmere Survey Office <plans@office.example> wrote:\n> Q3: dry",
    "On Tue, 3 March 2026 at 09:15, Tallowmere Survey Office\n<plans@office.example> wrote:\n> Q3: dry",
    "Am 03.03.2026 um 09:15 schrieb Tallowmere Survey Office:\n> Q3: dry",
  ])("%s", (end) => {
    const text = `Dear Mr Okvist,\n\nQ12: dry\n\n${end}`;
    expect(taken(text)).toEqual({ Q12: said("dry") });
    expect(counted(text)).toEqual([]);
    // It is still there for who asks.
    expect(read(text).told.length).toBeGreaterThan(1);
  });

  test("but no line that names a reference, wherever it stands, and no sentence that may matter", () => {
    const text =
      "Good day,\nBest regards\nA. Brandvold\nQ12: wet\nabout R5: see below\n-- \nMaster\nR2: yes\nThe hand pump is with the yard until Friday.\nconfidential: T4: agreed";
    expect(taken(text)).toEqual({ Q12: said("wet"), R2: { says: "yes" } });
    expect(counted(text)).toEqual(["about R5: see below", "The hand pump is with the yard until Friday.", "confidential: T4: agreed"]);
    expect(counted("Thanks\nWe are short of time\nQ12: dry")).toEqual(["Thanks", "We are short of time"]);
  });

  test("a reference that is answered is understood in whatever frame it stands", () => {
    const frame = fc.constantFrom(
      "-- ",
      "Best regards",
      "A. Brandvold",
      "confidential",
      "Tel. +47 55 51 23 45",
      "Dear all,",
      "",
      "Thanks,",
    );
    fc.assert(
      fc.property(fc.array(frame, { maxLength: 8 }), fc.array(frame, { maxLength: 8 }), (before, after) => {
        expect(taken([...before, "Q12: dry", ...after].join("\n"))).toEqual({ Q12: said("dry") });
      }),
      { numRuns: 300 },
    );
  });
});

/** Pieces of which mails are made, good and bad. */
const piece = fc.oneof(
  fc.constantFrom(
    "Q12",
    "K3",
    "q3",
    "R2",
    "T4",
    "Q99",
    "Q6-Q8",
    "Q3, Q6",
    ":",
    " – ",
    "=",
    "-",
    ">",
    "yes",
    "no",
    "dry",
    "not known",
    "by 12 March 2026",
    "we propose",
    "8,5 mm",
    "\n",
    "\r\n",
    "; ",
    ", ",
    "  ",
    "\t",
    "instead",
    "agreed",
    "(",
  ),
  someWords,
  fc.string({ unit: "grapheme", maxLength: 12 }),
);

test("whatever is written, nothing crashes and every line is understood or told", () => {
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 40 }), (pieces) => {
      const text = pieces.join("");
      const { understood, told, reply } = read(text);
      const lines = text.split(/\r\n|[\n\r\u2028\u2029]/).flatMap((line, place) => (line.trim() === "" ? [] : [place + 1]));
      expect([...new Set([...understood, ...told.map(({ line }) => line)])].sort((a, b) => a - b)).toEqual(lines);
      for (const { line, text: own } of told) expect(text.split(/\r\n|[\n\r\u2028\u2029]/)[line - 1]).toBe(own);
      // Nothing comes from nowhere: as many references at least stand in the lines that were understood.
      if (understood.length === 0) expect({ ...reply.questions, ...reply.requests, ...reply.tests, ...reply.corrections }).toEqual({});
    }),
    { numRuns: 1500 },
  );
});

test("what is asked and answered in the letter's own words is understood, for many replies", () => {
  const labelOf = (choices: readonly { value: string; label: string }[], value: unknown): string =>
    choices.find((one) => one.value === value)?.label ?? "";
  fc.assert(
    fc.property(someReply(asked, LETTER.mark, specAt), ({ questions, corrections = {} }) => {
      const lines = Object.entries(questions).map(([ref, answer]) => {
        const choices = asked.questions.find((one) => one.ref === ref)?.choices ?? [];
        if (answer.says === "we will find out") return `${ref}: not known${answer.by === undefined ? "" : `, by ${answer.by}`}`;
        const { value } = answer;
        return `${ref}: ${typeof value === "string" ? labelOf(choices, value) : typeof value === "number" ? value : `${value.value} ${value.unit}`}`;
      });
      const corrected = Object.entries(corrections).map(([ref, value]) => {
        const choices = asked.known.find((one) => one.ref === ref)?.choices ?? [];
        if (typeof value === "object") return `${ref}: ${value.value} ${value.unit}`;
        return `${ref}: ${typeof value === "string" && value !== "not known" ? labelOf(choices, value) : value}`;
      });
      const { reply, told } = read([...lines, ...corrected].join("\n"));
      expect(told).toEqual([]);
      expect(reply.questions).toEqual(questions);
      expect(reply.corrections ?? {}).toEqual(corrections);
    }),
    { numRuns: 150 },
  );
});

test("long and contrary messages come to an end", { timeout: 30_000 }, () => {
  const contrary = [
    "Q1-Q100: yes\n".repeat(15_000),
    "Q3,".repeat(60_000),
    `Q3${" ".repeat(190_000)}`,
    "Q3: yes; ".repeat(20_000),
    "Q3 and ".repeat(280).concat("\n").repeat(90),
    "on ".repeat(60_000),
    "wrote ".repeat(30_000).concat(":"),
    `On ${"wrote x".repeat(28)}\n`.repeat(900),
    "1 ".repeat(90_000),
    "a@".repeat(90_000),
    `Best regards from ${" ".repeat(150_000)}x`,
  ];
  for (const text of contrary) expect(read(text.slice(0, LONGEST_MAIL)).told.length).toBeGreaterThan(0);
});
