import { said } from "../model/fact.ts";
import { type Asked, askedOf, confirmedIn, stillAsked } from "../plan/asked.ts";
import { namesIn } from "../plan/readable.ts";
import { listOr } from "../plan/say.ts";
import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import { shortForms } from "./abbreviations.ts";
import { asksBlock } from "./asks.ts";
import { assumedBlocks } from "./assumed.ts";
import type { Block, Letter } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { changesTold, type NotTaken, notTakenBlocks } from "./changes.ts";
import type { Closing } from "./closed.ts";
import { closingBlocks, closingPlan } from "./closing.ts";
import { formBlocks } from "./form.ts";
import { peopleOn, recipients, signer } from "./people.ts";
import { type PlanInput, protectionBlocks } from "./protections.ts";
import { askedNow, questionBlocks } from "./questions.ts";
import { requestBlocks } from "./requests.ts";
import { noticeBlocks, safetyBlocks } from "./safety.ts";
import { STATEMENT, smallPrint } from "./sheet.ts";
import { longDate, windowWords } from "./words.ts";

export interface LetterInput extends PlanInput {
  /** The plan of the letter before this one; what differs from it is told. */
  readonly former?: Plan;
  /** What the vessel answered to that letter and the office did not take over. */
  readonly notTaken?: readonly NotTaken[];
  /** Tests that the vessel agreed to in answer to that letter. */
  readonly agreed?: readonly string[];
  /** Where it is given, the last pages are a form to answer with; `mark` is a short text that names this letter and no other. */
  readonly form?: { readonly mark: string };
  /** Where it is given, the letter asks nothing and ends the exchange; it then has no form. */
  readonly closing?: Closing;
}

/** Lines of a plain answer, as examples, from what this letter asks. */
const exampleLines = (plan: Plan, rulebook: Rulebook): string => {
  const names = namesIn(plan, rulebook);
  const question = plan.questions.find(({ at }) => names.specAt(at)?.domain.kind === "choice");
  const spec = question === undefined ? undefined : names.specAt(question.at);
  const [choice] = spec?.domain.kind === "choice" ? spec.domain.values : [];
  const [request] = plan.requests;
  return listOr([
    ...(question === undefined || spec === undefined || choice === undefined ? [] : [SAY.with.lineLike(question.ref, said(spec, choice))]),
    ...(request === undefined ? [] : [SAY.with.lineLike(request.ref, "yes")]),
  ]);
};

const SHORT_EXAMPLE = 12;

/** How an assumption is said to be otherwise, with one of this letter's; empty where there is none. */
const correctingWords = ({ known }: Asked): string => {
  // A short example, of a set: what the whole visit goes by is not lightly otherwise.
  const [example] = known.flatMap(({ ref, set, value, choices }) => {
    const other = choices.find((choice) => choice.value !== value && choice.label.length <= SHORT_EXAMPLE);
    return set === "" || other === undefined ? [] : [SAY.with.lineLike(ref, other.label.toLowerCase())];
  });
  return example === undefined ? "" : ` ${SAY.with.corrects(example)}`;
};

const answering = (plan: Plan, asked: Asked, { read: { visit }, rulebook, form }: LetterInput): readonly Block[] => [
  { kind: "heading", text: SAY.headings.howToAnswer },
  {
    kind: "bullets",
    items: [
      `${SAY.with.reply(visit.policy.office.contact ?? visit.policy.office.name, longDate(plan.visit.replyBy), exampleLines(plan, rulebook))}${correctingWords(asked)}`,
      ...(form !== undefined ? [SAY.notes.orTheForm] : []),
      SAY.with.mayAgree(peopleOn(visit, "office"), peopleOn(visit, "vessel")),
      SAY.notes.withoutAnswer,
      SAY.notes.asFound,
      SAY.notes.stopTheWork,
      SAY.notes.ifTestFails,
    ],
  },
];

