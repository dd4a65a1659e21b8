import { LONGEST_MAIL } from "../../../../../../lib/reply/fromMail.ts";
import { readPastedMail } from "../../../../../../lib/usecases/exchange/loadReply.ts";
import { onLetter } from "../../../../../_server/exchange.ts";
import { see, textIn, writeOfVisit } from "../../../../../_server/gate.ts";

const LONGEST_NAME = 200;

export const POST = writeOfVisit(
  "POST /visits/[visit]/exchange/[sent]/read",
  onLetter(async ({ office, form, by, log }, sent, page) => {
    // A little more than is read, so that too long a message is told to be too long.
    const mail = {
      text: textIn(form, "mail").slice(0, LONGEST_MAIL + 1),
      name: textIn(form, "name").slice(0, LONGEST_NAME),
      role: textIn(form, "role").slice(0, LONGEST_NAME),
    };
    const read = await readPastedMail({ store: office.store, rulebook: office.planner.rulebook }, sent, mail, by);
    await log(read.reply === undefined ? "refused" : "reply read", sent.visit, `letter ${sent.number}, pasted message`);
    return see(`${page}#read`);
  }),
);
