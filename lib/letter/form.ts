import { LONGEST_WORDS } from "../model/reply.ts";
import {
  type Asked,
  type AskedKnown,
  type AskedQuestion,
  type AskedRequest,
  type AskedTest,
  askedInLetter,
  type Choice,
} from "../plan/asked.ts";
import { type KnownLine, knownLines, takenWords, withoutSet } from "./alike.ts";
import type { Block, FormField, FormRow } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import {
  AGREEMENTS,
  agreementsOf,
  asksHow,
  CONFIRMATIONS,
  FORM_FORMAT,
  formDigest,
  KEPT,
  knownFields,
  OWN,
  offersOthers,
  questionFields,
  requestFields,
  testFields,
} from "./formFields.ts";
import { capital, longDate, refRange } from "./words.ts";

const LONGEST = { date: 40, answer: 60, contact: 200, name: 120, role: 80 } as const;

/** As they are printed and chosen; they are read back without regard to capitals. */
const labels = (choices: readonly Choice[]): readonly string[] => choices.map(({ label }) => capital(label));

const text = (name: string, title: string, longest: number, more: { readonly unit?: string; readonly tall?: true } = {}): FormField => ({
  kind: "text",
  name,
  title,
  longest,
  ...more,
});

const choice = (name: string, title: string, choices: readonly string[]): FormField => ({ kind: "choice", name, title, choices });

const spoken = (choices: readonly string[]): string => choices.join(" / ");

/** From so many characters on, choices that were printed before are not printed again. */
const LONG_CHOICES = 60;

/** The choices of every question for those who write by pen; a long list that stands at a question before is only referred to. */
const choicesInPrint = (questions: readonly AskedQuestion[]): ReadonlyMap<string, string> => {
  const first = new Map<string, string>();
  return new Map(
    questions.map(({ ref, choices }) => {
      if (choices.length === 0) return [ref, ""] as const;
      const words = spoken([...labels(choices), SAY.choose.unknown]);
      const before = first.get(words);
      if (before !== undefined && words.length > LONG_CHOICES) return [ref, `${SAY.with.choicesAsAt(before)}.`] as const;
      first.set(words, ref);
      return [ref, words] as const;
    }),
  );
};

const QUESTION_HEADS = [
  [
    { title: SAY.columns.answer, share: 26 },
    { title: SAY.columns.findOut, share: 16 },
  ],
];

const questionRow = (question: AskedQuestion, note: string): FormRow => {
  const { ref, choices, unit } = question;
  const fields = questionFields(ref);
  const title = SAY.with.fieldOf(ref, question.text);
  const answer =
    choices.length > 0
      ? choice(fields.answer, title, [...labels(choices), SAY.choose.unknown])
      : text(fields.answer, title, LONGEST.answer, unit === undefined ? {} : { unit });
  return {
    ref,
    // The set is named once over its questions.
    text: withoutSet(question),
    ...(note === "" ? {} : { note }),
    lines: [[answer, text(fields.by, SAY.with.fieldOf(ref, SAY.columns.findOut), LONGEST.date)]],
  };
};

/** Things of one kind together, in the order in which each kind comes first. */
const groupedBy = <Item>(items: readonly Item[], keyOf: (item: Item) => string): ReadonlyMap<string, readonly Item[]> => {
  const groups = new Map<string, Item[]>();
  for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
  return groups;
};

const under = (title: string, heads: Extract<Block, { kind: "form" }>["heads"], rows: readonly FormRow[]): readonly Block[] => [
  { kind: "form", title, heads, rows },
];

const questionBlocks = (questions: readonly AskedQuestion[]): readonly Block[] => {
  const groups = groupedBy(questions, ({ set }) => set);
  const notes = choicesInPrint([...groups.values()].flat());
  return [...groups].flatMap(([set, own]) =>
    under(
      set,
      QUESTION_HEADS,
      own.map((question) => questionRow(question, notes.get(question.ref) ?? "")),
    ),
  );
};

const REQUEST_HEADS = [
  [
    { title: SAY.columns.canItBeHad, share: 18 },
    { title: SAY.columns.how, share: 21 },
    { title: SAY.columns.date, share: 15 },
  ],
  [
    { title: SAY.columns.insteadOrRemark, share: 33 },
    { title: SAY.columns.contactFor, share: 21 },
  ],
];

