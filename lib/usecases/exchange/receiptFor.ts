import { failure, type Result, success } from "../../kernel/result.ts";
import type { Letter } from "../../letter/blocks.ts";
import { receiptOf } from "../../letter/receipt.ts";
import { messageOf } from "../../model/fault.ts";
import { readVisit } from "../../model/read.ts";
import { replySchema } from "../../model/reply.ts";
import type { Planner } from "../../plan/plan.ts";
import type { SentLetter } from "../../store/exchanges.ts";
import type { Store } from "../../store/store.ts";
import { askedThen } from "./askedStored.ts";

/** The receipt of the reply to a letter, from what is kept of both. Fails where the reply is not confirmed yet. */
export const receiptFor = async (
  { store, planner }: { readonly store: Store; readonly planner: Planner },
  sent: SentLetter,
): Promise<Result<Letter>> => {
  const [made, { confirmed }] = await Promise.all([store.made(sent.made), store.replyOf(sent.id)]);
  const reply = replySchema.safeParse(confirmed?.reply);
  if (made === null || confirmed === undefined || !reply.success) return failure("the reply is not confirmed yet");
  // The file that the letter was made from: what the office and the vessel were called then.
  const read = readVisit(JSON.parse(made.file), planner.rulebook.facts, planner.known);
  if (!read.ok) return failure(...read.faults.map(messageOf));
  const { visit, policy } = read.value.visit;
  return success(
    receiptOf({
      office: { name: policy.office.name, address: policy.office.address, contact: policy.office.contact ?? "" },
      vessel: visit.vessel.name,
      reference: visit.reference,
      number: sent.number,
      asked: askedThen(sent.asked),
      reply: reply.data,
      confirmedAt: confirmed.when,
      confirmedBy: confirmed.who,
      attachments: await store.attachmentsOf(sent.id),
      paper: policy.paper,
    }),
  );
};
