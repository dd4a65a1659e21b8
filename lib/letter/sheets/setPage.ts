import type { FactSpec } from "../../model/fact.ts";
import { PRIME_MOVER, SHAFT, STEAM } from "../../model/facts/set.ts";
import type { DayPlan } from "../../plan/day/types.ts";
import { STARTS_OF_DAY } from "../../plan/figures/day.ts";
import { sayFigure } from "../../plan/readable.ts";
import type { PlanProtection } from "../../plan/schema.ts";
import { formatNumber } from "../../units/units.ts";
import type { Block } from "../blocks.ts";
import { SAY } from "../catalogue.ts";
import type { PlanInput } from "../protections.ts";
import { capital, methodsOf, protectionOf, refRange } from "../words.ts";
import { conditionsOf, isCommon } from "./apparatus.ts";
import { BOX, blank, type SheetBlock, type SheetCell, tableOf, tickList, words, writeIn } from "./blocks.ts";
import { conversionsOf, unitRead } from "./figures.ts";
import { isShaft, wordsOf } from "./mover.ts";
import { countWords, isLeftOut, startsOn } from "./order.ts";
import { minutesOf, type Test } from "./test.ts";

const PLATE = "/sets/*/plate/";

const onSet = (template: string, set: number): string => template.replace("*", String(set));

const knownAs = ({ at, unit }: FactSpec, set: number, { read }: PlanInput): SheetCell => {
  const value = read.answers.get(onSet(at, set));
  if (value === undefined) return "";
  return [typeof value === "number" ? formatNumber(value, 2) : value, ...(unit === undefined ? [] : [unit])].join(" ");
};

/** The plate as it is known beside the plate as it is read. Where it contradicts itself, that is said first. */
const plateBlocks = (set: number, input: PlanInput): readonly SheetBlock[] => {
  const own = input.read.visit.sets[set];
  const rows: readonly (readonly SheetCell[])[] = [
    [SAY.carry.maker, own?.maker ?? "", blank(), BOX],
    [SAY.carry.model, own?.model ?? "", blank(), BOX],
    [SAY.carry.serial, "", blank(), BOX],
    ...input.rulebook.facts
      .filter(({ at }) => at.startsWith(PLATE))
      .map((spec): readonly SheetCell[] => [capital(spec.name), knownAs(spec, set, input), blank(spec.unit), BOX]),
  ];
  return [
    ...input.plan.findings
      .filter(({ at }) => at.some((pointer) => pointer.startsWith(onSet(PLATE, set))))
      .map(({ text }): SheetBlock => ({ kind: "sheetText", label: SAY.carry.plateWrong, text: capital(text), strong: true })),
    ...tableOf(
      [
        { title: SAY.carry.plate, share: 32 },
        { title: SAY.carry.known, share: 26, strong: true },
        { title: SAY.carry.asRead, share: 30 },
        { title: SAY.carry.agrees, share: 12 },
      ],
      rows,
    ),
  ];
};

/** What drives a set by a fuel of its own has fuel that can leak. */
const burnsFuel = (set: number, { read }: PlanInput): boolean => {
  const mover = read.answers.get(onSet(PRIME_MOVER, set));
  return mover !== STEAM && mover !== SHAFT;
};

/** The tests after which something was refitted that holds oil, water or fuel. */
const refits = (tests: readonly Test[], { rulebook }: PlanInput): string =>
  refRange(
    tests
      .filter((test) => !isLeftOut(test))
      .filter(({ protection: { kind, decision } }) =>
        methodsOf(rulebook, kind, decision.methods).some(({ restore }) => /leak|refitted/.test(restore ?? "")),
      )
      .map(({ protection }) => protection.ref),
  );

/** The hold point with each time that it is looked at again. */
const holdBlocks = (set: number, tests: readonly Test[], input: PlanInput): readonly SheetBlock[] => {
  const refs = refits(tests, input);
  const times = [...SAY.carry.holdTimes, `${SAY.carry.afterRefit}${refs === "" ? "" : `: ${refs}`}`];
  return [
    {
      kind: "sheetTogether",
      blocks: [
        {
          kind: "sheetText",
          label: SAY.carry.holdPoint,
          text: burnsFuel(set, input) ? SAY.carry.noFuelLeak : wordsOf(set, input)(SAY.carry.noOilLeak),
          strong: true,
        },
        ...tableOf(
          [
            { title: SAY.carry.noLeak, share: 46 },
            { title: SAY.carry.seen, share: 10 },
            { title: SAY.carry.time, share: 16 },
            { title: SAY.carry.ship, share: 14 },
            { title: SAY.carry.witness, share: 14 },
          ],
          times.map((time) => [time, BOX, blank(), blank(), blank()]),
        ),
      ],
    },
  ];
};

const OIL: readonly string[] = ["lubeOilPressure", "bearingOilPressure"];
const WATER: readonly string[] = ["jacketWaterTemperature"];

