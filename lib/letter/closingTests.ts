import { HAND_STOP } from "../model/facts/stops.ts";
import { askedOf } from "../plan/asked.ts";
import { askedNowOf } from "../plan/places.ts";
import type { Plan, PlanProtection, PlanRequest } from "../plan/schema.ts";
import { alikeRows, ledIn } from "./alike.ts";
import type { Block } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import type { Closing, TestSaid } from "./closed.ts";
import type { PlanInput } from "./protections.ts";
import { testsFor } from "./requests.ts";
import { capital, methodsOf, protectionOf, refRange, refsOf, setIn, setsInWords, testsIn } from "./words.ts";

/** The tests that a request keeps from being done: a paper that is asked for with every visit only those whose way needs it. */
const waitingFor = (request: PlanRequest, { plan, rulebook }: PlanInput): readonly string[] => {
  if (!rulebook.always.includes(request.need)) return testsFor(request);
  return plan.sets
    .flatMap(({ protections }) => protections)
    .filter(({ ref, kind, decision }) => {
      const needs = methodsOf(rulebook, kind, decision.methods).flatMap((method) => method.needs);
      return request.neededBy.includes(ref) && needs.includes(request.need);
    })
    .map(({ ref }) => ref);
};

/** The tests that hang on what is open: those that an open question decides, and those that cannot be done without an open request. */
export const hangingOn = (input: PlanInput, { questions, requests }: Closing["open"]): ReadonlySet<string> =>
  new Set([
    ...input.plan.questions
      .filter(({ ref }) => questions.includes(ref))
      .flatMap(({ decides }) => decides.map(({ protection }) => protection)),
    ...input.plan.requests.filter(({ ref }) => requests.includes(ref)).flatMap((request) => waitingFor(request, input)),
  ]);

/** The caution of every test before which the hand stop at the engine is proven. */
const HAND_STOP_FIRST = "hand-stop-first";

/** The tests that wait because the hand stop of their set does: none of them is done before it is proven. */
export const waitingForHandStop = ({ sets }: Plan, hanging: ReadonlySet<string>): ReadonlySet<string> =>
  new Set(
    sets
      .filter(({ protections }) => protections.some(({ kind, ref }) => kind === HAND_STOP && hanging.has(ref)))
      .flatMap(({ protections }) => protections.filter(({ cautions }) => cautions.includes(HAND_STOP_FIRST)))
      .map(({ ref }) => ref),
  );

/** What remains open, each with the tests that hang on it. Questions that no letter asked yet stand with the tests only. */
export const openBlocks = (input: PlanInput, { questions, requests }: Closing["open"]): readonly Block[] => {
  const asked = askedOf(input.plan, input.rulebook);
  const hanging = (refs: readonly string[]): string => {
    const tests = [...hangingOn(input, { questions: refs, requests: refs })];
    return tests.length === 0 ? SAY.notes.noTestWaits : testsIn(tests);
  };
  const open = askedNowOf(ledIn(asked)).filter(({ ref }) => questions.includes(ref));
  const rows = [
    ...alikeRows(open).map(({ refs, text }) => [refRange(refs), text, hanging(refs)]),
    ...asked.requests.filter(({ ref }) => requests.includes(ref)).map(({ ref, text }) => [ref, `${capital(text)}.`, hanging([ref])]),
  ];
  if (rows.length === 0) return [];
  return [
    { kind: "heading", text: SAY.headings.remainsOpen },
    {
      kind: "table",
      compact: true,
      columns: [
        { title: SAY.columns.reference, share: 12 },
        { title: SAY.columns.what, share: 62 },
        { title: SAY.columns.hangs, share: 26 },
      ],
      rows,
    },
  ];
};

/** Tests that are not done on this visit, by their names and sets. */
export const untestedBlocks = (
  title: string,
  note: string,
  protections: readonly PlanProtection[],
  { plan, rulebook }: PlanInput,
): readonly Block[] => {
  if (protections.length === 0) return [];
  const kinds = new Map<string, PlanProtection[]>();
  for (const one of protections) kinds.set(one.kind, [...(kinds.get(one.kind) ?? []), one]);
  return [
    { kind: "heading", text: title },
    { kind: "paragraph", text: note },
    {
      kind: "table",
      compact: true,
      columns: [
        { title: "Test", share: 18 },
        { title: SAY.columns.protection, share: 46 },
        { title: "Sets", share: 36 },
      ],
      rows: [...kinds].map(([kind, own]) => [
        refsOf(own),
        capital(protectionOf(rulebook, kind)?.name ?? kind),
        setsInWords(
          own.map(({ at }) => setIn(at) ?? 0),
          plan,
        ),
      ]),
    },
  ];
};

