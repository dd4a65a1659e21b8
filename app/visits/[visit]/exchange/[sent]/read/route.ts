import { LONGEST_MAIL } from "../../../../../../lib/reply/fromMail.ts";
import { keepMail, type PastedMail, readPastedMail } from "../../../../../../lib/usecases/exchange/loadReply.ts";
import { onLetter } from "../../../../../_server/exchange.ts";
import { see, textIn, writeOfVisit } from "../../../../../_server/gate.ts";

const LONGEST_NAME = 200;

/** A message as it was pasted; a little more than is read, so that too long a message is told to be too long. */
const mailIn = (form: FormData): PastedMail => ({
  text: textIn(form, "mail").slice(0, LONGEST_MAIL + 1),
  name: textIn(form, "name").slice(0, LONGEST_NAME),
  role: textIn(form, "role").slice(0, LONGEST_NAME),
});

export const POST = writeOfVisit(
  "POST /visits/[visit]/exchange/[sent]/read",
  onLetter(async ({ office, form, by, log }, sent, page) => {
    const read = await readPastedMail({ store: office.store, rulebook: office.planner.rulebook }, sent, mailIn(form), by);
    await log(read.reply === undefined ? "refused" : "reply read", sent.visit, `letter ${sent.number}, pasted message`);
    return see(`${page}#read`);
  }),
  ({ office, form, params }, who) =>
    keepMail(office.store, { visit: String(params["visit"]), id: String(params["sent"]) }, mailIn(form), { who, when: office.world.now() }),
);
