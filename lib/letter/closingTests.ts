import { askedOf } from "../plan/asked.ts";
import { askedNowOf } from "../plan/places.ts";
import type { PlanProtection } from "../plan/schema.ts";
import { alikeRows, ledIn } from "./alike.ts";
import type { Block } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import type { Closing, TestSaid } from "./closed.ts";
import { testsHangingOn } from "./closingWaits.ts";
import { OTHER_WAYS, type PlanInput } from "./protections.ts";
import { capital, protectionOf, refRange, refsOf, setIn, setsInWords, testsIn } from "./words.ts";

/** What remains open, each with the tests that hang on it. Questions that no letter asked yet stand with the tests only. */
export const openBlocks = (input: PlanInput, { questions, requests }: Closing["open"]): readonly Block[] => {
  const asked = askedOf(input.plan, input.rulebook);
  const hanging = (refs: readonly string[]): string => {
    const tests = testsHangingOn(input, { questions: refs, requests: refs });
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

/** Tests for which no way is left, by their names and sets. */
export const withoutWayBlocks = (protections: readonly PlanProtection[], { plan, rulebook }: PlanInput): readonly Block[] => {
  if (protections.length === 0) return [];
  const kinds = new Map<string, PlanProtection[]>();
  for (const one of protections) kinds.set(one.kind, [...(kinds.get(one.kind) ?? []), one]);
  return [
    { kind: "heading", text: SAY.headings.withoutWay },
    { kind: "paragraph", text: SAY.notes.withoutWay },
    {
      kind: "table",
      compact: true,
      columns: [
        { title: SAY.columns.test, share: 18 },
        { title: SAY.columns.protection, share: 46 },
        { title: SAY.columns.sets, share: 36 },
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
  if (last.says === "not taken") {
    const what = [last.proposal ?? "", quotedIn(last)].filter((part) => part !== "").join(", ");
    return [(last.way === way ? SAY.with.notTaken : SAY.with.notTakenThen)(last.letter, what)];
  }
  return [last.way === way ? saidWords(last, SAY.with.agreedWith) : SAY.with.agreedOtherwise(last.letter, last.way)];
};

/** The tests that the vessel agreed to as they are planned now, or whose way it proposed itself. */
export const agreedIn = ({ plan, rulebook }: PlanInput, said: readonly TestSaid[]): ReadonlySet<string> => {
  const deviations = new Map(plan.sets.flatMap(({ protections }) => protections.map(({ ref, deviation }) => [ref, deviation] as const)));
  const agreed = askedOf(plan, rulebook).tests.filter(({ ref, way }) => {
    const last = said.findLast((one) => one.ref === ref);
    const deviation = deviations.get(ref);
    if (last?.says === "proposed") return deviation?.refused === false && deviation.method === last.method;
    return last?.says === "agreed" && last.way === way;
  });
  return new Set(agreed.map(({ ref }) => ref));
};

/** What a test hangs on, and what else would be done: no longer so once what it hangs on is confirmed. */
const ONLY_WHILE_OPEN: readonly string[] = [SAY.labels.providedThat, ...OTHER_WAYS];

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
    const lines = block.lines.filter(({ label }) => !ONLY_WHILE_OPEN.includes(label));
    return { ...block, state: "settled", lines: [...lines, { label: SAY.labels.agreement, text }] };
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