const bodyOf = (input: LetterInput, all: Asked, changes: readonly Block[]): readonly Block[] => {
  const { plan, read, rulebook, units } = input;
  // What the next letter asks is called by its name, not by a reference that stands nowhere in this one.
  const now = { ...plan, questions: askedNow(plan) };
  const confirmed = confirmedIn(read.visit);
  const asked = { ...now, requests: stillAsked(plan, confirmed) };
  const [first] = asked.requests;
  return [
    { kind: "heading", text: SAY.headings.askOfYou },
    ...(first === undefined ? [] : [{ kind: "paragraph" as const, text: SAY.with.openedBy(first.ref) }]),
    asksBlock({ plan: asked, rulebook }),
    ...changes,
    { kind: "heading", text: SAY.headings.assumed },
    ...assumedBlocks(plan, read, { rulebook, units, asked: all }),
    { kind: "heading", text: SAY.headings.howProven },
    ...protectionBlocks({ ...input, plan: now }),
    { kind: "heading", text: SAY.headings.questions },
    ...questionBlocks(plan, rulebook, confirmed),
    { kind: "heading", text: SAY.headings.requests },
    ...requestBlocks(now, rulebook, read.visit.confirmed),
    { kind: "heading", text: SAY.headings.cautions },
    ...safetyBlocks(plan, rulebook),
    ...noticeBlocks(plan),
    ...answering(asked, all, input),
    {
      kind: "signature",
      text: SAY.with.signed(signer(read.visit), read.visit.policy.office.name),
    },
  ];
};

/** What a letter says, with the references that changed; one that ends the exchange goes by the plan as far as it tells it. */
const saidIn = (input: LetterInput, asked: Asked): { readonly blocks: readonly Block[]; readonly changed: readonly string[] } => {
  const { closing, former, agreed = [] } = input;
  // What nobody asks for any more needs no word.
  const requests = new Set(input.plan.requests.map(({ ref }) => ref));
  const notTaken = (input.notTaken ?? []).filter(({ ref }) => !ref.startsWith("R") || requests.has(ref));
  if (closing === undefined) {
    const told = changesTold(former, input, { agreed });
    return { blocks: bodyOf(input, asked, [...told.blocks, ...notTakenBlocks(notTaken)]), changed: told.changed };
  }
  const { plan, putOff } = closingPlan(input, closing);
  const told = changesTold(former, { ...input, plan }, { putOff });
  // What was said of a test stands with the test, where it is done.
  const done = new Set(
    plan.sets.flatMap(({ protections }) => protections.flatMap(({ ref, decision }) => (decision.outcome === "combination" ? [ref] : []))),
  );
  const others = notTakenBlocks(notTaken.filter(({ ref }) => !done.has(ref)));
  return { blocks: closingBlocks(input, closing, [...told.blocks, ...others]), changed: told.changed };
};

/** What a letter is about, and how it ends the exchange where it does. */
export const subjectOf = ({ visit }: Plan, ends?: Closing["kind"]): string => {
  const subject = SAY.with.subject(visit.vessel, visit.place, windowWords(visit.window));
  if (ends === undefined) return subject;
  return (ends === "settled" ? SAY.with.settledSubject : SAY.with.notSettledSubject)(subject.replace(/^T/, "t"));
};

/** The letter to the vessel as plain blocks, in the order that the reader needs them. */
export const letterOf = (input: LetterInput): Letter => {
  const { plan, read } = input;
  const { office } = read.visit.policy;
  const number = read.visit.letters.length + 1;
  const subject = subjectOf(input.plan, input.closing?.kind);
  const to = recipients(read.visit);
  const asked = askedOf(plan, input.rulebook, confirmedIn(read.visit), { read, units: input.units });
  const { blocks, changed } = saidIn(input, asked);
  return {
    title: `Letter ${number}: ${subject}`,
    subject,
    date: longDate(plan.visit.preparedOn),
    isoDate: plan.visit.preparedOn,
    paper: read.visit.policy.paper,
    reference: [plan.visit.reference, `letter ${number}`].filter((part) => part !== undefined).join(", "),
    office: { name: office.name, address: office.address, contact: office.contact ?? "" },
    to,
    statement: STATEMENT,
    changed,
    blocks: [
      ...blocks,
      smallPrint(input, blocks, SAY.notes.cautionsArePractice, shortForms(blocks, to.join(" "))),
      ...(input.form === undefined ? [] : formBlocks(asked, input.form.mark)),
    ],
  };
};
