import type { ReadVisit } from "../model/read.ts";
import type { Visit } from "../model/visit.ts";
import { listAnd } from "../plan/say.ts";
import type { Plan } from "../plan/schema.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { UnitSystem } from "../units/units.ts";
import { asksBlock } from "./asks.ts";
import { assumedBlocks } from "./assumed.ts";
import type { Block, Letter } from "./blocks.ts";
import { protectionBlocks } from "./protections.ts";
import { questionBlocks } from "./questions.ts";
import { requestBlocks } from "./requests.ts";
import { noticeBlocks, safetyBlocks } from "./safety.ts";
import { longDate } from "./words.ts";

export interface LetterInput {
  readonly plan: Plan;
  readonly read: ReadVisit;
  readonly rulebook: Rulebook;
  readonly units: UnitSystem;
}

const windowWords = ({ from, to }: Plan["visit"]["window"]): string =>
  from === to ? longDate(from) : `${longDate(from)} to ${longDate(to)}`;

const peopleOn = (visit: Visit, side: "office" | "vessel"): string => {
  const people = visit.visit.people
    .filter((person) => person.side === side)
    .map(({ name, role }) => (name.toLowerCase().endsWith(role.toLowerCase()) ? name : `${name} (${role})`));
  return people.length === 0 ? (side === "office" ? "the inspector" : "the superintendent or the chief engineer") : listAnd(people);
};

const answering = (plan: Plan, visit: Visit): readonly Block[] => [
  { kind: "heading", text: "How to answer" },
  {
    kind: "bullets",
    items: [
      `Reply to ${visit.policy.office.contact ?? visit.policy.office.name} by ${longDate(plan.visit.replyBy)}. A plain e-mail with lines like “Q3: dry” or “R2: yes, aboard” is an answer. References stay the same in all letters.`,
      `For this office ${peopleOn(visit, "office")} may agree; for the vessel ${peopleOn(visit, "vessel")}.`,
      "Without an answer the plan stays as proposed. What is then not known or not arranged on the day is not tested and is recorded as not proven.",
      "Please do not adjust, calibrate or replace anything beforehand. If it was done already, tell us what and when.",
      "If a test fails, the set is isolated and repaired and the test done again; chief engineer, superintendent and this office are told the same day.",
      "The ship's people and qualified technicians perform the tests, the inspector witnesses. Anyone may stop the work at any time. Local rules, class and maker come first.",
    ],
  },
];

const recipients = (visit: Visit): readonly string[] => {
  const { vessel, people } = visit.visit;
  const vesselSide = people
    .filter(({ side }) => side === "vessel")
    .map(({ name, role }) => (name.toLowerCase().endsWith(role.toLowerCase()) ? name : `${name}, ${role}`));
  return [
    ...(vessel.owner === undefined ? [] : [vessel.owner]),
    ...vesselSide,
    `${vessel.name}${vessel.imo === undefined ? "" : ` (IMO number ${vessel.imo})`}`,
  ];
};

/** The letter to the vessel as plain blocks, in the order that the reader needs them. */
export const letterOf = ({ plan, read, rulebook, units }: LetterInput): Letter => {
  const { visit } = read;
  const office = visit.policy.office;
  const number = visit.letters.length + 1;
  const subject = `Tests of generating sets on ${plan.visit.vessel}, ${plan.visit.place}, ${windowWords(plan.visit.window)}`;
  return {
    title: `Letter ${number}: ${subject}`,
    subject,
    date: longDate(plan.visit.preparedOn),
    isoDate: plan.visit.preparedOn,
    reference: [plan.visit.reference, `letter ${number}`].filter((part) => part !== undefined).join(", "),
    office: { name: office.name, address: office.address, contact: office.contact ?? "" },
    to: recipients(visit),
    blocks: [
      { kind: "heading", text: "What we ask of you" },
      asksBlock(plan),
      { kind: "heading", text: "What we have assumed" },
      ...assumedBlocks(plan, read.answers, rulebook, units),
      { kind: "heading", text: "How each protection will be proven" },
      ...protectionBlocks(plan, rulebook, units),
      { kind: "heading", text: "Questions" },
      ...questionBlocks(plan, rulebook),
      { kind: "heading", text: "Requests" },
      ...requestBlocks(plan, rulebook),
      { kind: "heading", text: "Cautions" },
      ...safetyBlocks(plan, rulebook),
      ...noticeBlocks(plan),
      ...answering(plan, visit),
      {
        kind: "paragraph",
        text: `Figures marked as common practice or from memory have no published source that we have read. Plan made by rulebook ${plan.rulebook.version}, digest ${plan.rulebook.digest}.`,
        tone: "quiet",
      },
    ],
  };
};
