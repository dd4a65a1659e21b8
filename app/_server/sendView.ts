import type { Person } from "../../lib/access/accounts.ts";
import { longDate } from "../../lib/letter/words.ts";
import { letterMailText } from "../../lib/outside/letterMail.ts";
import type { Mailbox } from "../../lib/outside/mail.ts";
import { sentFor } from "../../lib/outside/sender.ts";
import type { StoredVisit } from "../../lib/store/store.ts";
import { endingOf } from "../../lib/usecases/exchange/ending.ts";
import { type About, aboutSent } from "../../lib/usecases/exchange/mailed.ts";
import { knownIn, leftOut, leftOutWords, type TypedRecipients, withoutAddress } from "../../lib/usecases/exchange/recipients.ts";
import { linkExpires } from "../../lib/usecases/exchange/send.ts";
import { type Stage, settlementNow } from "../../lib/usecases/exchange/standing.ts";
import type { Office } from "../../lib/usecases/office.ts";
import type { Planned } from "../../lib/usecases/planFile.ts";
import { fileOfVisit } from "../../lib/usecases/visits/planVisit.ts";
import { senderOf } from "./letters.ts";
import { FURTHER, type KeptSending } from "./sendForm.ts";

/** A thing to be told before a letter is sent; with `count` the day to count from can be set to today. */
export interface Doubt {
  readonly says: string;
  readonly count?: true;
}

/** What stands in the way of sending, or at least wants a look. */
const doubtsOf = ({ plan }: Planned, before: readonly Stage[], { now, url, urlGiven }: Told): readonly Doubt[] => {
  const today = now.slice(0, 10);
  const { preparedOn, replyBy } = plan.visit;
  const last = before.at(-1);
  const past = replyBy < today ? `, and it would ask for a reply by ${longDate(replyBy)}, which is past` : "";
  return [
    ...(preparedOn === today ? [] : [{ says: `The letter counts its days from ${longDate(preparedOn)}${past}.`, count: true as const }]),
    ...(last === undefined || last.sent.kind === "letter"
      ? []
      : [{ says: `The exchange was ended by letter ${last.sent.number}; another letter opens it again.` }]),
    ...(last?.sent.kind !== "letter" || last.reply.taken !== undefined
      ? []
      : [
          {
            says:
              last.reply.confirmed === undefined
                ? `Letter ${last.sent.number} still waits for its reply; another letter beside it asks the vessel twice.`
                : `The reply to letter ${last.sent.number} came and is not taken in yet; this letter would not know of it.`,
          },
        ]),
    ...(urlGiven
      ? []
      : [
          {
            says: `The private links begin with ${url}, since this office was not told its address (FOREHAIL_URL); the ship must reach it.`,
          },
        ]),
  ];
};

interface Told {
  readonly now: string;
  readonly url: string;
  readonly urlGiven: boolean;
}

const LINK = "(the private link of each recipient stands here)";

/** The text of the mails as they would go out, but for what is each recipient's own. */
const mailShown = (about: About, from: Mailbox, replyBy: string, settled: boolean): string => {
  const own = { to: { name: "(name of the recipient)", address: "" }, from };
  const files = { pdf: new Uint8Array(), calendar: "", messageId: "", date: "" };
  const what = settled ? { ends: "settled" as const, calledOff: false } : { link: LINK, replyBy };
  return letterMailText({ ...about, ...own, ...files, ...what });
};

/** Who is about to send, and what he typed last that could not be sent. */
interface Sending {
  readonly kept: KeptSending | null;
  readonly person: Person;
}

/** What the letter's page shows of sending the letter of a visit that can be planned. */
export const sendView = async (office: Office, stored: StoredVisit, planned: Planned, { kept, person }: Sending) => {
  const { store, planner, world, post, url, urlGiven } = office;
  const { plan, read } = planned;
  const { people } = read.visit.visit;
  const number = read.visit.letters.length + 1;
  const letters = await Promise.all((await store.sentOf(stored.id)).map(async (sent) => ({ sent, reply: await store.replyOf(sent.id) })));
  const about = aboutSent(fileOfVisit(stored, planner), plan, number);
  const from = senderOf(person);
  const known = knownIn(people);
  const others = (letters.at(-1)?.sent.to ?? []).filter(({ address }) => !known.some((one) => one.address === address));
  const typed: TypedRecipients = kept ?? {
    known: known.map(({ place }) => place),
    // Whom the last letter went to besides, this one goes to as well, unless he is taken out.
    further: FURTHER.map((_, place) => others[place] ?? { name: "", address: "" }),
  };
  const last = letters.at(-1)?.sent;
  const chosen = [...known.filter(({ place }) => typed.known.includes(place)), ...typed.further];
  const left = last === undefined ? [] : leftOut(last.to, chosen);
  const settled = (await settlementNow(store, stored, planner))?.settlement.settled === true;
  const now = world.now();
  return {
    number,
    office: about.office,
    /** Who sends it for whom, where that is not the inspector who signs it; else empty. */
    sentFor: sentFor({ ...about, from }),
    bySmtp: post.how === "sent",
    replyBy: plan.visit.replyBy,
    /** Why nothing can be sent as it stands; null where it can. */
    past: linkExpires(plan.visit) <= now ? plan.visit.window.to : null,
    doubts: doubtsOf(planned, letters, { now, url, urlGiven }),
    form: {
      number,
      settled,
      known,
      without: withoutAddress(people),
      typed,
      left: last === undefined || left.length === 0 ? "" : leftOutWords(left, last.number),
      mailText: mailShown(about, from, plan.visit.replyBy, settled),
      further: FURTHER,
      ending: number > 1 && !settled ? await endingOf({ store, stored }, planned, planner.rulebook) : null,
    },
  };
};

export type SendView = Awaited<ReturnType<typeof sendView>>;
