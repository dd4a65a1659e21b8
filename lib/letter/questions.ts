import { sensingLine, wells } from "../drawing/sensors.ts";
import type { Drawing } from "../drawing/shapes.ts";
import { type FactSpec, said } from "../model/fact.ts";
import { LOCAL_RULES } from "../model/facts/visit.ts";
import { stillAsked } from "../plan/asked.ts";
import { askedNowOf } from "../plan/places.ts";
import { namesIn } from "../plan/readable.ts";
import type { Names } from "../plan/say.ts";
import type { Plan, PlanQuestion, PlanRequest } from "../plan/schema.ts";
import { APPROVED_PROCEDURE } from "../rulebook/needs.ts";
import type { Rulebook } from "../rulebook/types.ts";
import { LEANS } from "./alike.ts";
import type { Block } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { boundaryWords, shortOnlyIf } from "./conditions.ts";

import { capital, kindOf, longDate, protectionOf, refsOf, setIn, setNameOf } from "./words.ts";

/** A question that can decide one of the first ways is needed now; others only if those fall. */
const FIRST_RANKS = 2;

const rankOf = ({ decides }: PlanQuestion): number => Math.min(...decides.map(({ rank }) => rank));

/** The choices to name in the answer; where they are many, room to name one. */
const choicesOf = (spec: FactSpec): string => {
  const { domain, unit } = spec;
  if (spec.at.endsWith("/approvedStep")) return "none / the step is: ………";
  // Which words of its own the office goes by is not for the vessel to say.
  if (domain.kind === "choice")
    return domain.values
      .filter((value) => value !== LOCAL_RULES)
      .map((value) => said(spec, value))
      .join(" / ");
  return unit === undefined ? "………" : `……… ${unit}`;
};

interface Grouped {
  readonly spec: FactSpec;
  readonly questions: PlanQuestion[];
}

/** The same question of several sets is one row. */
const grouped = (questions: readonly PlanQuestion[], names: Names): readonly Grouped[] => {
  const groups = new Map<string, Grouped>();
  for (const question of questions) {
    const spec = names.specAt(question.at);
    if (spec === undefined) continue;
    const group = groups.get(spec.at) ?? { spec, questions: [] };
    group.questions.push(question);
    groups.set(spec.at, group);
  }
  return [...groups.values()];
};

interface Context {
  readonly plan: Plan;
  readonly names: Names;
  /** What of a number counts, already said at another of the numbers that stand in it. */
  readonly said: Set<string>;
}

/** What of a number counts, where it is the same for all the sets asked. What binds several numbers is said at the first of them. */
const countsWords = (questions: readonly PlanQuestion[], { names, said: told }: Context): string => {
  const [first] = questions;
  const alike = new Set(questions.map(({ boundary }) => JSON.stringify(boundary ?? [])));
  if (first?.boundary === undefined || alike.size > 1) return "";
  const fresh = first.boundary.map((condition) => boundaryWords(condition, names)).filter((words) => !told.has(words));
  for (const condition of first.boundary) if (condition !== true && "sum" in condition) told.add(boundaryWords(condition, names));
  return fresh.length === 0 ? "" : SAY.with.whatCounts(fresh.join("; "));
};

/** A question that leans on the one before it is led in by what it asks about. */
const questionWords = ({ question, name }: FactSpec): string => (LEANS.test(question) ? `${capital(name)}. ${question}` : question);

const FEW_SETS = 2;

/** The references with their sets; where every one of many sets is asked, in the order of the sets. */
const refWords = (questions: readonly PlanQuestion[], plan: Plan): string => {
  if (plan.sets.length > FEW_SETS && questions.length === plan.sets.length)
    return `${[...questions]
      .sort((a, b) => (setIn(a.at) ?? 0) - (setIn(b.at) ?? 0))
      .map(({ ref }) => ref)
      .join(", ")}: all sets in their order`;
  return questions
    .map(({ ref, at }) => [ref, plan.sets.length > 1 ? setNameOf(at, plan) : ""].filter((part) => part !== "").join(" "))
    .join(", ");
};

