import { execFileSync } from "node:child_process";
import { afterAll, describe, expect, test } from "vitest";
import type { Letter } from "../../lib/letter/blocks.ts";
import type { Closing, TestSaid } from "../../lib/letter/closed.ts";
import { htmlOf } from "../../lib/letter/html/document.tsx";
import { letterOf } from "../../lib/letter/letter.ts";
import { mentions } from "../../lib/logic/condition.ts";
import { askedOf } from "../../lib/plan/asked.ts";
import type { Plan } from "../../lib/plan/schema.ts";
import { settlementOf } from "../../lib/reply/settlement.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { VISITS } from "../golden/golden.ts";
import { fileOf, formRenderer } from "./forms.ts";
import { planned, referencesIn, shown, visitText } from "./letters.ts";

const testsOf = ({ sets }: Plan) => sets.flatMap(({ protections }) => protections).filter(({ applies }) => applies !== "no");
const wayOf = (plan: Plan, ref: string): string => askedOf(plan, rulebook).tests.find((one) => one.ref === ref)?.way ?? "";
const agreed = (plan: Plan, letter = 1): readonly TestSaid[] =>
  testsOf(plan).map(({ ref }) => ({ ref, letter, says: "agreed", way: wayOf(plan, ref) }));

const ENDED: Closing = {
  kind: "settled",
  replied: [
    { name: "Jan Kowal", role: "chief engineer", when: "2026-03-03", letter: 1 },
    { name: "R. Vale", when: "2026-03-09", letter: 2 },
    { name: "Jan Kowal", role: "chief engineer", when: "2026-03-12", letter: 3 },
  ],
  tests: [],
  confirmed: [],
  open: { questions: [], requests: [] },
  answers: 41,
  version: 9,
};

/** The file of a demo visit with something of it given otherwise. */
const fileWith = async (name: string, more: object) => planned(JSON.stringify({ ...(JSON.parse(visitText(name)) as object), ...more }));

const closed = (made: Awaited<ReturnType<typeof planned>>, closing: Partial<Closing>): Letter =>
  letterOf({ plan: made.plan, read: made.read, rulebook, units: "metric", former: made.plan, closing: { ...ENDED, ...closing } });

const headingsOf = ({ blocks }: Letter): readonly string[] => blocks.flatMap((block) => (block.kind === "heading" ? [block.text] : []));
const protectionsIn = ({ blocks }: Letter) => blocks.flatMap((block) => (block.kind === "protection" ? [block] : []));
/** What is said of the agreement to one test. */
const agreementTo = (letter: Letter, ref: string): string =>
  protectionsIn(letter)
    .find(({ refs }) => refs.split(", ").includes(ref))
    ?.lines.find(({ label }) => label === "Agreement")?.text ?? "";
const rowsUnder = ({ blocks }: Letter, text: string): readonly (readonly string[])[] => {
  const place = blocks.findIndex((block) => (block.kind === "heading" || block.kind === "subheading") && block.text === text);
  const table = place < 0 ? undefined : blocks.slice(place + 1).find(({ kind }) => kind === "table");
  return table?.kind === "table" ? table.rows : [];
};
/** What each test of another time waits for, by its reference. */
const reasonsIn = (letter: Letter): ReadonlyMap<string, string> =>
  new Map(
    rowsUnder(letter, "Tested another time").flatMap(([refs = "", , , why = ""]) =>
      [...referencesIn(refs)].map((ref) => [ref, why] as const),
    ),
  );
const outcomeIn = ({ blocks }: Letter): ReadonlyMap<string, string> => {
  const list = blocks[1];
  return new Map(list?.kind === "labelled" ? list.items.map(({ label, text }) => [label, text]) : []);
};

