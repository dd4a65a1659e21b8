import type { Reply } from "../model/reply.ts";
import { printable } from "../model/text.ts";
import type { Asked } from "../plan/asked.ts";
import { alikeRows, ledIn, takenWords, withoutSet } from "./alike.ts";
import type { Block, Labelled, Letter } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { agreementSaid, answerSaid, confirmationSaid, type Said, valueSaid } from "./said.ts";
import { STATEMENT } from "./sheet.ts";
import { sizeWords } from "./sizes.ts";
import { capital, longDate, refRange } from "./words.ts";

/** A confirmed reply with what its letter asked; all that a receipt is made from. */
export interface ReceiptInput {
  readonly office: Letter["office"];
  readonly vessel: string;
  /** The office's reference of the visit. */
  readonly reference?: string | undefined;
  /** Of the letter that was answered. */
  readonly number: number;
  /** What that letter asked, word for word. */
  readonly asked: Asked;
  readonly reply: Reply;
  /** A UTC instant in ISO 8601. */
  readonly confirmedAt: string;
  /** Who confirmed it, as the office knows him: the recipient of the link, or who keyed it in. */
  readonly confirmedBy: string;
  /** Files that came with it; sizes in bytes. */
  readonly attachments: readonly { readonly name: string; readonly what: string; readonly size: number }[];
  readonly paper: Letter["paper"];
}

const sentence = (text: string): string => (/[.!?]$/.test(text) ? text : `${text}.`);
/** What was said, line by line: in our words, in the vessel's own, and whom to speak to. */
const inLines = ({ says, words, contact }: Said): string =>
  [sentence(says), ...(words === undefined ? [] : [`“${words}”`]), ...(contact === undefined ? [] : [SAY.with.contact(contact)])].join(
    "\n",
  );

/** Things of one kind under the same title, in the order in which each title comes first. */
const titled = <Item>(items: readonly Item[], titleOf: (item: Item) => string): ReadonlyMap<string, readonly Item[]> => {
  const groups = new Map<string, Item[]>();
  for (const item of items) groups.set(titleOf(item), [...(groups.get(titleOf(item)) ?? []), item]);
  return groups;
};

/** The title stands over what was asked. */
const columnsUnder = (title: string) => [
  { title: SAY.columns.reference, share: 10 },
  { title: title === "" ? SAY.columns.asked : title, share: 54 },
  { title: SAY.columns.answer, share: 36 },
];

/** What was not answered, by reference and shortly: the same of several sets once. */
const unanswered = (items: Parameters<typeof alikeRows>[0]): readonly Block[] =>
  items.length === 0
    ? []
    : [
        { kind: "subheading", text: SAY.headings.notAnswered, note: refRange(items.map(({ ref }) => ref)) },
        { kind: "labelled", items: alikeRows(items).map(({ refs, text }): Labelled => ({ label: refRange(refs), text })) },
      ];

/** How the things of one part are told: under which title, as what, with which answer if there is one, and how shortly where there is none. */
interface Telling<Item> {
  readonly title: (item: Item) => string;
  readonly asked: (item: Item) => string;
  readonly answer: (item: Item) => string | undefined;
  readonly short: (item: Item) => Parameters<typeof alikeRows>[0][number];
}

/** One part of a reply as the letter has it: a heading, a table under each title, then what was not answered. */
const section = <Item extends { readonly ref: string }>(heading: string, items: readonly Item[], how: Telling<Item>): readonly Block[] => {
  if (items.length === 0) return [];
  const told = items.filter((item) => how.answer(item) !== undefined);
  return [
    { kind: "heading", text: heading },
    ...[...titled(told, how.title)].map(
      ([title, own]): Block => ({
        kind: "table",
        compact: true,
        columns: columnsUnder(title),
        rows: own.map((item) => [item.ref, how.asked(item), how.answer(item) ?? ""]),
      }),
    ),
    ...unanswered(items.filter((item) => !told.includes(item)).map(how.short)),
  ];
};

const questionsSaid = ({ asked, reply }: ReceiptInput): readonly Block[] =>
  section(SAY.headings.questions, ledIn(asked), {
    title: ({ set }) => set,
    asked: withoutSet,
    answer: (question) => {
      const answer = reply.questions[question.ref];
      return answer === undefined ? undefined : sentence(answerSaid(question, answer));
    },
    short: (question) => question,
  });

const requestsSaid = ({ asked, reply }: ReceiptInput): readonly Block[] =>
  section(SAY.headings.requests, asked.requests, {
    title: ({ actor, confirmBy }) => `${capital(actor)}, ${SAY.with.byDate(longDate(confirmBy))}`,
    asked: ({ text }) => sentence(capital(text)),
    answer: (request) => {
      const said = reply.requests[request.ref];
      return said === undefined ? undefined : inLines(confirmationSaid(request, said));
    },
    short: ({ ref, text }) => ({ ref, set: "", text: sentence(capital(text)) }),
  });

