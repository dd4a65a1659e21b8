import type { Visit } from "../model/visit.ts";
import { listAnd } from "../plan/say.ts";
import type { Plan } from "../plan/schema.ts";
import { shortForms } from "./abbreviations.ts";
import { asksBlock } from "./asks.ts";
import { assumedBlocks } from "./assumed.ts";
import type { Block, Letter } from "./blocks.ts";
import { type PlanInput, protectionBlocks } from "./protections.ts";
import { askedNow, questionBlocks } from "./questions.ts";
import { requestBlocks } from "./requests.ts";
import { noticeBlocks, safetyBlocks } from "./safety.ts";
import { STATEMENT, smallPrint } from "./sheet.ts";
import { longDate, windowWords } from "./words.ts";

export type LetterInput = PlanInput;

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

const answering = (plan: Plan, visit: Visit): readonly Block[] => [
  { kind: "heading", text: "How to answer" },
  {
    kind: "bullets",
    items: [
      `Reply to ${visit.policy.office.contact ?? visit.policy.office.name} by ${longDate(plan.visit.replyBy)}. A plain e-mail with lines like “Q3: dry” or “R2: yes, aboard” is an answer. Give numbers with their unit. References stay the same in all letters.`,
      `For this office ${peopleOn(visit, "office")} may agree; for the vessel ${peopleOn(visit, "vessel")}.`,
      "Without an answer: what is not known by that day stays as proposed, and the first way that can be arranged is taken. What cannot be arranged is tested another time and recorded as not proven.",
      "Please adjust, calibrate and replace nothing beforehand. If it was done, tell us what and when.",
      "On the day the hand stop at the engine is proven first. Anyone may stop the work at any time.",
      "If a test fails, the set is isolated and repaired and the test done again; chief engineer, superintendent and this office are told the same day.",
    ],
  },
];

const recipients = (visit: Visit): readonly string[] => {
  const { vessel, people } = visit.visit;
  return [
    ...(vessel.owner === undefined ? [] : [vessel.owner]),
    ...people.filter(({ side }) => side === "vessel").map(({ name, role }) => called(name, role)),
    `${vessel.name}${vessel.imo === undefined ? "" : ` (IMO number ${vessel.imo})`}`,
  ];
};

const bodyOf = (input: LetterInput): readonly Block[] => {
  const { plan, read, rulebook, units } = input;
  return [
    { kind: "heading", text: "What we ask of you" },
    asksBlock({ plan: { ...plan, questions: askedNow(plan) }, rulebook }),
    { kind: "heading", text: "What we have assumed" },
    ...assumedBlocks(plan, read.answers, rulebook, units),
    { kind: "heading", text: "How each protection will be proven" },
    ...protectionBlocks(input),
    { kind: "heading", text: "Questions" },
    ...questionBlocks(plan, rulebook),
    { kind: "heading", text: "Requests" },
    ...requestBlocks(plan, rulebook),
    { kind: "heading", text: "Cautions" },
    ...safetyBlocks(plan, rulebook),
    ...noticeBlocks(plan),
    ...answering(plan, read.visit),
  ];
};

/** The letter to the vessel as plain blocks, in the order that the reader needs them. */
export const letterOf = (input: LetterInput): Letter => {
  const { plan, read } = input;
  const { office } = read.visit.policy;
  const number = read.visit.letters.length + 1;
  const subject = `Tests of generating sets on ${plan.visit.vessel}, ${plan.visit.place}, ${windowWords(plan.visit.window)}`;
  const to = recipients(read.visit);
  const blocks = bodyOf(input);
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
    blocks: [...blocks, smallPrint(input, blocks, shortForms(blocks, to.join(" ")))],
  };
};
