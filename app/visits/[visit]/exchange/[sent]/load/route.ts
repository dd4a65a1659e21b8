import { ownersFor } from "../../../../../../lib/access/roles.ts";
import { readFilledForm } from "../../../../../../lib/usecases/exchange/loadReply.ts";
import { onLetter } from "../../../../../_server/exchange.ts";
import { said, see, textIn, writeOfVisit } from "../../../../../_server/gate.ts";

const LONGEST_NAME = 120;

export const POST = writeOfVisit(
  "POST /visits/[visit]/exchange/[sent]/load",
  onLetter(async ({ office, form, by, person, log }, sent, page) => {
    const { store, planner, readForm } = office;
    const file = form.get("file");
    if (!(file instanceof File) || file.size === 0)
      return see(
        `${page}?${said(office, { problem: "Filled form: no file is chosen, or an empty one; wanted: the PDF letter with its form filled in" })}`,
      );
    const owners = ownersFor(person);
    const name = file.name.slice(0, LONGEST_NAME);
    const bytes = new Uint8Array(await file.arrayBuffer());
    const read = await readFilledForm(
      { store, rulebook: planner.rulebook, readForm },
      sent,
      {
        bytes,
        file: name,
        name: textIn(form, "name").slice(0, LONGEST_NAME),
        visible: owners === null ? {} : { owner: owners },
      },
      by,
    );
    await log(read.reply === undefined ? "refused" : "reply read", sent.visit, `letter ${sent.number}, form ${name}`);
    return see(`${page}#read`);
  }),
);
