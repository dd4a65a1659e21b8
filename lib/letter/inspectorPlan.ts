import { namesIn, sayFigure } from "../plan/readable.ts";
import { sayBasis } from "../plan/say.ts";
import type { Plan, PlanProtection } from "../plan/schema.ts";
import { type Basis, basis as bases } from "../rulebook/basis.ts";
import type { Block, Labelled, Letter } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { conditionWords } from "./conditions.ts";
import {
  type Entry,
  entriesOf,
  howWords,
  loadDrawings,
  namesFor,
  namesOf,
  optionWords,
  outOfUse,
  type PlanInput,
  provesWords,
  stripOf,
} from "./protections.ts";
import { lastTimeLines } from "./results.ts";
import { sheetOf } from "./sheet.ts";
import { capital, longDate, methodsOf, methodWords, protectionOf, refRange, testsIn } from "./words.ts";

const PRACTICE = bases.practice;
const MARKS = { read: "", memory: " [memory]", practice: " [practice]", interpretation: " [our reading]" } as const;

/** Where a statement comes from, with its short mark; what has no source but practice says so once. */
const named = (from: readonly Basis[]): string =>
  [
    ...new Set(
      from.map((basis) => (basis.cite === PRACTICE.cite ? "[practice]" : `${sayBasis({ ...basis, mark: "read" })}${MARKS[basis.mark]}`)),
    ),
  ].join("; ");

/** The same behind a statement. */
const sources = (from: readonly Basis[]): string => {
  const words = named(from);
  return words === "" ? "" : words === "[practice]" ? ` ${words}` : ` (${words})`;
};

/** So many ways are written out; where little is known there are very many. */
const MOST_WAYS = 8;
/** So many protections stand in one part of the paper. */
const IN_ONE_PART = 6;

/** Every way that is left, best first, with the state of facts in which it is the one. */
const waysOf = ({ sets, protection }: Entry, input: PlanInput): readonly Labelled[] => {
  const names = namesFor(sets, input);
  const { options, kind, decision } = protection;
  if (decision.state === "settled") return [];
  const real = options.filter(({ methods, unproven }) => methods.length > 0 || unproven.length === 0);
  const more = real.length - MOST_WAYS;
  const ways = real.slice(0, MOST_WAYS).map((option, place) => ({
    label: `Way ${place + 1}`,
    text: `${capital(optionWords(kind, option, input.rulebook))}${option.when === true ? "" : `; when ${conditionWords(option.when, names)}`}`,
  }));
  return more > 0 ? [...ways, { label: SAY.labels.moreWays, text: SAY.with.moreWays(more, protection.ref) }] : ways;
};

/** What the inspector watches on the day: the expected result, what is put back, the cautions. */
const watching = ({ kind, decision, cautions }: PlanProtection, { rulebook }: PlanInput): readonly Labelled[] => {
  const methods = methodsOf(rulebook, kind, decision.methods);
  const texts = rulebook.cautions.filter(({ id }) => cautions.includes(id)).map(({ text }) => text);
  return [
    ...methods.map(({ expected }) => ({ label: SAY.labels.toBeSeen, text: `${capital(expected)}.` })),
    ...methods.flatMap(({ restore }) => (restore === undefined ? [] : [{ label: SAY.labels.putBack, text: `${capital(restore)}.` }])),
    ...(texts.length === 0 ? [] : [{ label: "Watch", text: texts.join(" ") }]),
  ];
};

/** What was found at an earlier visit, of each set by its test where several are told together. */
const lastTimeOf = ({ sets, refs, protection: { kind } }: Entry, { read, rulebook }: PlanInput): readonly Labelled[] =>
  sets.flatMap((set, place) =>
    lastTimeLines(`/sets/${set}/${kind}`, read.visit.lastTime, rulebook).map(({ label, text }) => ({
      label,
      text: sets.length === 1 ? text : SAY.with.ofTest(refs[place] ?? "", text),
    })),
  );

