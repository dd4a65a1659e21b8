import { dayDrawing } from "../../drawing/day.ts";
import { linesOfDay, refsOf, setNamesOf, withNotes } from "../../drawing/dayLanes.ts";
import { clockOf } from "../../plan/day/times.ts";
import type { DayLine, DayNote, DayPlan } from "../../plan/day/types.ts";
import { sayFigure } from "../../plan/readable.ts";
import { listAnd, small } from "../../plan/say.ts";
import type { Block } from "../blocks.ts";
import { SAY } from "../catalogue.ts";
import { markWords } from "../marks.ts";
import { peopleOn } from "../people.ts";
import type { PlanInput } from "../protections.ts";
import { capital, longDate, methodsOf, methodWords, protectionOf } from "../words.ts";
import { BOX, blank, numbered, type SheetBlock, type SheetCell, type SheetColumn, tableOf, words, writeIn } from "./blocks.ts";
import { hazardTable } from "./hazards.ts";
import { countWords, isOnDay, testsOn, withoutWay } from "./order.ts";

const COLUMNS: readonly SheetColumn[] = [
  { title: SAY.carry.from, share: 17, strong: true },
  { title: SAY.columns.test, share: 8, strong: true },
  { title: SAY.carry.set, share: 18 },
  { title: SAY.columns.what, share: 31 },
  { title: SAY.columns.whoActs, share: 17 },
  { title: SAY.carry.done, share: 9 },
];

/** Who is wanted for a line, without the set itself. */
const whoFor = ({ takes }: DayLine, { lanes }: DayPlan): string =>
  takes
    .flatMap(({ lane }) => lanes.find(({ id, kind }) => id === lane && kind !== "set")?.label ?? [])
    .map(capital)
    .join(", ");

const lineRow = (line: DayLine, day: DayPlan, { plan }: PlanInput): readonly SheetCell[] => [
  `${clockOf(line.begins)}–${clockOf(line.ends)}`,
  refsOf(line).join(", "),
  setNamesOf(day, line) || (line.set === null ? "" : (plan.sets[line.set]?.name ?? "")),
  [
    capital(line.what),
    ...(line.ref !== undefined && day.lines.some(({ id, ref }) => ref === line.ref && id !== line.id) ? [`(${line.how})`] : []),
    ...(line.also === undefined ? [] : [SAY.carry.fedOtherwise]),
    ...(line.blind === true ? [SAY.carry.blindMark] : []),
    ...(line.grave === true ? [SAY.carry.graveMark] : []),
  ].join(" "),
  whoFor(line, day),
  BOX,
];

const noteRow = ({ from, to, says }: DayNote): readonly SheetCell[] => [
  to > from ? `${clockOf(from)}–${clockOf(to)}` : SAY.carry.afterTime(clockOf(from)),
  "",
  "",
  says,
  "",
  to > from ? "" : BOX,
];

const dayTables = (day: DayPlan, input: PlanInput): readonly Block[] =>
  day.days.flatMap(({ date }, place): readonly Block[] => [
    // Every day begins a page, so that its date stands over its lines.
    ...(place === 0 ? [] : [{ kind: "newPage" as const }]),
    { kind: "sheetHeading", text: longDate(date), note: "" },
    ...tableOf(
      COLUMNS,
      withNotes(day, place).map((one) => ("says" in one ? noteRow(one) : lineRow(one, day, input))),
    ),
  ]);

/** While there is no order of the day: the tests set by set, the times left to write. */
const tableWithout = (input: PlanInput): readonly SheetBlock[] => [
  words("", SAY.carry.dayWithout),
  ...tableOf(
    COLUMNS,
    input.plan.sets.flatMap(({ name }, set) =>
      testsOn(set, input.plan, null).map(({ protection: { ref, kind } }): readonly SheetCell[] => [
        blank(),
        ref,
        name,
        capital(protectionOf(input.rulebook, kind)?.name ?? kind),
        blank(),
        BOX,
      ]),
    ),
  ),
];

/** Acts that open a hot system, raise speed, motor a set or take the ship's power: each with the inspector's consent, written before it. */
const consents = ({ plan, rulebook }: PlanInput, day: DayPlan | null): readonly SheetBlock[] => {
  const grave = plan.sets.flatMap(({ name, protections }) =>
    protections.flatMap(({ ref, kind, decision }) =>
      methodsOf(rulebook, kind, decision.methods)
        .filter(({ hazard }) => hazard === 2)
        .map((method) => ({ ref, text: `${ref} ${name}: ${methodWords(rulebook, kind, [method.id])}` })),
    ),
  );
  const onDay = grave.filter(({ ref }) => isOnDay(ref, day));
  return tableOf(
    [
      { title: SAY.carry.consent, share: 54 },
      { title: SAY.carry.consentedBy, share: 26 },
      { title: SAY.carry.time, share: 20 },
    ],
    // One line is left empty for what is done after all though it is not on the day.
    [...onDay.map(({ text }): SheetCell => text), ...(onDay.length < grave.length ? [blank()] : [])].map((cell) => [
      cell,
      blank(),
      blank(),
    ]),
  );
};