/** The start by its agreed starter, and what the local panel shows. A set without a protection of oil or water has no line for it. */
const startBlocks = (set: number, input: PlanInput): readonly SheetBlock[] => {
  const { plan, read } = input;
  const rated = (name: string, unit: string): string => {
    const value = read.answers.get(`${onSet(PLATE, set)}${name}`);
    return typeof value === "number" ? `${formatNumber(value, 2)} ${unit}` : "";
  };
  const guarded = (kinds: readonly string[]): PlanProtection | undefined =>
    plan.sets[set]?.protections.find(({ kind, applies }) => kinds.includes(kind) && applies !== "no");
  const readings = SAY.carry.readings;
  const line = (name: string, expected: string, unit: string): readonly SheetCell[] => [name, expected, blank(unit), blank(unit)];
  const measured = (name: string, kinds: readonly string[]): readonly (readonly SheetCell[])[] => {
    const protection = guarded(kinds);
    return protection === undefined ? [] : [line(name, "", unitRead(protection, input))];
  };
  return [
    {
      kind: "sheetTogether",
      blocks: [
        ...tableOf(
          [
            { title: SAY.carry.start, share: 40 },
            { title: SAY.carry.rated, share: 18, strong: true },
            { title: SAY.carry.afterStart, share: 21 },
            { title: SAY.carry.warm, share: 21 },
          ],
          [
            line(readings.speed, rated("ratedSpeed", "rpm"), "rpm"),
            ...measured(readings.oil, OIL),
            ...measured(readings.water, WATER),
            line(readings.volts, rated("voltage", "V"), "V"),
            line(readings.hertz, rated("frequency", "Hz"), "Hz"),
          ],
        ),
        writeIn([SAY.carry.startedBy, 13], [blank(), 45], [SAY.carry.time, 8], [blank(), 34]),
      ],
    },
  ];
};

/** How long the test itself takes, and in brackets how long the day has for it with what follows. */
const minutesWords = (test: Test, input: PlanInput): string => {
  const minutes = minutesOf(test, input);
  return test.onDay === null || test.onDay === minutes ? String(minutes) : SAY.carry.withRestarts(minutes, test.onDay);
};

/** Tests of one set at a glance, each to be ticked when it is done. */
const listOf = (title: string, tests: readonly Test[], input: PlanInput): readonly SheetBlock[] => {
  const onDay = tests.some((test) => test.onDay !== null);
  return tableOf(
    [
      { title: "", share: 9, strong: true },
      { title, share: 63 },
      { title: onDay ? SAY.carry.minutesOnDay : SAY.columns.minutes, share: 16 },
      { title: SAY.carry.done, share: 12 },
    ],
    tests.map((test) => [
      test.protection.ref,
      capital(protectionOf(input.rulebook, test.protection.kind)?.name ?? test.protection.kind),
      minutesWords(test, input),
      BOX,
    ]),
  );
};

/** What stands before the tests of a set that are on no day: which they are, so that their sheets need not be carried. */
export const leftOutPage = (set: number, tests: readonly Test[], input: PlanInput): readonly Block[] => [
  { kind: "newPage" },
  { kind: "sheetHeading", text: tests[0]?.when ?? "", note: input.plan.sets[set]?.name ?? "" },
  words("", SAY.carry.ashore),
  ...listOf("", tests, input),
];

/** What a set's stores and starts are told in; of its starts those that are on the days, where there is an order of them. */
const figureLines = (set: number, input: PlanInput, day: DayPlan | null): readonly SheetBlock[] => {
  // A shaft generator draws on no starting store.
  if (isShaft(set, input)) return [];
  const { starts, hotStops } = day === null ? { starts: 0, hotStops: 0 } : startsOn(set, day);
  return [
    ...(starts + hotStops === 0 || day === null ? [] : [words("", SAY.carry.startsOn(day.days.length, starts, hotStops))]),
    ...(input.plan.sets[set]?.figures ?? [])
      .filter(({ name }) => day === null || name !== STARTS_OF_DAY)
      .map((figure) => words("", `${capital(sayFigure(figure, input.units))}.`)),
  ];
};

/** What stands before the tests of a set: data plate and walk-round; then the hold point, start and readings, the tests, the units. */
export const setPage = (set: number, tests: readonly Test[], input: PlanInput, day: DayPlan | null): readonly Block[] => {
  const own = input.plan.sets[set];
  const on = tests.filter((test) => !isLeftOut(test));
  const conversions = conversionsOf(
    tests.map(({ protection }) => protection),
    input,
  );
  return [
    { kind: "sheetHeading", text: own?.name ?? "", note: `${own?.role ?? ""}; ${countWords(tests)}` },
    ...plateBlocks(set, input),
    ...tickList(SAY.carry.walkRound, SAY.carry.walk.map(wordsOf(set, input)), SAY.carry.seen),
    writeIn([SAY.carry.noted, 12], [blank(), 88]),
    { kind: "newPage" },
    { kind: "sheetHeading", text: own?.name ?? "", note: SAY.carry.beforeRunning },
    ...holdBlocks(set, tests, input),
    ...tickList(
      "",
      conditionsOf(
        tests.flatMap(({ protection: { kind, decision } }) => methodsOf(input.rulebook, kind, decision.methods)),
        input,
      )
        .filter((need) => isCommon(need, input))
        .map(({ text }) => capital(text)),
    ),
    ...startBlocks(set, input),
    ...figureLines(set, input, day),
    { kind: "sheetTogether", blocks: on.length > 0 ? listOf(SAY.carry.ofSet, on, input) : listOf(tests[0]?.when ?? "", tests, input) },
    ...(conversions.length === 0 ? [] : [words(SAY.carry.conversion, conversions.join("; "))]),
  ];
};