const quotedIn = ({ words }: TestSaid): string => (words === undefined ? "" : `“${words}”`);

const saidWords = ({ letter, words }: TestSaid, say: (letter: number, words: string) => string): string => say(letter, words ?? "");

/** Who decided a deviation, and why; nothing where the test is planned by the order of preference. */
const deviationWords = ({ deviation }: PlanProtection, said: readonly TestSaid[]): readonly string[] => {
  if (deviation === undefined) return [];
  const proposed = said.findLast(({ says, method }) => says === "proposed" && method === deviation.method);
  const reason = deviation.reason.replace(/\.$/, "");
  if (deviation.refused) return proposed === undefined ? [] : [SAY.with.cannotBeTaken(proposed.letter, reason)];
  if (proposed === undefined) return [SAY.with.decidedByUs(reason)];
  const own = reason.startsWith("proposed by the vessel") ? "" : reason;
  return [saidWords(proposed, SAY.with.proposedWith), ...(own === "" ? [] : [SAY.with.takenBecause(own)])];
};

/** What the vessel said last of a test. What it agreed to and is planned otherwise now it did not agree to. */
const lastWord = (said: readonly TestSaid[], way: string): readonly string[] => {
  const last = said.at(-1);
  if (last === undefined) return [SAY.notes.noWord];
  if (last.says === "proposed") return [];
  if (last.says === "agreed with a remark") return [saidWords(last, SAY.with.remarkNotTaken)];
  if (last.says === "not taken")
    return [SAY.with.notTaken(last.letter, [last.proposal ?? "", quotedIn(last)].filter((part) => part !== "").join(", "))];
  return [last.way === way ? saidWords(last, SAY.with.agreedWith) : SAY.with.agreedOtherwise(last.letter, last.way)];
};

/** The blocks of the tests, each with who agreed to it; what is the same for several tests of one block is said once. */
export const withAgreements = (blocks: readonly Block[], { plan, rulebook }: PlanInput, said: readonly TestSaid[]): readonly Block[] => {
  const protections = new Map(plan.sets.flatMap((set) => set.protections.map((one) => [one.ref, one] as const)));
  const ways = new Map(askedOf(plan, rulebook).tests.map(({ ref, way }) => [ref, way]));
  const wordsFor = (ref: string): string => {
    const own = said.filter((one) => one.ref === ref);
    const protection = protections.get(ref);
    return [...(protection === undefined ? [] : deviationWords(protection, own)), ...lastWord(own, ways.get(ref) ?? "")].join(" ");
  };
  return blocks.map((block): Block => {
    if (block.kind !== "protection") return block;
    const alike = new Map<string, string[]>();
    const refs = block.refs.split(", ");
    for (const ref of refs) alike.set(wordsFor(ref), [...(alike.get(wordsFor(ref)) ?? []), ref]);
    const text = [...alike].map(([words, own]) => (own.length === refs.length ? words : `${refRange(own)}: ${words}`)).join(" ");
    // What is left of "proposed" hangs on things that are confirmed: it is agreed all the same.
    return { ...block, state: "settled", lines: [...block.lines, { label: SAY.labels.agreement, text }] };
  });
};

/** Details that were not given: they change no way of testing, and are wanted on the day. */
export const detailBlocks = ({ plan, rulebook }: PlanInput): readonly Block[] => {
  const details = ledIn(askedOf(plan, rulebook)).filter(({ decides }) => !decides);
  if (details.length === 0) return [];
  return [
    { kind: "subheading", text: SAY.headings.detailsOpen, note: SAY.notes.detailsOpen },
    {
      kind: "table",
      compact: true,
      columns: [
        { title: SAY.columns.reference, share: 18 },
        { title: SAY.columns.question, share: 82 },
      ],
      rows: alikeRows(details).map(({ refs, text }) => [refRange(refs), text]),
    },
  ];
};
