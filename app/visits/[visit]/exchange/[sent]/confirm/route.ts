import { CAME, confirmRead, putAside } from "../../../../../../lib/usecases/exchange/loadReply.ts";
import { onLetter } from "../../../../../_server/exchange.ts";
import { said, see, textIn, writeOfVisit } from "../../../../../_server/gate.ts";

export const POST = writeOfVisit(
  "POST /visits/[visit]/exchange/[sent]/confirm",
  onLetter(async ({ office, form, by, person, log }, sent, page) => {
    if (textIn(form, "act") === "put aside") {
      await putAside(office.store, sent, by);
      return see(page);
    }
    const confirmed = await confirmRead(office.store, sent, { name: person.name, shown: textIn(form, "shown") }, by);
    if (!confirmed.ok) return see(`${page}?${said(office, { problem: confirmed.faults.join("\n") })}`);
    const { way, file } = confirmed.value;
    await log("reply confirmed", sent.visit, `letter ${sent.number}, ${CAME[way]}${file === "" ? "" : ` ${file}`}`);
    return see(page);
  }),
);