describe.each(VISITS)("%s", (name) => {
  test("a letter that ends the exchange asks nothing, has every caution of its tests in full, and leads nowhere that it does not tell", async () => {
    const made = await planned(visitText(name));
    const { questions, requests } = settlementOf(made.plan, new Set(), made.read.answers);
    const open = [...questions, ...requests];
    for (const closing of [{}, { kind: "not settled", open: { questions, requests } }] as const) {
      const letter = closed(made, { ...closing, tests: agreed(made.plan) });
      const text = shown(letter);
      expect(letter.blocks.filter(({ kind }) => ["asks", "form", "formMark", "newPage"].includes(kind))).toEqual([]);
      expect(headingsOf(letter)).not.toEqual(expect.arrayContaining(["Questions"]));
      expect(text).not.toMatch(/undefined|NaN|\[object|\/sets\/|\/support\/|Reply to|How to answer|last pages|\.\.|“”/);
      expect(outcomeIn(letter).size).toBeLessThanOrEqual(7);
      expect(text).toContain("Anyone may stop the work at any time.");
      const told = new Set(protectionsIn(letter).flatMap(({ refs }) => refs.split(", ")));
      const used = new Set(testsOf(made.plan).flatMap(({ ref, cautions }) => (told.has(ref) ? cautions : [])));
      for (const { id, text: caution } of rulebook.cautions) expect(text.split(caution).length - 1, id).toBe(used.has(id) ? 1 : 0);
      // Every test that applies is told once: as it is done, as waiting, or as without a way.
      const waiting = [...rowsUnder(letter, "Tested another time"), ...rowsUnder(letter, "Not tested, for want of a way")]
        .flatMap(([refs = ""]) => [...referencesIn(refs)])
        .sort();
      expect([...told, ...waiting].sort()).toEqual(
        testsOf(made.plan)
          .map(({ ref }) => ref)
          .sort(),
      );
      expect(protectionsIn(letter).filter(({ state }) => state !== "settled")).toEqual([]);
      // Hours are those of the tests that are done: all of them as in any letter, fewer where some wait.
      const hours = made.letter.blocks.find(
        ({ kind, ...block }) => kind === "paragraph" && "text" in block && /^Out of use/.test(block.text),
      );
      expect(letter.blocks.some((block) => JSON.stringify(block) === JSON.stringify(hours))).toBe(
        !("kind" in closing) || open.length === 0,
      );
      // The layout knows blocks apart by what they say.
      const blocks = letter.blocks.map((block) => JSON.stringify(block));
      expect(new Set(blocks).size).toBe(blocks.length);
      const html = htmlOf(letter);
      const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id = ""]) => id);
      expect(new Set(ids).size).toBe(ids.length);
      expect([...html.matchAll(/href="#([^"]+)"/g)].filter(([, id = ""]) => !ids.includes(id))).toEqual([]);
    }
  });
});

test("settled: who agreed when and to which letter, on which facts; who agreed to each test, and who decided it otherwise and why", async () => {
  const plain = await planned(visitText("steam-turbines"));
  const open = testsOf(plain.plan).flatMap(({ ref, at, decision, verdicts }) =>
    verdicts
      .filter(({ method, verdict }) => verdict === "fit" && !decision.methods.includes(method))
      .map(({ method }) => ({ ref, at, method })),
  );
  const [ours, theirs] = open.filter(({ at }, place) => open.findIndex((one) => one.at === at) === place);
  if (ours === undefined || theirs === undefined) throw new Error("too few ways fit");
  const made = await fileWith("steam-turbines", {
    deviations: [
      { protection: ours.at, method: ours.method, reason: "Class asked for it." },
      { protection: theirs.at, method: theirs.method, reason: "no difference in what is proven" },
    ],
  });
  expect(testsOf(made.plan).filter(({ deviation }) => deviation?.refused === false)).toHaveLength(2);
  const [same, other, remark, refused, silent] = testsOf(made.plan)
    .filter(({ ref, decision }) => ref !== ours.ref && ref !== theirs.ref && decision.outcome === "combination")
    .map(({ ref }) => ref);
  if (silent === undefined) throw new Error("too few tests");
  const said = (ref = "", more: Partial<TestSaid> = {}): TestSaid => ({
    ref,
    letter: 2,
    says: "agreed",
    way: wayOf(made.plan, ref),
    ...more,
  });
  const letter = closed(made, {
    tests: [
      said(same, { letter: 1, says: "not taken" }),
      said(same, { words: "gladly" }),
      said(other, { way: "another way of old" }),
      said(remark, { says: "agreed with a remark", words: "after noon" }),
      said(refused, { says: "not taken", proposal: "Hand pump", words: "as last year" }),
      said(theirs.ref, { says: "proposed", method: theirs.method, words: "we have the kit" }),
      said(ours.ref, { letter: 3 }),
    ],
  });
  expect(letter.title).toMatch(/^Letter \d: Settled: tests of generating sets on /);
  expect(headingsOf(letter)[0]).toBe("What is settled");
  const outcome = outcomeIn(letter);
  expect(outcome.get("For the vessel")).toBe(
    "Jan Kowal, chief engineer (reply to letter 1, 3 March 2026; reply to letter 3, 12 March 2026); R. Vale (reply to letter 2, 9 March 2026).",
  );
  expect(outcome.get("It rests on")).toContain(`Rulebook ${made.plan.rulebook.version} (digest ${made.plan.rulebook.digest}), 41 answers`);
  expect(outcome.get("It rests on")).toContain("version 9 of the visit's record");
  expect(outcome.get("To answer")).toMatch(/^Nothing need be answered/);
  const of = (ref = ""): string => agreementTo(letter, ref);
  expect(of(same)).toContain("Agreed by the vessel with letter 2: “gladly”.");
  expect(of(same)).not.toContain("It was not taken");
  expect(of(other)).toContain("With letter 2 the vessel agreed to another way (another way of old); later answers changed it.");
  expect(of(remark)).toContain("Agreed by the vessel with letter 2, with a remark that was not taken up: “after noon”.");
  expect(of(refused)).toContain("With letter 2 the vessel proposed another way (Hand pump, “as last year”). It was not taken");
  expect(of(theirs.ref)).toContain(
    "Proposed by the vessel with letter 2: “we have the kit”, and taken by the inspector. The inspector's reason: no difference in what is proven.",
  );
  expect(of(ours.ref)).toContain(
    "Decided by the inspector against the usual order: Class asked for it. Agreed by the vessel with letter 3.",
  );
  expect(of(silent)).toContain("Planned by this office; the vessel said nothing of it.");
});

