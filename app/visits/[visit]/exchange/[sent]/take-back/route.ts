import { choiceOf, keepChoice } from "../../../../../../lib/usecases/exchange/choice.ts";
import { TAKEN_BACK } from "../../../../../../lib/usecases/exchange/record.ts";
import { takeBack, weighReply } from "../../../../../../lib/usecases/exchange/takeIn.ts";
import { onLetter } from "../../../../../_server/exchange.ts";
import { said, see, writeOfVisit } from "../../../../../_server/gate.ts";

/** Takes back that a reply was taken in; what had been chosen stands chosen again, to be decided anew. */
export const POST = writeOfVisit(
  "POST /visits/[visit]/exchange/[sent]/take-back",
  onLetter(async ({ office, by, stored, log }, sent, page) => {
    const { store, planner } = office;
    const back = await takeBack({ store, planner }, stored, sent, by);
    if (!back.ok) return see(`${page}?${said(office, { problem: back.faults.join("; ") })}#problems`);
    await log(TAKEN_BACK, stored.id, `letter ${sent.number}: as before it was taken in`);
    const again = await store.visit(stored.id);
    const weighed = again === null ? null : await weighReply({ store, planner }, again, sent);
    if (weighed?.ok === true) await keepChoice(store, { visit: stored.id, sent: sent.id }, choiceOf(weighed.value.weighed, back.value), by);
    return see(page);
  }),
);