const testsSaid = ({ asked, reply }: ReceiptInput): readonly Block[] =>
  section(SAY.headings.formTests, asked.tests, {
    title: ({ set }) => set,
    asked: ({ name, way }) => `${sentence(capital(name))} ${way === "" ? SAY.notes.noWayLeft : sentence(capital(way))}`,
    answer: (one) => {
      const said = reply.tests[one.ref];
      return said === undefined
        ? undefined
        : inLines(agreementSaid(said, (method) => one.others.find(({ value }) => value === method)?.label ?? method));
    },
    short: ({ ref, set, name }) => ({ ref, set, text: sentence(capital(name)) }),
  });

/** What was taken as known and is said to be otherwise; what was left as it was needs no word. */
const correctionsSaid = ({ asked, reply: { corrections = {} } }: ReceiptInput): readonly Block[] =>
  section(
    SAY.headings.otherwise,
    asked.known.filter(({ ref }) => corrections[ref] !== undefined),
    {
      title: ({ set }) => set,
      asked: (fact) => sentence(SAY.with.takenAs(fact.name, takenWords(fact))),
      answer: (fact) => {
        const value = corrections[fact.ref];
        return value === undefined ? undefined : sentence(valueSaid(fact, value));
      },
      short: ({ ref, set, name }) => ({ ref, set, text: name }),
    },
  );

const filesBlocks = ({ attachments }: ReceiptInput): readonly Block[] =>
  attachments.length === 0
    ? []
    : [
        { kind: "heading", text: SAY.headings.files },
        {
          kind: "table",
          compact: true,
          columns: [
            { title: SAY.columns.file, share: 46 },
            { title: SAY.columns.what, share: 40 },
            { title: SAY.columns.size, share: 14 },
          ],
          // Two files may bear one name: each stands with its number.
          rows: attachments.map(({ name, what, size }, place) => [`${place + 1}  ${printable(name)}`, printable(what), sizeWords(size)]),
        },
      ];

/** "3 March 2026, 08:05 UTC". */
const instantWords = (instant: string): string => `${longDate(instant.slice(0, 10))}, ${instant.slice(11, 16)} UTC`;

/** How many of what was asked has an answer: "12 of 14 questions". */
const answered = (items: readonly { readonly ref: string }[], said: Readonly<Record<string, unknown>>): string =>
  SAY.with.ofAll(items.filter(({ ref }) => said[ref] !== undefined).length, items.length);

const headLines = ({ asked, reply, number, confirmedAt, confirmedBy }: ReceiptInput): readonly Labelled[] => {
  const { name, role, contact } = reply.by;
  const by = printable(confirmedBy);
  return [
    {
      label: SAY.labels.confirmedBy,
      text: sentence([name, ...(role === undefined ? [] : [role]), ...(contact === undefined ? [] : [contact])].join(", ")),
    },
    { label: SAY.labels.confirmedOn, text: sentence(instantWords(confirmedAt)) },
    ...(by === name ? [] : [{ label: SAY.labels.sentBy, text: sentence(by) }]),
    { label: SAY.labels.answersLetter, text: SAY.with.answersLetter(number, reply.letter) },
    {
      label: SAY.labels.answeredOf,
      text: SAY.with.answered(
        answered(asked.questions, reply.questions),
        answered(asked.requests, reply.requests),
        answered(asked.tests, reply.tests),
      ),
    },
  ];
};

/** The receipt of a confirmed reply: all that was said, in the words and the order of the letter. It settles nothing. Pure. */
export const receiptOf = (input: ReceiptInput): Letter => {
  const { office, vessel, reference, number, reply, confirmedAt, paper } = input;
  const title = SAY.with.receipt(number);
  const isoDate = confirmedAt.slice(0, 10);
  return {
    title,
    subject: `${title}: ${vessel}`,
    date: longDate(isoDate),
    isoDate,
    paper,
    reference: [reference, SAY.with.receiptShort(number)].filter((part) => part !== undefined).join(", "),
    office,
    to: [[reply.by.name, ...(reply.by.role === undefined ? [] : [reply.by.role])].join(", "), vessel],
    statement: STATEMENT,
    blocks: [
      { kind: "heading", text: SAY.headings.receipt },
      { kind: "labelled", items: headLines(input) },
      ...questionsSaid(input),
      ...requestsSaid(input),
      ...testsSaid(input),
      ...correctionsSaid(input),
      ...(reply.remarks === undefined
        ? []
        : [
            { kind: "heading" as const, text: SAY.columns.remarks },
            { kind: "paragraph" as const, text: reply.remarks },
          ]),
      ...filesBlocks(input),
      { kind: "heading", text: SAY.headings.whatItIs },
      { kind: "paragraph", text: SAY.notes.onlyARecord },
    ],
  };
};
