import { alone } from "../../../../../lib/usecases/alone.ts";
import { renewLink, withdrawLink } from "../../../../../lib/usecases/exchange/links.ts";
import { putOnce } from "../../../../../lib/usecases/toldOnce.ts";
import { said, see, textIn, type WritingVisit, writeOfVisit } from "../../../../_server/gate.ts";
import { senderOf, sendingFrom } from "../../../../_server/letters.ts";
import type { OnceLinks } from "../../../../_server/sendForm.ts";

/** How a link's field is called on the page. */
const fieldOf = (mark: string): string => `until-${mark.slice(0, 10)}`;

const act = async (writing: WritingVisit): Promise<string> => {
  const { office, form, stored, person, by, log } = writing;
  const here = `/visits/${stored.id}/exchange`;
  const back = (message: Parameters<typeof said>[1]): string => `${here}?${said(office, message)}`;
  const sent = await office.store.sent(textIn(form, "sent"));
  const [mark, until] = [textIn(form, "mark"), textIn(form, "until").slice(0, 60)];
  if (sent === null || sent.visit !== stored.id) return back({ problem: "There is no such letter of this visit" });
  if (textIn(form, "act") === "withdraw") {
    const withdrawn = await withdrawLink(office.store, sent, mark, by);
    if (!withdrawn.ok) return back({ problem: withdrawn.faults.join("; ") });
    await log("link withdrawn", stored.id, `letter ${sent.number}, ${withdrawn.value.recipient}`);
    return back({ done: `Every link of ${withdrawn.value.recipient} to this letter is withdrawn and opens nothing any more.` });
  }
  const renewed = await renewLink(sendingFrom(office), sent, { mark, until, mail: form.has("mail"), from: senderOf(person) }, by);
  if (!renewed.ok) return `${back({ problem: renewed.faults.join("; "), field: fieldOf(mark), typed: until })}#problems`;
  const { told, delivery } = renewed.value;
  await log("link renewed", stored.id, `letter ${sent.number}, ${told.to.name}${delivery === null ? "" : `, mail ${delivery.how}`}`);
  const links: OnceLinks = { visit: stored.id, links: [told] };
  return `${here}?links=${await putOnce(office, person.id, links)}`;
};

/** Renews or withdraws a link; pressed twice it is done once. */
export const POST = writeOfVisit("POST /visits/[visit]/exchange/link", async (writing) => {
  const { office, form, stored, person } = writing;
  return see(
    await alone(office, `link ${stored.id} ${textIn(form, "act")} ${textIn(form, "mark")} ${person.id}`, textIn(form, "token"), () =>
      act(writing),
    ),
  );
});
