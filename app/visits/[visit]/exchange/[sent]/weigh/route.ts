import { keepChoice } from "../../../../../../lib/usecases/exchange/choice.ts";
import { weighReply } from "../../../../../../lib/usecases/exchange/takeIn.ts";
import { choiceIn, rescueChoice } from "../../../../../_server/choiceForm.ts";
import { onLetter } from "../../../../../_server/exchange.ts";
import { see, writeOfVisit } from "../../../../../_server/gate.ts";

export const POST = writeOfVisit(
  "POST /visits/[visit]/exchange/[sent]/weigh",
  onLetter(async ({ office, form, by, stored }, sent, page) => {
    const { store, planner } = office;
    const weighed = await weighReply({ store, planner }, stored, sent);
    // Where there is nothing to weigh any more, the page itself says why.
    if (weighed.ok && !weighed.value.done)
      await keepChoice(store, { visit: stored.id, sent: sent.id }, choiceIn(form, weighed.value.weighed), by);
    return see(`${page}#changes`);
  }),
  rescueChoice,
);
