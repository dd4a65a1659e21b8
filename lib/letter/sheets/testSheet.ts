import { specsBy } from "../../model/places.ts";
import { listAnd } from "../../plan/say.ts";
import type { PlanProtection } from "../../plan/schema.ts";
import type { Method } from "../../rulebook/types.ts";
import { SAY } from "../catalogue.ts";
import { provisos } from "../conditions.ts";
import { loadDrawings, type PlanInput, provesWords, stripOf } from "../protections.ts";
import { lastTimeLines } from "../results.ts";
import { capital, methodsOf, methodWords, openWords, protectionOf } from "../words.ts";
import { actBlocks } from "./actPages.ts";
import { inOrder } from "./acts.ts";
import { apparatusTable } from "./apparatus.ts";
import { orNone, type SheetBlock, together, words } from "./blocks.ts";
import { figureTable } from "./figures.ts";
import { wordsOf } from "./mover.ts";
import { minutesOf, type Test } from "./test.ts";

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