const requestRow = (request: AskedRequest): FormRow => {
  const { ref, had } = request;
  const fields = requestFields(ref);
  const titled = (what: string): string => SAY.with.fieldOf(ref, what);
  const how = asksHow(request) ? choice(fields.had, titled(SAY.columns.how), labels(had)) : null;
  return {
    ref,
    text: `${capital(request.text)}.${request.hold ? ` ${SAY.notes.hold}.` : ""}`,
    ...(how === null ? {} : { note: spoken(labels(had)) }),
    lines: [
      [
        choice(fields.says, titled(capital(request.text)), labels(CONFIRMATIONS)),
        how,
        text(fields.by, titled(SAY.columns.date), LONGEST.date),
      ],
      [
        text(fields.words, titled(SAY.columns.insteadOrRemark), LONGEST_WORDS),
        text(fields.contact, titled(SAY.columns.contactFor), LONGEST.contact),
      ],
    ],
  };
};

const requestBlocks = (requests: readonly AskedRequest[]): readonly Block[] =>
  [
    ...groupedBy(requests, ({ actor, confirmBy, later }) => {
      const who = `${capital(actor)}, ${SAY.with.byDate(longDate(confirmBy))}`;
      return later ? `${who}. ${SAY.notes.notToBeOrdered}` : who;
    }),
  ].flatMap(([title, own]) => under(title, REQUEST_HEADS, own.map(requestRow)));

const TEST_HEAD = [
  { title: SAY.columns.agreed, share: 22 },
  { title: SAY.columns.whichWay, share: 32 },
];
const OTHERS_HEAD = [{ title: SAY.columns.oneOfThese, share: 54 }];

const testRow = (test: AskedTest): FormRow => {
  const { ref, name, way, others } = test;
  const fields = testFields(ref);
  const titled = (what: string): string => SAY.with.fieldOf(ref, what);
  return {
    ref,
    name: capital(name),
    text: way === "" ? SAY.notes.noWayLeft : capital(way),
    ...(offersOthers(test) ? { note: spoken(labels(others)) } : {}),
    lines: [
      [
        choice(fields.says, titled(`${capital(name)}. ${SAY.columns.agreed}`), labels(agreementsOf(test))),
        text(fields.words, titled(SAY.columns.whichWay), LONGEST_WORDS),
      ],
      ...(offersOthers(test) ? [[choice(fields.method, titled(SAY.columns.oneOfThese), labels(others))]] : []),
    ],
  };
};

const testBlocks = (tests: readonly AskedTest[]): readonly Block[] =>
  [...groupedBy(tests, ({ set }) => set)].flatMap(([set, own]) =>
    under(set, own.some(offersOthers) ? [TEST_HEAD, OTHERS_HEAD] : [TEST_HEAD], own.map(testRow)),
  );

/** So many sets stand side by side, and the share of each: wide enough for the longest choice in small print. */
const SETS_IN_LINE = 3;
const KNOWN_SHARES = [30, 25, 20] as const;

const inLines = <Item>(items: readonly Item[]): readonly (readonly Item[])[] =>
  Array.from({ length: Math.ceil(items.length / SETS_IN_LINE) }, (_, line) => items.slice(line * SETS_IN_LINE, (line + 1) * SETS_IN_LINE));

/** A fact of several sets has a place for each beside the other: one may be otherwise and the others not. */
const knownHeads = (sets: readonly string[]): Extract<Block, { kind: "form" }>["heads"] => {
  const share = KNOWN_SHARES[Math.min(sets.length, SETS_IN_LINE) - 1] ?? KNOWN_SHARES[0];
  return inLines(sets.length < 2 ? [SAY.columns.inFact] : sets).map((line) => line.map((title) => ({ title, share })));
};

const knownField = (fact: AskedKnown): FormField => {
  const { ref, set, name, choices, unit } = fact;
  const title = SAY.with.fieldOf(ref, `${set === "" ? "" : `${set}: `}${name}. ${SAY.columns.inFact}`);
  const { is } = knownFields(ref);
  return choices.length > 0
    ? choice(is, title, [...labels(choices), SAY.choose.unknown])
    : text(is, title, LONGEST.answer, unit === undefined ? {} : { unit });
};

