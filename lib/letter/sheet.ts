import type { Block, Letter } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { markMeanings } from "./marks.ts";
import type { PlanInput } from "./protections.ts";
import { longDate, windowWords } from "./words.ts";

/** What stands at the foot of every page of every paper. */
export const STATEMENT =
  "Forehail plans; the ship's people and qualified technicians perform, the inspector witnesses. Local rules, class and maker come first.";

/** Which rulebook a paper was made with, and what the marks in it mean. */
export const smallPrint = ({ plan }: PlanInput, blocks: readonly Block[], ...besides: readonly string[]): Block => ({
  kind: "paragraph",
  text: [markMeanings(blocks), ...besides, SAY.with.planned(plan.rulebook.version, plan.rulebook.digest)]
    .filter((part) => part !== "")
    .join(" "),
  tone: "fine",
});

/** A paper of the office that is no letter: the plan for the inspector, a technician's sheet. */
export const sheetOf = (input: PlanInput, name: string, blocks: readonly Block[]): Letter => {
  const { plan, read } = input;
  const { office } = read.visit.policy;
  const subject = `${name}: ${plan.visit.vessel}, ${plan.visit.place}, ${windowWords(plan.visit.window)}`;
  return {
    title: subject,
    subject,
    date: longDate(plan.visit.preparedOn),
    isoDate: plan.visit.preparedOn,
    paper: read.visit.policy.paper,
    reference: [plan.visit.reference, name.toLowerCase()].filter((part) => part !== undefined).join(", "),
    office: { name: office.name, address: office.address, contact: office.contact ?? "" },
    to: [],
    statement: STATEMENT,
    blocks: [...blocks, smallPrint(input, blocks)],
  };
};
