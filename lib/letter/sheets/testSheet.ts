import { HAND_STOP, handStopAt } from "../../model/facts/stops.ts";
import { specsBy } from "../../model/places.ts";
import { type Effort, effortOf } from "../../plan/effort.ts";
import { listAnd } from "../../plan/say.ts";
import type { PlanProtection } from "../../plan/schema.ts";
import type { Method } from "../../rulebook/types.ts";
import { SAY } from "../catalogue.ts";
import { provisos } from "../conditions.ts";
import { markWords } from "../marks.ts";
import { loadDrawings, type PlanInput, provesWords, stripOf } from "../protections.ts";
import { lastTimeLines } from "../results.ts";
import { capital, methodsOf, methodWords, openWords, protectionOf } from "../words.ts";
import { actOf, comesAfter, expectedOf, inOrder, restoredOf } from "./acts.ts";
import { apparatusTable, conditionsOf, isCommon } from "./apparatus.ts";
import { type SheetBlock, type SheetCell, tableOf, tickList, words } from "./blocks.ts";
import { figureTable, readsOf } from "./figures.ts";
import { isLong, isShort } from "./height.ts";
import { wordsOf } from "./mover.ts";
import {
  blindLines,
  inTurnTable,
  namedLines,
  placeTable,
  readingLines,
  restoreTable,
  resultLines,
  sensorLines,
  timedLines,
} from "./testForm.ts";

/** One planned test of one set. */
export interface Test {
  readonly set: number;
  readonly protection: PlanProtection;
  /** When it is on the day, or that it is on none; empty while there is no order of the day. */
  readonly when: string;
  /** Minutes that the day has for it, what follows it counted in; null where it is on none. */
  readonly onDay: number | null;
}

const effortIn = (method: Method, { set }: Test, { read }: PlanInput): Effort =>
  effortOf(method, (template) => read.answers.get(template.replace("*", String(set))));

/** How long a test takes, by the minutes of its methods. */
export const minutesOf = (test: Test, input: PlanInput): number =>
  methodsOf(input.rulebook, test.protection.kind, test.protection.decision.methods).reduce(
    (sum, method) => sum + effortIn(method, test, input).minutes,
    0,
  );

const aboutWords = (test: Test, input: PlanInput): string => {
  const minutes = minutesOf(test, input);
  return test.onDay === null || test.onDay === minutes ? SAY.carry.about(minutes) : SAY.carry.aboutOnDay(minutes, test.onDay);
};

/** What must be so; aboard nobody has the letter's numbers at hand, so that facts are called by their names. */
const providedThat = ({ decision, options }: PlanProtection, { rulebook }: PlanInput): readonly SheetBlock[] => {
  if (decision.state === "settled") return [];
  const said = provisos(options[0]?.when ?? true, { specAt: specsBy(rulebook.facts), refAt: () => undefined });
  return said === null ? [] : [words(SAY.carry.provided, SAY.carry.proposed(capital(said)))];
};

type Cautioned = PlanInput["rulebook"]["cautions"][number];

const cautionsFor = (method: Method, { cautions }: PlanProtection, { rulebook }: PlanInput): readonly Cautioned[] =>
  rulebook.cautions.filter(({ id }) => method.cautions.includes(id) && cautions.includes(id));

/** What must work for the test: the channel, and what the people who do it lean on. */
const functionsOf = (methods: readonly Method[], { set, protection: { decision, cautions } }: Test, input: PlanInput): string => {
  const parts = { sensing: "sensing", wiring: "wiring", logic: "logic", final: "final element" } as const;
  const proven = (Object.keys(parts) as (keyof typeof parts)[])
    .filter((part) => decision.proves[part] !== "open")
    .map((part) => parts[part]);
  const needs = SAY.carry.needs;
  const has = (id: string): boolean => cautions.includes(id);
  return `${capital(
    [
      listAnd(proven),
      ...(has("hand-stop-first") ? [wordsOf(set, input)(needs.handStop)] : []),
      ...(methods.some(({ blinds }) => blinds) ? [needs.others] : []),
      ...(has("unexpected-start") ? [needs.startBlock] : []),
      ...(has("back-in-automatic") ? [needs.selector] : []),
    ].join("; "),
  )}.`;
};

