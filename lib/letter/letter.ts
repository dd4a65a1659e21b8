import { said } from "../model/fact.ts";
import type { Visit } from "../model/visit.ts";
import { askedOf, confirmedIn, stillAsked } from "../plan/asked.ts";
import { namesIn } from "../plan/readable.ts";
import { listAnd, listOr } from "../plan/say.ts";
import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import { shortForms } from "./abbreviations.ts";
import { asksBlock } from "./asks.ts";
import { assumedBlocks } from "./assumed.ts";
import type { Block, Letter } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { changesTold } from "./changes.ts";
import { formBlocks } from "./form.ts";
import { type PlanInput, protectionBlocks } from "./protections.ts";
import { askedNow, questionBlocks } from "./questions.ts";
import { requestBlocks } from "./requests.ts";
import { noticeBlocks, safetyBlocks } from "./safety.ts";
import { STATEMENT, smallPrint } from "./sheet.ts";
import { longDate, windowWords } from "./words.ts";

export interface LetterInput extends PlanInput {
  /** The plan of the letter before this one; what differs from it is told. */
  readonly former?: Plan;
  /** Where it is given, the last pages are a form to answer with; `mark` is a short text that names this letter and no other. */
  readonly form?: { readonly mark: string };
}

/** A person's name with the role behind it, unless the name says the role. */
const called = (name: string, role: string): string => (name.toLowerCase().endsWith(role.toLowerCase()) ? name : `${name}, ${role}`);

const peopleOn = (visit: Visit, side: "office" | "vessel"): string => {
  const people = visit.visit.people
    .filter((person) => person.side === side)
    .map(({ name, role }) => called(name, role).replace(/^The /, "the "));
  return people.length === 0
    ? side === "office"
      ? "the inspector"
      : "the superintendent or the chief engineer"
    : listAnd(people.map((person) => person.replace(/, ([^,]*)$/, " ($1)")));
};

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

const answering = (plan: Plan, visit: Visit, rulebook: Rulebook, withForm: boolean): readonly Block[] => [
  { kind: "heading", text: SAY.headings.howToAnswer },
  {
    kind: "bullets",
    items: [
      SAY.with.reply(visit.policy.office.contact ?? visit.policy.office.name, longDate(plan.visit.replyBy), exampleLines(plan, rulebook)),
      ...(withForm ? [SAY.notes.orTheForm] : []),
      SAY.with.mayAgree(peopleOn(visit, "office"), peopleOn(visit, "vessel")),
      SAY.notes.withoutAnswer,
      SAY.notes.asFound,
      SAY.notes.stopTheWork,
      SAY.notes.ifTestFails,
    ],
  },
];

const signer = (visit: Visit): string => {
  const own = visit.visit.people.find(({ side }) => side === "office");
  return own === undefined ? "The inspector" : called(own.name, own.role);
};

const recipients = (visit: Visit): readonly string[] => {
  const { vessel, people } = visit.visit;
  return [
    ...(vessel.owner === undefined ? [] : [vessel.owner]),
    ...people.filter(({ side }) => side === "vessel").map(({ name, role }) => called(name, role)),
    `${vessel.name}${vessel.imo === undefined ? "" : ` (IMO number ${vessel.imo})`}`,
  ];
};

const bodyOf = (input: LetterInput, changes: readonly Block[]): readonly Block[] => {
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
    ...assumedBlocks(plan, read, rulebook, units),
    { kind: "heading", text: SAY.headings.howProven },
    ...protectionBlocks({ ...input, plan: now }),
    { kind: "heading", text: SAY.headings.questions },
    ...questionBlocks(plan, rulebook, confirmed),
    { kind: "heading", text: SAY.headings.requests },
    ...requestBlocks(now, rulebook, read.visit.confirmed),
    { kind: "heading", text: SAY.headings.cautions },
    ...safetyBlocks(plan, rulebook),
    ...noticeBlocks(plan),
    ...answering(asked, read.visit, rulebook, input.form !== undefined),
    {
      kind: "signature",
      text: SAY.with.signed(signer(read.visit), read.visit.policy.office.name),
    },
  ];
};

/** The letter to the vessel as plain blocks, in the order that the reader needs them. */
export const letterOf = (input: LetterInput): Letter => {
  const { plan, read } = input;
  const { office } = read.visit.policy;
  const number = read.visit.letters.length + 1;
  const subject = SAY.with.subject(plan.visit.vessel, plan.visit.place, windowWords(plan.visit.window));
  const to = recipients(read.visit);
  const told = changesTold(input.former, input);
  const blocks = bodyOf(input, told.blocks);
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
    changed: told.changed,
    blocks: [
      ...blocks,
      smallPrint(input, blocks, SAY.notes.cautionsArePractice, shortForms(blocks, to.join(" "))),
      ...(input.form === undefined ? [] : formBlocks(askedOf(plan, input.rulebook, confirmedIn(read.visit)), input.form.mark)),
    ],
  };
};