const knownRow = ({ facts }: KnownLine): FormRow => {
  const [first] = facts;
  const refs = refRange(facts.map(({ ref }) => ref));
  return {
    ref: refs,
    text: first === undefined ? "" : `${first.name}: ${takenWords(first)}`,
    lines: inLines(facts.map(knownField)),
  };
};

const knownBlocks = (known: readonly AskedKnown[]): readonly Block[] =>
  [...groupedBy(knownLines(known), ({ sets }) => sets.join("|"))].flatMap(([, lines]) => {
    const sets = lines[0]?.sets ?? [];
    const title = sets.length > 1 ? SAY.columns.inFact : (sets[0] ?? "");
    return under(title, knownHeads(sets), lines.map(knownRow)).map((block) => ({ ...block, compact: true }));
  });

const ownRow = (...fields: readonly FormField[]): FormRow => ({ ref: "", text: "", lines: [fields] });

const whoBlocks: readonly Block[] = [
  { kind: "heading", text: SAY.headings.formWho },
  {
    kind: "form",
    title: "",
    heads: [
      [
        { title: SAY.columns.name, share: 30 },
        { title: SAY.columns.role, share: 28 },
        { title: SAY.columns.contact, share: 42 },
      ],
    ],
    rows: [
      ownRow(
        text(OWN.name, SAY.columns.name, LONGEST.name),
        text(OWN.role, SAY.columns.role, LONGEST.role),
        text(OWN.contact, SAY.columns.contact, LONGEST.contact),
      ),
    ],
  },
  {
    kind: "form",
    title: "",
    heads: [[{ title: SAY.columns.remarks, share: 100 }]],
    rows: [ownRow(text(OWN.remarks, SAY.columns.remarks, LONGEST_WORDS, { tall: true }))],
  },
];

/** A heading, what can be said to everything under it, and its tables; nothing where nothing is asked. */
const section = (title: string, choices: string, tables: readonly Block[]): readonly Block[] =>
  tables.length === 0
    ? []
    : [
        { kind: "heading", text: title },
        ...(choices === "" ? [] : [{ kind: "paragraph" as const, text: choices, tone: "quiet" as const }]),
        ...tables,
      ];

/** After so many rows the next section, after so many the next table begins on a new page. */
const LONG_PART = { section: 24, table: 48 } as const;

/** The layout's time grows with the square of a part's length, so that a long form is laid out in several. */
const inParts = (sections: readonly (readonly Block[])[]): readonly Block[] => {
  const blocks: Block[] = [];
  let rows = 0;
  for (const block of sections.flat()) {
    const afterHead = blocks.at(-1)?.kind !== "form";
    if ((block.kind === "heading" && rows > LONG_PART.section) || (block.kind === "form" && rows > LONG_PART.table && !afterHead)) {
      blocks.push({ kind: "newPage" });
      rows = 0;
    }
    blocks.push(block);
    if (block.kind === "form") rows += block.rows.length;
  }
  return blocks;
};

/**
 * The reply form as the last pages of a letter: what the letter asks, with fields for the answers. `mark` names the letter; a filled form is known
 * again by it and by a digest over what is asked.
 */
export const formBlocks = (everything: Asked, mark: string): readonly Block[] => {
  const asked = askedInLetter(everything);
  const digest = formDigest(asked);
  return [
    { kind: "newPage" },
    { kind: "heading", text: SAY.headings.form },
    { kind: "paragraph", text: SAY.notes.fillIn },
    { kind: "paragraph", text: SAY.notes.writeSo },
    ...whoBlocks,
    ...inParts([
      section(SAY.headings.questions, "", questionBlocks(asked.questions)),
      section(SAY.headings.requests, `${SAY.columns.canItBeHad} ${spoken(labels(CONFIRMATIONS))}`, requestBlocks(asked.requests)),
      section(SAY.headings.formTests, `${SAY.columns.agreed} ${spoken(labels(AGREEMENTS))}`, testBlocks(asked.tests)),
      section(SAY.headings.assumed, SAY.notes.leaveAsItIs, knownBlocks(asked.known)),
    ]),
    {
      kind: "formMark",
      text: SAY.with.formMark(mark, digest),
      kept: [
        { name: KEPT.format, value: FORM_FORMAT },
        { name: KEPT.letter, value: mark },
        { name: KEPT.digest, value: digest },
      ],
    },
  ];
};
