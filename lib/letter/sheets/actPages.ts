import { HAND_STOP, handStopAt } from "../../model/facts/stops.ts";
import type { PlanProtection } from "../../plan/schema.ts";
import type { Method } from "../../rulebook/types.ts";
import { SAY } from "../catalogue.ts";
import { markWords } from "../marks.ts";
import type { PlanInput } from "../protections.ts";
import { capital } from "../words.ts";
import { actOf, comesAfter, expectedOf, restoredOf } from "./acts.ts";
import { conditionsOf, isCommon } from "./apparatus.ts";
import { orNone, type SheetBlock, type SheetCell, tableOf, tickList, together, words } from "./blocks.ts";
import { readsOf } from "./figures.ts";
import { isLong, isShort } from "./height.ts";
import { wordsOf } from "./mover.ts";
import type { Test } from "./test.ts";
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

type Cautioned = PlanInput["rulebook"]["cautions"][number];

const cautionsFor = (method: Method, { cautions }: PlanProtection, { rulebook }: PlanInput): readonly Cautioned[] =>
  rulebook.cautions.filter(({ id }) => method.cautions.includes(id) && cautions.includes(id));

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
export const actBlocks = (
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