/** The state of the set and of the plant before the act. What nearly every test wants stands on the set's own page. */
const statusOf = (method: Method, input: PlanInput): readonly SheetBlock[] => [
  words(SAY.carry.status, `${capital(actOf(method).status)}.`),
  ...tickList(
    "",
    conditionsOf([method], input)
      .filter((need) => !isCommon(need, input))
      .map(({ text }) => capital(text)),
  ),
];

const together = (...blocks: readonly SheetBlock[]): SheetBlock => ({ kind: "sheetTogether", blocks });

/** What is put back; the caution that it must be seen stands as a line of its own, to be ticked like the others. */
const restoreBlocks = (method: Method, after: readonly Cautioned[]): readonly SheetBlock[] =>
  restoreTable([...restoredOf(method), ...(after.length === 0 ? [SAY.carry.asFound] : after.map(({ text }) => text))]);

/** The room for what is read at the act. */
const readBlocks = (method: Method, timed: readonly string[], test: Test, input: PlanInput): readonly SheetBlock[] => {
  const { protection, set } = test;
  const reads = readsOf(protection, method, input);
  if (timed.length > 0) return timedLines(timed);
  if (method.reads !== undefined) return namedLines(method.reads, reads.acts);
  if (method.inTurn !== undefined) return inTurnTable(SAY.carry.inTurn[method.inTurn], reads);
  if (protection.kind === HAND_STOP) {
    const count = input.read.answers.get(handStopAt.count.replace("*", String(set)));
    return placeTable(wordsOf(set, input)(SAY.carry.handStop), typeof count === "number" ? count : null, method.setIs === undefined);
  }
  return method.repeats === undefined
    ? readingLines(reads)
    : sensorLines(reads, input.read.answers.get(method.repeats.replace("*", String(set))));
};

/** The steps. What role and arrangement make of their result goes first. */
const stepBlocks = (method: Method, { protection: { notes } }: Test): readonly SheetBlock[] => {
  const { steps, ...act } = actOf(method);
  const minds = [...act.minds, ...expectedOf(method).minds];
  return [
    ...notes.map(({ text }): SheetBlock => ({ kind: "sheetText", label: "", text: SAY.carry.noteFirst(text), strong: true })),
    ...tableOf(
      [
        { title: `${SAY.carry.procedure}${markWords(method.stepsBasis ?? [])}`, share: 88 },
        { title: SAY.carry.done, share: 12 },
      ],
      steps.map((step, place): readonly SheetCell[] => [`${place + 1}.  ${step}.`, { box: "" }]),
    ),
    ...(minds.length === 0 ? [] : [words(SAY.carry.mindThis, `${minds.join(". ")}.`)]),
  ];
};

/** What must be seen of the steps, and what is read. */
const seenBlocks = (method: Method, test: Test, input: PlanInput): readonly SheetBlock[] => {
  const { seen, timed } = expectedOf(method);
  return [
    ...tickList(
      SAY.carry.expected,
      seen.map((line) => `${line}.`),
      SAY.carry.seen,
    ),
    ...readBlocks(method, timed, test, input),
  ];
};

/**
 * An act lies open on one page with its precautions where a page can hold both, unless a few lines `above` them would be left alone on a page for it. What is
 * put back and signed stays with the act, so that it never stands alone at the head of a page; where a page cannot hold that, with what is seen and read.
 */
const inOne = (
  above: SheetBlock | undefined,
  first: readonly SheetBlock[],
  steps: readonly SheetBlock[],
  after: readonly SheetBlock[],
): readonly SheetBlock[] => {
  const [all, act] = [together(...first, ...steps, ...after), together(...steps, ...after)];
  if (!isLong(all) && !(above !== undefined && isShort(above) && isLong(together(above, all)))) return [all];
  return [together(...first), ...(isLong(act) ? [together(...steps), together(...after)] : [act])];
};