test("settled: each thing that is arranged with its confirmation, what is not needed any more, and which details were not given", async () => {
  const first = await planned(visitText("old-mechanical"));
  const tested = first.plan.requests.filter(({ kind, neededBy }) => kind !== "photograph" && neededBy.length > 0);
  const later = first.plan.requests.find(({ kind, neededBy }) => kind !== "photograph" && neededBy.length === 0);
  const known = tested.find(({ at }) => at !== undefined && first.read.given.has(at));
  const [one] = tested.filter(({ ref }) => ref !== known?.ref);
  if (one === undefined || later === undefined || known === undefined) throw new Error("too little is asked");
  const confirmed = [
    { request: one.ref, letter: 2, by: "2026-04-20", words: "from our stores" },
    { request: later.ref, letter: 1 },
  ];
  const made = await fileWith("old-mechanical", { references: first.plan.references, confirmed });
  const letter = closed(made, {
    confirmed: [
      { request: one.ref, text: one.text, contact: "J. Tarrow" },
      { request: later.ref, text: later.text },
    ],
  });
  const rows = new Map(rowsUnder(letter, "What is arranged").map((row) => [row[0], row]));
  expect([...rows.keys()]).toEqual(tested.map(({ ref }) => ref));
  expect(rows.get(one.ref)?.[3]).toMatch(/^With letter 2, by 20 April 2026: “from our stores”\.\n(.*\n)?Contact: J\. Tarrow\.$/);
  expect(rows.get(known.ref)?.[3]).toMatch(/^Known to this office: \w/);
  expect(rowsUnder(letter, "Not needed on this visit").map(([ref]) => ref)).toEqual([later.ref]);
  const details = made.plan.questions.filter(({ decides }) => decides.length === 0).map(({ ref }) => ref);
  const told = referencesIn(
    rowsUnder(letter, "Details not given")
      .map(([refs]) => refs)
      .join(" "),
  );
  expect([...told].filter((ref) => !details.includes(ref))).toEqual([]);
});

