import { markOf, newCode } from "../../../../../../lib/access/invitation.ts";
import { OPEN_LASTS } from "../../../../../../lib/access/replyLink.ts";
import { onLetter } from "../../../../../_server/exchange.ts";
import { said, see, writeOfVisit } from "../../../../../_server/gate.ts";
import { replyCookie } from "../../../../../_server/replyCookie.ts";

/** Opens the vessel's own page for the inspector, who fills it in by what he was told or sent on paper. */
export const POST = writeOfVisit(
  "POST /visits/[visit]/exchange/[sent]/key-in",
  onLetter(async ({ office, by, person, log }, sent, page) => {
    const { confirmed } = await office.store.replyOf(sent.id);
    if (confirmed !== undefined) return see(`${page}?${said(office, { problem: "The reply to this letter was confirmed already" })}`);
    const mark = markOf(newCode());
    await office.store.keepLink({
      mark,
      sent: sent.id,
      recipient: `${person.name}, on behalf of the vessel`,
      madeAt: by.when,
      expiresAt: new Date(office.clock() + OPEN_LASTS).toISOString(),
    });
    await log("reply keyed in on behalf of the vessel", sent.visit, `letter ${sent.number}`);
    return see("/reply", [replyCookie(mark, office)]);
  }),
);
