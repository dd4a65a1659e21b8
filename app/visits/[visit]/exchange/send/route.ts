import type { Tell } from "../../../../../lib/letter/render.ts";
import { longDate } from "../../../../../lib/letter/words.ts";
import type { SentLetter } from "../../../../../lib/store/exchanges.ts";
import { alone } from "../../../../../lib/usecases/alone.ts";
import { finishSending, namesOf, sendingAct } from "../../../../../lib/usecases/exchange/finish.ts";
import { leftOut, leftOutWords, recipientsIn } from "../../../../../lib/usecases/exchange/recipients.ts";
import { linkExpires, sendLetter, type ToSend } from "../../../../../lib/usecases/exchange/send.ts";
import { keepStandingOf, settlementNow } from "../../../../../lib/usecases/exchange/standing.ts";
import { putOnce } from "../../../../../lib/usecases/toldOnce.ts";
import { planVisit } from "../../../../../lib/usecases/visits/planVisit.ts";
import { said, see, textIn, type WritingVisit, writeOfVisit } from "../../../../_server/gate.ts";
import { goesOnInTurn } from "../../../../_server/inTurn.ts";
import { senderOf, sendingFrom, unitsIn } from "../../../../_server/letters.ts";
import { type KeptSending, type OnceLinks, recipientsTyped, sendingPage } from "../../../../_server/sendForm.ts";

type Faults = KeptSending["faults"];

const one = (field: string, says: string): Faults => [{ field, says }];

/** Back to the letter with what was typed and what is wrong with it. */
const again = async ({ office, form, stored, by }: WritingVisit, faults: Faults): Promise<string> => {
  const kept: KeptSending = JSON.parse(JSON.stringify({ ...recipientsTyped(form), faults }));
  await office.store.keepTyped(sendingPage(stored.id), JSON.stringify(kept), by);
  return `/visits/${stored.id}/letter?again=1&units=${unitsIn(textIn(form, "units"))}#problems`;
};

/** Where the exchange tells links that are told once. */
const withLinks = async ({ office, stored, person }: WritingVisit, links: OnceLinks["links"]): Promise<string> =>
  `/visits/${stored.id}/exchange?links=${await putOnce(office, person.id, { visit: stored.id, links } satisfies OnceLinks)}`;

/** A letter that was sent before is not sent again; where the program was stopped at its mails, these are handed over now. */
const sentAlready = async (writing: WritingVisit, letter: SentLetter): Promise<string> => {
  const { office, stored, person, by, log } = writing;
  // Two presses of one person are never at it at once; somebody else's letter may still be under way.
  const finished = letter.who === person.id ? await finishSending(sendingFrom(office), letter, senderOf(person), by) : null;
  if (finished === null)
    return `/visits/${stored.id}/exchange?${said(office, { done: `Letter ${letter.number} was sent already; nothing was sent again.` })}`;
  await log("letter sent", stored.id, `letter ${letter.number}, mails that were left, to ${namesOf(letter, finished)}`);
  return finished.links.length > 0
    ? withLinks(writing, finished.links)
    : `/visits/${stored.id}/exchange?${said(office, { done: `The mails of letter ${letter.number} that were left are handed over now.` })}`;
};

/** What keeps the letter from going out as it was asked for; nothing where all is well. */
const against = async (
  { office, form, stored, by }: WritingVisit,
  kind: string,
  days: Parameters<typeof linkExpires>[0],
): Promise<Faults> => {
  if (Number(textIn(form, "version")) !== stored.version)
    return one("send-now", "The visit was changed after you opened this page. Look at the letter again, then send it");
  if (linkExpires(days) <= by.when)
    return one("send-now", `Days of the visit: the last is ${longDate(days.window.to)}, which is past; wanted: days to come`);
  if (kind === "not settled" && !form.has("end"))
    return one("end", "I mean to end it: not ticked, so nothing was sent; wanted: a tick, where you mean it");
  if (kind === "settled" && (await settlementNow(office.store, stored, office.planner))?.settlement.settled !== true)
    return one("send-now", "The visit is not settled any more. Look at the exchange again, then send a letter");
  return [];
};

/** Sends the letter and says where to go on. */
const send = async (writing: WritingVisit, number: number, tell: Tell): Promise<string> => {
  const { office, form, stored, person, by, log } = writing;
  const before = await office.store.sentOf(stored.id);
  const own = before.find((letter) => letter.number === number);
  if (own !== undefined) return sentAlready(writing, own);
  const planned = planVisit(stored, office.planner);
  if (!planned.ok) return `/visits/${stored.id}/letter`;
  const { people } = planned.value.read.visit.visit;
  const kind = (["settled", "not settled"] as const).find((name) => name === textIn(form, "kind")) ?? "letter";
  const to = recipientsIn(people, recipientsTyped(form));
  const faults = [...(to.ok ? [] : to.faults), ...(await against(writing, kind, planned.value.plan.visit))];
  if (!to.ok || faults.length > 0) return again(writing, faults);
  const last = before.at(-1);
  const left = last === undefined ? [] : leftOut(last.to, to.value);
  if (last !== undefined && left.length > 0 && !form.has("left")) return again(writing, one("left", leftOutWords(left, last.number)));
  const toSend: ToSend = { to: to.value, units: unitsIn(textIn(form, "units")), from: senderOf(person), kind };
  const sent = await sendLetter(sendingFrom(office, tell), stored, toSend, by);
  if (!sent.ok) {
    const other = (await office.store.sentOf(stored.id)).find((letter) => letter.number === number);
    if (other !== undefined) return sentAlready(writing, other);
    await log("refused", stored.id, `sending letter ${number}: ${sent.faults.join("; ")}`.slice(0, 500));
    return again(writing, one("send-now", `It was not sent: ${sent.faults.slice(0, 8).join("; ")}`));
  }
  await keepStandingOf(office.store, office.planner, stored.id);
  await office.store.keepTyped(sendingPage(stored.id), null, by);
  await log("letter sent", stored.id, `letter ${number}, ${kind}, to ${to.value.map(({ name }) => name).join(", ")}`);
  return withLinks(writing, sent.value.links);
};

/** Pressed twice while the first is under way it is done once, and both are answered alike. */
export const POST = writeOfVisit(
  "POST /visits/[visit]/exchange/send",
  async (writing) => {
    const { office, form, stored, person } = writing;
    const number = Number(textIn(form, "number"));
    return goesOnInTurn(writing.request, `/visits/${stored.id}/exchange`, async (tell) =>
      see(
        await alone(office, sendingAct({ visit: stored.id, number, who: person.id }), textIn(form, "token"), () =>
          send(writing, number, tell),
        ),
      ),
    );
  },
  async ({ office, form, params }, person) => {
    const kept: KeptSending = JSON.parse(JSON.stringify({ ...recipientsTyped(form), faults: [] }));
    const by = { who: person, when: office.world.now() };
    await office.store.keepTyped(sendingPage(String(params["visit"])), JSON.stringify(kept), by);
  },
);