/**
 * One method: its state and precautions, its steps with what must be seen, what is put back, each kept on one page. What was said for the method
 * before is not said again.
 */
const actBlocks = (
  method: Method,
  before: readonly Method[],
  of: number,
  head: SheetBlock,
  test: Test,
  input: PlanInput,
): readonly SheetBlock[] => {
  const said = new Set(before.flatMap(({ cautions }) => cautions));
  const cautions = cautionsFor(method, test.protection, input);
  const first = cautions.filter(({ id }) => !comesAfter(id) && !said.has(id));
  return inOne(
    before.length === 0 ? head : undefined,
    [
      ...(of === 1 ? [] : [words(SAY.carry.actOf(before.length + 1, of), capital(method.name))]),
      ...statusOf(method, input),
      ...orNone(
        SAY.carry.precautions,
        tickList(
          SAY.carry.precautions,
          [...(method.hazard === 2 ? [SAY.carry.consentGiven] : []), ...first.map(({ text }) => text)],
          SAY.carry.taken,
        ),
      ),
      ...(method.blinds ? blindLines(wordsOf(test.set, input)) : []),
    ],
    stepBlocks(method, test),
    [
      ...seenBlocks(method, test, input),
      ...restoreBlocks(
        method,
        cautions.filter(({ id }) => comesAfter(id)),
      ),
      ...(before.length + 1 === of ? resultLines() : []),
    ],
  );
};

/** A written procedure states what it needs, and so that it needs nothing. */
const orNone = (label: string, blocks: readonly SheetBlock[]): readonly SheetBlock[] =>
  blocks.length === 0 ? [words(label, SAY.carry.noneOfIts)] : blocks;

/** The sheet of one test, in the form of a written procedure, to be done by it and written on. */
export const testSheet = (test: Test, input: PlanInput): SheetBlock => {
  const { set, protection } = test;
  const { kind, decision, deviation, ref } = protection;
  const methods = inOrder(methodsOf(input.rulebook, kind, decision.methods));
  const hazard = Math.max(...methods.map((method) => method.hazard)) as Method["hazard"];
  const drawings = loadDrawings({ sets: [set], protection }, input);
  const head: readonly SheetBlock[] = [
    {
      kind: "sheetHeading",
      text: `${ref}  ${capital(protectionOf(input.rulebook, kind)?.name ?? kind)}`,
      note: input.plan.sets[set]?.name ?? "",
    },
    {
      kind: "sheetStrip",
      strip: stripOf(protection),
      text: [
        `${capital(methodWords(input.rulebook, kind, decision.methods))}${openWords(decision.unproven)}`,
        aboutWords(test, input),
        SAY.carry.hazardClass(hazard),
        ...(test.when === "" ? [] : [test.when]),
        provesWords(protection).replace(/\.$/, ""),
      ]
        .map((sentence) => `${sentence}.`)
        .join(" "),
    },
    ...providedThat(protection, input),
    ...(deviation === undefined || deviation.refused ? [] : [words("", SAY.with.decidedByUs(deviation.reason))]),
    ...lastTimeLines(protection.at, input.read.visit.lastTime, input.rulebook).map(({ label, text }) => words(`${label}.`, text)),
    words(SAY.carry.functions, functionsOf(methods, test, input)),
    ...orNone(SAY.carry.apparatus, apparatusTable(protection, methods, input)),
    ...orNone(SAY.carry.setPoints, figureTable(protection, input)),
    ...(drawings.length === 0 ? [] : [{ kind: "sheetDrawings" as const, drawings }]),
  ];
  return together(
    ...head,
    ...methods.flatMap((method, place) => actBlocks(method, methods.slice(0, place), methods.length, together(...head), test, input)),
  );
};
