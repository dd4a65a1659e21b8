import { alone } from "../../../../../lib/usecases/alone.ts";
import { remind } from "../../../../../lib/usecases/exchange/remind.ts";
import { putOnce } from "../../../../../lib/usecases/toldOnce.ts";
import { said, see, textIn, type WritingVisit, writeOfVisit } from "../../../../_server/gate.ts";
import { senderOf, sendingFrom } from "../../../../_server/letters.ts";
import type { OnceLinks } from "../../../../_server/sendForm.ts";

const act = async (writing: WritingVisit): Promise<string> => {
  const { office, form, stored, person, by, log } = writing;
  const here = `/visits/${stored.id}/exchange`;
  const sent = await office.store.sent(textIn(form, "sent"));
  if (sent === null || sent.visit !== stored.id) return `${here}?${said(office, { problem: "There is no such letter of this visit" })}`;
  const reminded = await remind(sendingFrom(office), sent, senderOf(person), by);
  if (!reminded.ok) return `${here}?${said(office, { problem: `Not reminded: ${reminded.faults.join("; ")}` })}`;
  const { told, deliveries } = reminded.value;
  const how = deliveries.map(({ address, how: became }) => `${address} ${became}`).join(", ");
  await log("reminded", stored.id, `letter ${sent.number}: ${how}`.slice(0, 500));
  const links: OnceLinks = { visit: stored.id, links: told };
  return told.length === 0
    ? `${here}?${said(office, { problem: "No reminder could be handed over; why is said with each mail below" })}`
    : `${here}?links=${await putOnce(office, person.id, links)}`;
};

/** Reminds of a letter; pressed twice it is done once. */
export const POST = writeOfVisit("POST /visits/[visit]/exchange/remind", async (writing) =>
  see(
    await alone(writing.office, `remind ${textIn(writing.form, "sent")} ${writing.person.id}`, textIn(writing.form, "token"), () =>
      act(writing),
    ),
  ),
);
