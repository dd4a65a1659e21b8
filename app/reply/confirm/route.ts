import { faultWords } from "../../../lib/reply/faultWords.ts";
import { readingOf } from "../../../lib/usecases/exchange/fillStep.ts";
import { confirmAsFilled } from "../../../lib/usecases/exchange/reply.ts";
import { writeOfReply } from "../../_server/replyGate.ts";
import { finishedPage, stepPage, todayOf } from "../../_server/replyPages.tsx";
import { saveStep } from "../../_server/replySave.ts";

/** Ends the exchange with the reply as it stands; pressed again, by whomever, it answers with the receipt. */
export const POST = writeOfReply("POST /reply/confirm", async (writing) => {
  const { at, by, log } = writing;
  const saved = await saveStep(writing);
  if (saved instanceof Response) return saved;
  if (saved.faults.length > 0) return stepPage(at, saved.from.id, saved);
  const { office, sent } = at;
  const confirmed = await confirmAsFilled(office.store, sent, readingOf(office.planner.rulebook, todayOf(at)), by);
  if (confirmed.ok) await log("reply confirmed", `letter ${sent.number}, by ${confirmed.value.by.name}`);
  const done = await finishedPage(at);
  if (done !== null) return done;
  return stepPage(at, "check", {
    faults: confirmed.ok ? [] : confirmed.faults.map((fault) => ({ ref: fault.at, says: faultWords(fault) })),
  });
});
