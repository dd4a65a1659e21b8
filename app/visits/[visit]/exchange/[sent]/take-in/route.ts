import { decidedBy, keepChoice, shownMark, undecidedIn } from "../../../../../../lib/usecases/exchange/choice.ts";
import { takeInReply, takingIn, weighReply } from "../../../../../../lib/usecases/exchange/takeIn.ts";
import { choiceIn, rescueChoice } from "../../../../../_server/choiceForm.ts";
import { onLetter } from "../../../../../_server/exchange.ts";
import { said, see, textIn, writeOfVisit } from "../../../../../_server/gate.ts";

const NOT_SHOWN =
  "Nothing was taken in yet: what you chose, or the visit, is not what was shown before. What it changes is shown now; look at it, then take it in";

export const POST = writeOfVisit(
  "POST /visits/[visit]/exchange/[sent]/take-in",
  onLetter(async ({ office, form, by, stored, log }, sent, page) => {
    const { store, planner } = office;
    const replying = { visit: stored.id, sent: sent.id };
    const weighed = await weighReply({ store, planner }, stored, sent);
    if (!weighed.ok || weighed.value.done) return see(page);
    const items = weighed.value.weighed;
    const choice = choiceIn(form, items);
    await keepChoice(store, replying, choice, by);
    if (undecidedIn(items, choice).length > 0) return see(`${page}?tried=1#problems`);
    // What is wrong with the choice is told at its field, before whether it is what was shown.
    if (!takingIn(stored, { ...weighed.value, planner }, decidedBy(items, choice)).ok) return see(`${page}?tried=1#problems`);
    if (shownMark(choice, stored) !== textIn(form, "shown")) return see(`${page}?${said(office, { problem: NOT_SHOWN })}#problems`);
    const taken = await takeInReply({ store, planner }, stored, sent, decidedBy(items, choice), by);
    if (!taken.ok) {
      await log("refused", stored.id, `taking in the reply to letter ${sent.number}: ${taken.faults.join("; ")}`.slice(0, 500));
      return see(`${page}?tried=1&${said(office, { problem: taken.faults.join("\n") })}#problems`);
    }
    await keepChoice(store, replying, null, by);
    const { taken: refs, left } = taken.value;
    await log(
      "reply taken in",
      stored.id,
      `letter ${sent.number}: taken ${refs.join(", ") || "nothing"}; left ${left.join(", ") || "nothing"}`,
    );
    return see(page);
  }),
  rescueChoice,
);