const rowOf = ({ spec, questions }: Grouped, under: readonly Grouped[], context: Context): readonly string[] => {
  const { plan, names } = context;
  const conditions = [...new Set(questions.map(({ onlyIf }) => shortOnlyIf(onlyIf, names) ?? ""))];
  const [only = ""] = conditions.length === 1 ? conditions : [];
  const parts = [
    questionWords(spec),
    countsWords(questions, context),
    underWords(under),
    only === "" ? "" : `${capital(only)}.`,
    spec.look === undefined ? "" : `Look: ${spec.look}.`,
  ];
  return [refWords(questions, plan), parts.filter((part) => part !== "").join(" "), choicesOf(spec)];
};

const COLUMNS = [
  { title: SAY.columns.reference, share: 17 },
  { title: SAY.columns.question, share: 57 },
  { title: SAY.columns.answer, share: 26 },
] as const;

interface Part {
  readonly title: string;
  readonly note: string;
  readonly questions: readonly PlanQuestion[];
  readonly compact: boolean;
}

const partsOf = ({ questions }: Plan): readonly Part[] => {
  const deciding = questions.filter(({ decides }) => decides.length > 0);
  return [
    {
      title: SAY.headings.neededNow,
      note: SAY.notes.decideHow,
      questions: deciding.filter((question) => rankOf(question) <= FIRST_RANKS),
      compact: false,
    },
    {
      title: SAY.headings.neededLater,
      note: SAY.notes.savesALetter,
      questions: deciding.filter((question) => rankOf(question) > FIRST_RANKS),
      compact: true,
    },
    {
      title: SAY.headings.details,
      note: SAY.notes.intoFigures,
      questions: questions.filter(({ decides }) => decides.length === 0),
      compact: true,
    },
  ];
};

/** The questions of this letter: all but those that hang on what drives a set, where that itself is asked. */
export const askedNow = (plan: Plan): Plan["questions"] => askedNowOf(plan.questions);

/** Questions under one that is still open ("is it fitted?") are told in its row. */
const nested = (groups: readonly Grouped[]): readonly { readonly group: Grouped; readonly under: readonly Grouped[] }[] => {
  const heads = new Map(groups.flatMap((group) => (group.spec.at.endsWith("/fitted") ? [[kindOf(group.spec.at), group] as const] : [])));
  const headOf = ({ spec, questions }: Grouped): Grouped | undefined => {
    const head = heads.get(kindOf(spec.at));
    if (head === undefined || head.spec === spec) return undefined;
    const asked = new Set(head.questions.map(({ at }) => setIn(at)));
    return questions.every(({ at }) => asked.has(setIn(at))) ? head : undefined;
  };
  return groups
    .filter((group) => headOf(group) === undefined)
    .map((group) => ({ group, under: groups.filter((other) => headOf(other) === group) }));
};

const underWords = (under: readonly Grouped[]): string =>
  under.length === 0
    ? ""
    : SAY.with.ifSo(under.map(({ spec, questions }) => `${refsOf(questions)} ${spec.name} (${choicesOf(spec)})`).join("; "));

/** A drawing where a question asks for what is easier seen than read. */
const drawingsFor = (questions: Plan["questions"]): readonly Block[] => {
  const asks = (end: RegExp): boolean => questions.some(({ at }) => end.test(at));
  const drawings: readonly Drawing[] = [
    ...(asks(/\/well$/) ? [wells] : []),
    ...(asks(/\/lubeOil\w+\/(isolatingValve|testPoint)$/) ? [sensingLine] : []),
  ];
  return drawings.length === 0 ? [] : [{ kind: "drawings", drawings }];
};