const linesOf = (entry: Entry, input: PlanInput): readonly Labelled[] => {
  const { protection } = entry;
  const { deviation, decision, kind, figures, notes, askedFor } = protection;
  const names = namesFor(entry.sets, input);
  return [
    ...waysOf(entry, input),
    ...(deviation === undefined
      ? []
      : [
          {
            label: deviation.refused ? SAY.labels.deviationRefused : "Deviation",
            text: `${capital(methodWords(input.rulebook, kind, [deviation.method]))}: ${deviation.reason}`,
          },
        ]),
    ...(decision.wouldOpen ?? []).map(({ at, is, methods }) => ({
      label: SAY.labels.wouldOpen,
      text: `${conditionWords({ at, is }, names)} (then ${methodWords(input.rulebook, kind, methods)})`,
    })),
    ...askedFor.map(({ text, basis }) => ({ label: SAY.labels.rulesAsk, text: `${text}${sources(basis)}` })),
    ...notes.map(({ text, basis }) => ({ label: "Note", text: `${text}${sources(basis)}` })),
    ...figures.map((figure) => ({
      label: figure.later === true ? SAY.labels.laterFigure : "Figure",
      text: `${capital(sayFigure(figure, input.units))}${sources(figure.basis)}`,
    })),
    ...watching(protection, input),
    ...lastTimeOf(entry, input),
  ];
};

/** The reason of a verdict; where it names other questions on other sets, each with its test. */
const reasonOf = (method: string, { sets, protection }: Entry, { plan }: PlanInput): string => {
  const alike = sets.flatMap((set) => plan.sets[set]?.protections.find(({ kind }) => kind === protection.kind) ?? []);
  const reasons = alike.map(({ ref, verdicts }) => ({ ref, reason: verdicts.find((verdict) => verdict.method === method)?.reason ?? "" }));
  return new Set(reasons.map(({ reason }) => reason)).size === 1
    ? (reasons[0]?.reason ?? "")
    : reasons.map(({ ref, reason }) => `${ref}: ${reason}`).join("\n");
};

const verdictTable = (entry: Entry, input: PlanInput): Block => ({
  kind: "table",
  compact: true,
  columns: [
    { title: SAY.columns.method, share: 30 },
    { title: SAY.columns.verdict, share: 13 },
    { title: SAY.columns.because, share: 33 },
    { title: SAY.columns.basis, share: 24 },
  ],
  rows: entry.protection.verdicts.map(({ method, technique, verdict, bar, basis }) => [
    `${capital(methodWords(input.rulebook, entry.protection.kind, [method]))} (technique ${technique})`,
    `${verdict}${bar === undefined ? "" : ` (${bar})`}`,
    reasonOf(method, entry, input),
    named(basis),
  ]),
});

const entryBlocks = (entry: Entry, input: PlanInput): readonly Block[] => {
  const { sets, refs, protection } = entry;
  const { decision, kind } = protection;
  const proven = decision.outcome === "combination";
  return [
    {
      kind: "protection",
      refs: refs.join(", "),
      name: capital(protectionOf(input.rulebook, kind)?.name ?? kind),
      where: namesOf(sets, input.plan),
      state: decision.state === "settled" && decision.outcome === "nothing acceptable" ? "no way left" : decision.state,
      how: capital(howWords(protection, input.rulebook)),
      does: methodsOf(input.rulebook, kind, decision.methods).map(({ does }) => does),
      strip: proven ? stripOf(protection) : [],
      proves: proven ? provesWords(protection) : "",
      lines: linesOf(entry, input),
      drawings: loadDrawings(entry, input),
    },
    verdictTable(entry, input),
  ];
};

const told = (items: readonly { readonly text: string; readonly basis: readonly Basis[] }[], none: string): Block =>
  items.length === 0
    ? { kind: "paragraph", text: none }
    : { kind: "bullets", items: items.map(({ text, basis }) => `${capital(text)}${sources(basis)}`) };