describe("not settled", () => {
  test("says what remains open, which tests hang on each, and that these are tested another time; the others stand", async () => {
    const made = await planned(visitText("mixed-channels"));
    const question = made.plan.questions.find(({ decides }) => decides.length === 1);
    const paper = made.plan.requests.find(({ need }) => need === "last-record");
    if (question === undefined || paper === undefined) throw new Error("nothing is open");
    const [waits = ""] = question.decides.map(({ protection }) => protection);
    const letter = closed(made, {
      kind: "not settled",
      open: { questions: [question.ref], requests: [paper.ref] },
      tests: agreed(made.plan),
    });
    expect(letter.title).toMatch(/^Letter \d: Ended, not all settled: tests of /);
    const all = testsOf(made.plan).filter(({ decision }) => decision.outcome !== "nothing acceptable");
    expect(outcomeIn(letter).get("Not all is settled")).toBe(
      `This letter ends the exchange. ${all.length - 1} tests are done on this visit as written below, all agreed by the vessel. One test waits for another time, agreed by the vessel as planned; what each waits for stands under “Tested another time”.`,
    );
    const rows = new Map(rowsUnder(letter, "What remains open").map(([ref, ...row]) => [ref, row]));
    expect(rows.get(question.ref)).toEqual([question.text, waits]);
    // A paper that is asked for with every visit keeps no test from being done.
    expect(rows.get(paper.ref)?.[1]).toBe("None. It is wanted all the same.");
    expect(rowsUnder(letter, "Tested another time").map(([refs, , , why]) => [refs, why])).toEqual([
      [waits, `The answer to ${question.ref}.`],
    ]);
    expect(agreementTo(letter, waits)).toBe("");
    expect(shown(letter)).not.toContain("must be proven before");
  });

  test("where the hand stop of a set waits, no test waits less that it is to be proven before", async () => {
    const made = await planned(visitText("mixed-channels"));
    const [stop] = made.plan.sets[0]?.protections.filter(({ kind }) => kind === "handStop") ?? [];
    const request = made.plan.requests.find(({ need }) => need === "stop-watch");
    if (stop === undefined || request === undefined) throw new Error("no hand stop");
    expect(request.neededBy).toContain(stop.ref);
    const letter = closed(made, { kind: "not settled", open: { questions: [], requests: [request.ref] }, tests: [] });
    const behind = (made.plan.sets[0]?.protections ?? []).filter(({ cautions }) => cautions.includes("hand-stop-first"));
    expect(behind.length).toBeGreaterThan(2);
    const waiting = new Set(rowsUnder(letter, "Tested another time").flatMap(([refs = ""]) => [...referencesIn(refs)]));
    expect(behind.filter(({ ref }) => !waiting.has(ref))).toEqual([]);
    expect(shown(letter)).toContain("the tests that it must be proven before wait with it");
    // The stop itself waits for the request, those behind it for the stop.
    const why = reasonsIn(letter);
    expect(why.get(stop.ref)).toBe(`A confirmation of ${request.ref}.`);
    for (const { ref } of behind) expect(why.get(ref)).toContain(`the hand stop of its set, ${stop.ref}`.slice(1));
  });

  test("each test that waits says what for; what was confirmed for a test that is done stands as confirmed, and nothing confirmed as no longer asked", async () => {
    const first = await planned(visitText("modern-electronic"));
    const papers = first.plan.requests.filter(({ kind }) => kind === "document").map(({ ref }) => ref);
    const confirmed = first.plan.requests
      .filter(({ kind }) => kind !== "document" && kind !== "photograph")
      .map(({ ref }) => ({ request: ref, letter: 1 }));
    const made = await fileWith("modern-electronic", {
      references: first.plan.references,
      letters: [{ number: 1, sentOn: "2026-02-02" }],
      confirmed,
    });
    const { questions } = settlementOf(made.plan, new Set(), made.read.answers);
    const letter = closed(made, { kind: "not settled", open: { questions, requests: papers }, tests: agreed(made.plan).slice(2) });
    const why = reasonsIn(letter);
    const done = protectionsIn(letter).flatMap(({ refs }) => refs.split(", "));
    expect([done.length > 0, why.size > 0]).toEqual([true, true]);
    for (const [ref, reason] of why)
      expect([ref, [...referencesIn(reason)].some((one) => [...papers, ...questions].includes(one))]).toEqual([ref, true]);
    // What is done hangs on nothing that is open: nowhere is it named beside it.
    for (const [, , hangs = ""] of rowsUnder(letter, "What remains open"))
      for (const ref of referencesIn(hangs)) expect(done).not.toContain(ref);
    expect(outcomeIn(letter).get("Not all is settled")).toMatch(
      /tests are done on this visit as written below, \d+ of them agreed by the vessel\./,
    );
    const changes = letter.blocks.flatMap((block) => (block.kind === "labelled" ? block.items : []));
    const under = (label: string) =>
      referencesIn(
        changes
          .filter((item) => item.label === label)
          .map(({ text }) => text)
          .join(),
      );
    const had = new Set(confirmed.map(({ request }) => request));
    expect([...under("No longer asked or planned")].filter((ref) => had.has(ref) || why.has(ref))).toEqual([]);
    expect(under("Tested another time")).toEqual(new Set(why.keys()));
    const arranged = new Set(rowsUnder(letter, "What is arranged").map(([ref]) => ref));
    for (const { request } of confirmed) {
      const needed = made.plan.requests.find(({ ref }) => ref === request)?.neededBy.some((ref) => done.includes(ref)) === true;
      expect([request, arranged.has(request), under("Now confirmed").has(request)]).toEqual([request, needed, needed]);
      expect([request, under("Confirmed, not needed on this visit").has(request)]).toEqual([request, !needed]);
    }
  });

  test("a test whose way is confirmed does not wait for what decides between its later ways", async () => {
    const first = await planned(visitText("modern-electronic"));
    const open = new Set(first.plan.open.map(({ at }) => at));
    const [hangs, request] =
      testsOf(first.plan).flatMap(({ options, ref }) => {
        const [at, ...more] = new Set(mentions(options[0]?.when ?? true).filter((one) => open.has(one)));
        const own = first.plan.requests.find((one) => one.at !== undefined && one.at === at);
        const asked = first.plan.questions.some(({ decides }) => decides.some(({ protection }) => protection === ref));
        return own === undefined || more.length > 0 || !asked ? [] : [[ref, own] as const];
      })[0] ?? [];
    if (hangs === undefined || request === undefined) throw new Error("no such test");
    const { questions } = settlementOf(first.plan, new Set(), first.read.answers);
    const end = (made: typeof first) => reasonsIn(closed(made, { kind: "not settled", open: { questions, requests: [] }, tests: [] }));
    expect(end(first).has(hangs)).toBe(true);
    const confirmed = [{ request: request.ref, letter: 1, words: "our own" }];
    const made = await fileWith("modern-electronic", { references: first.plan.references, confirmed });
    expect(end(made).has(hangs)).toBe(false);
  });

  test("where nothing is left to do it says so", async () => {
    const made = await planned(visitText("almost-nothing-known"));
    const { questions, requests } = settlementOf(made.plan, new Set(), made.read.answers);
    const letter = closed(made, { kind: "not settled", replied: [], open: { questions, requests } });
    expect(outcomeIn(letter).get("For the vessel")).toContain("Nobody has answered a letter");
    expect(protectionsIn(letter)).toEqual([]);
    expect(shown(letter)).toContain("No test is done on this visit.");
    expect(outcomeIn(letter).get("Not all is settled")).toContain("No test can be done on this visit.");
    expect(outcomeIn(letter).get("Days and place")).toContain("the visit is called off");
    expect(
      [...reasonsIn(letter).values()].filter((why) => !/^(The (answers?|papers?)|A confirmation|Answers|The hand stop)/.test(why)),
    ).toEqual([]);
    expect(rowsUnder(letter, "Tested another time").length).toBeGreaterThan(5);
  });
});

describe("on paper", async () => {
  const renderer = await formRenderer();
  afterAll(() => renderer.close());

  test("it is an archive's file without a form, that says on its first page that all is settled", async () => {
    const made = await planned(visitText("old-mechanical"));
    const path = await fileOf(renderer, closed(made, { tests: agreed(made.plan) }));
    const told = (tool: string, ...args: readonly string[]): string => execFileSync(tool, args, { encoding: "utf8" });
    told("qpdf", "--check", path);
    expect(told("pdfinfo", path)).toMatch(/Form: +none/);
    expect(told("pdfinfo", path)).toMatch(/Title: +Letter 1: Settled:/);
    const page = told("pdftotext", "-l", "1", path, "-").replace(/\s+/g, " ");
    for (const words of [
      "What is settled",
      "All is settled",
      "Jan Kowal, chief engineer",
      "Nothing need be answered",
      "Agreed by the vessel",
    ])
      expect(page).toContain(words);
  }, 120_000);
});