/** Photographs, each with the questions that it answers: these are not asked a second time above. */
const photographBlocks = (photographs: readonly PlanRequest[], now: Plan["questions"], { plan, names }: Context): readonly Block[] => [
  {
    kind: "subheading",
    text: SAY.headings.photographs,
    note: SAY.with.photographsBy(longDate(photographs[0]?.confirmBy ?? plan.visit.replyBy)),
  },
  {
    kind: "table",
    compact: true,
    columns: [
      { title: SAY.columns.reference, share: 10 },
      { title: SAY.columns.pleaseSend, share: 32 },
      { title: SAY.columns.insteadOf, share: 58 },
    ],
    rows: photographs.map(({ ref, text, answers }) => {
      const answered = grouped(
        now.filter((question) => answers?.includes(question.ref) === true),
        names,
      );
      const words = answered.map(({ spec, questions }) => `${refWords(questions, plan)}: ${spec.name} (${choicesOf(spec)})`);
      return [ref, `${capital(text)}.`, words.join("\n")];
    }),
  },
];

/** So many steps of one approved procedure are asked together: its pages answer all of them. */
const MANY_STEPS = 4;

/** The steps of one approved procedure by what they are steps for, under the request for its pages. */
const stepBlocks = (steps: readonly PlanQuestion[], { plan, names }: Context, rulebook: Rulebook): readonly Block[] => {
  const [first] = grouped(steps, names);
  if (first === undefined) return [];
  const kinds = new Map<string, PlanQuestion[]>();
  for (const step of steps) kinds.set(kindOf(step.at) ?? "", [...(kinds.get(kindOf(step.at) ?? "") ?? []), step]);
  const procedure = plan.requests.find(({ need }) => need === APPROVED_PROCEDURE);
  return [
    { kind: "subheading", text: SAY.headings.steps, note: procedure === undefined ? "" : SAY.with.steps(procedure.ref) },
    {
      kind: "table",
      compact: true,
      columns: COLUMNS,
      rows: [...kinds].map(([kind, own]) => [
        refsOf(own),
        `${SAY.with.whichStep(protectionOf(rulebook, kind)?.name ?? kind)}`,
        choicesOf(first.spec),
      ]),
    },
  ];
};

/**
 * The questions in full: those needed now, those only needed if the first ways fall, and the details. Those that promised photographs would
 * answer are asked in writing as long as they are open.
 */
export const questionBlocks = (plan: Plan, rulebook: Rulebook, confirmed: ReadonlySet<string>): readonly Block[] => {
  const names = namesIn(plan, rulebook);
  const context: Context = { plan, names, said: new Set() };
  const now = askedNow(plan);
  const photographs = stillAsked(plan, confirmed).filter(({ kind }) => kind === "photograph");
  const shown = new Set(photographs.flatMap(({ answers }) => answers ?? []));
  const asked = now.filter(({ ref }) => !shown.has(ref));
  const steps = asked.filter(({ at }) => at.endsWith("/approvedStep"));
  const together = steps.length >= MANY_STEPS ? steps : [];
  const written = asked.filter((question) => !together.includes(question));
  const later = plan.questions.length - now.length;
  const parts = partsOf({ ...plan, questions: written }).flatMap(({ title, note, questions, compact }): readonly Block[] =>
    questions.length === 0
      ? []
      : [
          { kind: "subheading", text: title, note },
          {
            kind: "table",
            ...(compact ? { compact: true } : {}),
            columns: COLUMNS,
            rows: nested(grouped(questions, names)).map(({ group, under }) => rowOf(group, under, context)),
          },
        ],
  );
  const blocks = [...stepBlocks(together, context, rulebook), ...parts];
  const drawings = drawingsFor(now);
  const more: readonly Block[] =
    later === 0
      ? []
      : [
          {
            kind: "paragraph",
            text: SAY.notes.nextLetter,
            tone: "quiet",
          },
        ];
  if (photographs.length > 0) return [...blocks, ...drawings, ...photographBlocks(photographs, now, context), ...more];
  return blocks.length === 0 ? [{ kind: "paragraph", text: SAY.notes.noQuestion }] : [...blocks, ...drawings, ...more];
};