const rulesBlocks = ({ plan, read }: PlanInput): readonly Block[] => {
  const { rules } = plan;
  const { localRules } = read.visit.policy;
  const local: readonly Block[] =
    localRules === undefined
      ? []
      : [
          {
            kind: "labelled",
            items: [
              { label: localRules.name, text: localRules.says },
              ...localRules.bars.map(({ technique, because }) => ({ label: SAY.with.barredTechnique(technique), text: because })),
            ],
          },
        ];
  if (rules === undefined) return [{ kind: "paragraph", text: SAY.notes.rulesOpen }, ...local];
  const list = (label: string, items: typeof rules.limits): readonly Labelled[] =>
    items.map(({ text, basis }) => ({ label, text: `${text}${sources(basis)}` }));
  return [
    {
      kind: "labelled",
      items: [
        ...list("Limit", rules.limits),
        ...list("Normally done", rules.intervals),
        ...(rules.procedure.length === 0 ? [] : [{ label: SAY.labels.procedureStates, text: `${rules.procedure.join(", ")}.` }]),
      ],
    },
  ];
};

/** Protections that do not apply, each once with its sets' references and why. */
const notApplying = ({ plan, rulebook }: PlanInput): readonly Block[] => {
  const kinds = new Map<string, string[]>();
  for (const { protections } of plan.sets)
    for (const { applies, kind, ref } of protections) if (applies === "no") kinds.set(kind, [...(kinds.get(kind) ?? []), ref]);
  const items = [...kinds].map(([kind, refs]) => {
    const entry = protectionOf(rulebook, kind);
    return { label: refRange(refs), text: `${capital(entry?.name ?? kind)}: ${entry?.appliesNot ?? ""}.` };
  });
  return items.length === 0
    ? []
    : [
        { kind: "heading", text: SAY.headings.notApplying },
        { kind: "labelled", items },
      ];
};

const openQuestions = ({ plan, rulebook }: PlanInput): readonly Block[] => {
  const names = namesIn(plan, rulebook);
  const items = plan.questions.map(({ ref, text, onlyIf }) => ({
    label: ref,
    text: `${text}${onlyIf === undefined || onlyIf === true ? "" : ` Only if ${conditionWords(onlyIf, names)}.`}`,
  }));
  return [
    { kind: "heading", text: SAY.headings.openQuestions },
    items.length === 0 ? { kind: "paragraph", text: SAY.notes.noQuestion } : { kind: "labelled", items },
  ];
};

/** First ways that hang on what can by our reckoning not come in time. */
const lateFirst = ({ requests }: Plan): readonly { readonly text: string; readonly basis: readonly Basis[] }[] =>
  requests
    .filter(({ late, neededBy }) => late === true && neededBy.length > 0)
    .map(({ ref, text, neededBy }) => ({ text: SAY.with.lateFirst(testsIn(neededBy), ref, text), basis: [bases.practice] }));

/** The plan for the inspector: findings first, then every protection with all its ways, verdicts and what to watch on the day. */
export const inspectorPlanOf = (input: PlanInput): Letter => {
  const { plan } = input;
  const figures = [
    ...plan.figures,
    ...plan.sets.flatMap((set) => set.figures.map((figure) => ({ ...figure, name: `${set.name}: ${figure.name}` }))),
  ];
  return sheetOf(input, SAY.headings.inspectorPlan, [
    { kind: "heading", text: SAY.headings.findings },
    {
      kind: "paragraph",
      text: SAY.notes.findingsStayHere,
      tone: "quiet",
    },
    told(plan.findings, SAY.notes.nothingFound),
    { kind: "heading", text: SAY.headings.doubts },
    told([...plan.warnings.map(({ text, basis }) => ({ text, basis })), ...lateFirst(plan)], "None."),
    { kind: "heading", text: SAY.headings.theDay },
    { kind: "paragraph", text: `${SAY.with.answerBy(longDate(plan.visit.replyBy))} ${outOfUse(input)}` },
    ...(figures.length === 0
      ? []
      : [
          {
            kind: "bullets" as const,
            items: figures.map((figure) => `${capital(sayFigure(figure, input.units))}${sources(figure.basis)}`),
          },
        ]),
    { kind: "heading", text: SAY.headings.rulesAsk },
    ...rulesBlocks(input),
    { kind: "heading", text: SAY.headings.everyProtection },
    ...entriesOf(input).flatMap((entry, place): readonly Block[] => [
      ...(place > 0 && place % IN_ONE_PART === 0 ? [{ kind: "newPage" as const }] : []),
      ...entryBlocks(entry, input),
    ]),
    ...notApplying(input),
    ...openQuestions(input),
  ]);
};