const PRESENT = 6;

const brief = (input: PlanInput, day: DayPlan | null): readonly SheetBlock[] => {
  const { plan, read } = input;
  return [
    { kind: "sheetHeading", text: SAY.carry.brief, note: "" },
    words("", `${SAY.carry.whoActs} ${SAY.notes.stopTheWork} ${SAY.notes.asFound}`),
    words("", SAY.with.mayAgree(peopleOn(read.visit, "office"), peopleOn(read.visit, "vessel"))),
    writeIn([SAY.carry.stopWord, 13], [blank(), 25], [SAY.carry.handSignal, 22], [blank(), 40]),
    writeIn([SAY.carry.mustering, 20], [blank(), 80]),
    ...hazardTable(plan, day),
    ...plan.figures.map((figure) => words("", `${capital(sayFigure(figure, input.units))}.`)),
    ...consents(input, day),
    ...tableOf(
      [
        { title: "", share: 5 },
        { title: SAY.carry.present, share: 40 },
        { title: SAY.columns.role, share: 35 },
        { title: SAY.carry.initials, share: 20 },
      ],
      numbered(PRESENT, blank(), blank(), blank()),
    ),
  ];
};

interface Out {
  readonly ref: string;
  readonly what: string;
  readonly why: string;
}

/** What is on no day, under the reason that it shares: tests two in a line, what is no test of this visit in words. */
const outFor = (title: string, why: string, out: readonly Out[]): SheetBlock => {
  const tests = out.filter(({ ref }) => ref !== "");
  const others = out.filter(({ ref }) => ref === "").map(({ what }) => small(what));
  return {
    kind: "sheetTogether",
    blocks: [
      words(title, `${capital(why)}${others.length === 0 ? "" : `: ${listAnd(others)}`}.`),
      ...tableOf(
        [8, 42, 8, 42].map((share) => ({ title: "", share })),
        Array.from({ length: Math.ceil(tests.length / 2) }, (_, row) =>
          tests.slice(2 * row, 2 * row + 2).flatMap(({ ref, what }): readonly SheetCell[] => [ref, capital(what)]),
        ),
      ),
    ],
  };
};

/** What was taken as so, what is not on the day and why, each reason once, what was wished and cannot be. */
const besides = (day: DayPlan | null, { plan, rulebook }: PlanInput): readonly SheetBlock[] => {
  const nameOf = (kind: string): string => protectionOf(rulebook, kind)?.name ?? kind;
  const saidBefore = new Set((day?.leftOut ?? []).flatMap(({ ref }) => ref ?? []));
  const left: readonly Out[] = [
    ...(day?.leftOut ?? []).map(({ ref = "", what, why }) => ({ ref, what, why })),
    ...plan.sets.flatMap(({ name }, set) =>
      withoutWay(set, plan)
        .filter(({ protection: { ref } }) => !saidBefore.has(ref))
        .map(({ protection: { ref, kind } }) => ({ ref, what: `${name}: ${nameOf(kind)}`, why: SAY.carry.noWay })),
    ),
    ...plan.leftOut.map(({ kind, why }) => ({ ref: "", what: nameOf(kind), why })),
  ];
  const reasons = [...new Set(left.map(({ why }) => why))];
  return [
    ...(day?.assumed ?? []).map(({ text, mark }, place) =>
      words(place === 0 ? SAY.carry.assumed : "", `${capital(text)}${markWords([{ cite: text, mark }])}`),
    ),
    ...(day?.refused ?? []).map((text) => words(SAY.carry.refused, capital(text))),
    ...reasons.map((why) =>
      outFor(
        SAY.carry.notOn(day?.days.length ?? 1),
        why,
        left.filter((one) => one.why === why),
      ),
    ),
  ];
};

/** Each day with its lanes and courses, on a page of its own. */
const drawnDays = (day: DayPlan): readonly Block[] =>
  day.days.flatMap((_, place): readonly Block[] => {
    const drawings = linesOfDay(day, place).length === 0 ? [] : dayDrawing(day, place);
    return drawings.flatMap((drawing): readonly Block[] => [{ kind: "newPage" }, { kind: "sheetDrawings", drawings: [drawing] }]);
  });

/** The first pages: what is said before the first test, then the order of the day. */
export const dayPages = (input: PlanInput, day: DayPlan | null): readonly Block[] => [
  ...brief(input, day),
  { kind: "newPage" },
  {
    kind: "sheetHeading",
    text: SAY.headings.theDay,
    note: countWords(input.plan.sets.flatMap((_, set) => testsOn(set, input.plan, day))),
  },
  ...(day === null ? tableWithout(input) : dayTables(day, input)),
  ...besides(day, input),
  words("", `${SAY.notes.ifTestFails} ${SAY.notes.cautionsArePractice}`),
  ...(input.plan.rules === undefined || input.plan.rules.procedure.length === 0
    ? []
    : [words("", SAY.carry.rulesAsk(listAnd(input.plan.rules.procedure)))]),
  ...(day === null ? [] : drawnDays(day)),
];
