import { basename } from "node:path";
import type { LetterView, LinkView, MailView } from "../../components/exchange/LetterCard.tsx";
import type { OpenPoint, WhereaboutsView } from "../../components/exchange/Whereabouts.tsx";
import { fieldId } from "../../components/form/QuestionField.tsx";
import { testAt } from "../../components/plan/address.ts";
import type { Message } from "../../lib/access/message.ts";
import { opens } from "../../lib/access/replyLink.ts";
import { pageOf } from "../../lib/flow/live.ts";
import { sizeWords } from "../../lib/letter/sizes.ts";
import { longDate } from "../../lib/letter/words.ts";
import { isEmail } from "../../lib/model/text.ts";
import { askedNowOf } from "../../lib/plan/places.ts";
import { capital } from "../../lib/plan/say.ts";
import type { PlanQuestion } from "../../lib/plan/schema.ts";
import type { Delivery, ReplyLink, SentLetter } from "../../lib/store/exchanges.ts";
import type { Standing, StoredVisit } from "../../lib/store/store.ts";
import { neverHandedOver } from "../../lib/usecases/exchange/finish.ts";
import { addressIn, lastDayOf } from "../../lib/usecases/exchange/links.ts";
import { CAME, type ReadReply } from "../../lib/usecases/exchange/loadReply.ts";
import { LATER, toldBy } from "../../lib/usecases/exchange/mailed.ts";
import type { LetterState } from "../../lib/usecases/exchange/overview.ts";
import { reminderAhead } from "../../lib/usecases/exchange/remind.ts";
import { confirmByOf, dueWords, type SettlementNow, standingOf, standingWords } from "../../lib/usecases/exchange/standing.ts";
import type { Office } from "../../lib/usecases/office.ts";
import { openVisit } from "../../lib/usecases/visits/visitDraft.ts";
import { instant } from "./words.ts";

/** What the words of the exchange need of the world. */
interface Saying {
  readonly nameOf: (id: string) => string;
  readonly now: string;
  /** The last day that a new link has by itself. */
  readonly usual: string;
  readonly said: Message;
}

/** The letter that has taken another's place. */
type Later = Pick<SentLetter, "kind" | "number"> | undefined;

const became = (delivery: Delivery, later: Later): string => {
  const { where, what } = toldBy(delivery);
  const when = instant(delivery.when);
  switch (delivery.how) {
    case "outbox":
      return `Laid into the outbox as ${basename(where)}, ${when}. Open it with a mail program and send it.`;
    case "sent":
      return `Taken by the mail server ${where}, ${when}`;
    case "failed":
      if (later !== undefined) return `Not handed over, ${when}: ${where}.`;
      return `Not handed over, ${when}: ${where}. Look whether the address is right and the mail server can be reached (SMTP_URL), then ${what === LATER.reminder ? "remind again" : "try again; or renew the link above and pass it on by hand"}.`;
  }
};

const mailsOf = ({ sent, deliveries: kept, links }: LetterState, saying: Saying, later: Later): readonly MailView[] => {
  const deliveries = [...kept, ...neverHandedOver(sent, kept, saying.now)];
  return deliveries.map((delivery, place): MailView => {
    const { address, how } = delivery;
    const { what } = toldBy(delivery);
    const name = sent.to.find((one) => one.address === address)?.name ?? "";
    const own = links.filter(({ recipient }) => recipient === name);
    const link = own.findLast((one) => opens(one, saying.now)) ?? own.at(-1);
    const latest = deliveries.findLast((one) => one.address === address) === delivery;
    return {
      key: `${place}`,
      to: name === "" ? address : `${name}, ${address}`,
      what: capital(what),
      became: became(delivery, later),
      ...(how === "failed" && later === undefined && what !== LATER.reminder && latest && link !== undefined
        ? { again: { mark: link.mark, until: untilOf(link, saying) } }
        : {}),
    };
  });
};

const untilOf = (link: ReplyLink, { now, usual }: Saying): string => {
  const own = lastDayOf(link);
  return own >= now.slice(0, 10) ? own : usual;
};

/** What a link still shows once a later letter has gone out: nothing can be filled in there any more. */
const replacedWords = ({ kind, number }: NonNullable<Later>, confirmed: boolean): string => {
  const what = kind === "letter" ? `letter ${number} has taken its place` : `letter ${number} ended the exchange`;
  return confirmed ? `shows only what was confirmed, and that ${what}` : `shows only that ${what}`;
};

const linkWords = (link: ReplyLink, saying: Saying): string => {
  if (link.withdrawnAt !== undefined) return `withdrawn ${instant(link.withdrawnAt)}`;
  return opens(link, saying.now) ? `opens until ${longDate(lastDayOf(link))}` : `opened until ${longDate(lastDayOf(link))}`;
};

/** The links that open, and of a recipient who has none of them the last one. */
const linksOf = ({ sent, links, reply }: LetterState, saying: Saying, later: Later): readonly LinkView[] =>
  sent.to.flatMap(({ name }) => {
    const own = links.filter(({ recipient }) => recipient === name);
    const standing = own.filter((link) => opens(link, saying.now));
    const shown = standing.length > 0 ? standing : own.slice(-1);
    const gone = own.length - shown.length;
    return shown.map((link, place): LinkView => {
      const id = `until-${link.mark.slice(0, 10)}`;
      const here = saying.said.field === id;
      const more = place > 0 || gone === 0 ? "" : `; ${gone === 1 ? "one earlier opens" : `${gone} earlier open`} nothing any more`;
      const address = addressIn(sent, name);
      return {
        mark: link.mark,
        id,
        recipient: name,
        says: `${later !== undefined && opens(link, saying.now) ? replacedWords(later, reply.confirmed !== undefined) : linkWords(link, saying)}, made ${instant(link.madeAt)}${more}`,
        stands: standing.length > 0,
        renews: later === undefined,
        address: isEmail(address) ? address : "",
        until: here ? (saying.said.typed ?? "") : untilOf(link, saying),
        fault: here ? saying.said.problem : undefined,
      };
    });
  });

const TITLES = {
  letter: "",
  settled: ": the visit is settled",
  "not settled": ": ended, not settled",
} as const;

const replyWords = ({ reply: { confirmed, taken }, progress: { filled, asked, last } }: LetterState, { nameOf }: Saying): string => {
  const by = ({ who, when }: { readonly who: string; readonly when: string }): string => `by ${nameOf(who)}, ${instant(when)}`;
  if (confirmed !== undefined) return `confirmed ${by(confirmed)}; ${taken === undefined ? "not taken in yet" : `taken in ${by(taken)}`}.`;
  if (filled === 0) return "nothing filled in yet.";
  return `${filled} of ${asked} filled in${last === undefined ? "" : `, last ${by(last)}`}.`;
};

const replyAct = ({ confirmed, taken }: LetterState["reply"]): string =>
  confirmed === undefined ? "Load or key in a reply" : taken === undefined ? "Take in the reply" : "See what was taken in";

/** What is said of a reply that was read and not confirmed; nothing where none was. */
const waitsOf = ({ reply }: LetterState, read: ReadReply | null): Pick<LetterView, "waits"> => {
  if (read?.reply === undefined) return {};
  const came = `${CAME[read.way]}${read.file === "" ? "" : ` ${read.file}`}`;
  const { questions, requests, tests, corrections = {} } = read.reply;
  const count = [questions, requests, tests, corrections].reduce((sum, one) => sum + Object.keys(one).length, 0);
  const answers = count === 1 ? "1 answer" : `${count} answers`;
  return {
    waits:
      reply.confirmed === undefined
        ? { says: `A reply read ${came} waits to be confirmed by you: ${answers}.`, words: "Look at it" }
        : { says: `A reply read ${came} was never confirmed: ${answers}.`, words: "See what it says otherwise" },
  };
};

/** What else is known of a letter: what was read of a reply to it and is not confirmed, and the letter that has taken its place, whose reply is waited for instead. */
interface Beside {
  readonly read: ReadReply | null;
  readonly later?: Later | undefined;
}

/** A letter that went out, as its page shows it. */
export const letterView = (state: LetterState, visit: string, saying: Saying, { read, later }: Beside): LetterView => {
  const { sent, reply, files } = state;
  const asks = sent.kind === "letter";
  return {
    id: sent.id,
    title: `Letter ${sent.number}${TITLES[sent.kind]}`,
    sent: `${instant(sent.when)}, by ${saying.nameOf(sent.who)}.`,
    to: sent.to.map(({ name }) => name).join(", "),
    paper: sent.made,
    ...(asks
      ? {
          due:
            reply.confirmed === undefined && later === undefined ? dueWords(sent.replyBy, saying.now.slice(0, 10)) : longDate(sent.replyBy),
          reply: capital(replyWords(state, saying)),
          ...(reply.confirmed === undefined && later !== undefined
            ? {}
            : { act: { href: `/visits/${visit}/exchange/${sent.id}`, words: replyAct(reply) } }),
          ...waitsOf(state, read),
        }
      : {}),
    files: files.map(({ id, name, what, size, who, when }) => ({
      id,
      words: `${name} (${what}, ${sizeWords(size)}), from ${saying.nameOf(who)}, ${instant(when)}`,
    })),
    mails: mailsOf(state, saying, later),
    links: linksOf(state, saying, later),
  };
};

const openOf = (office: Office, stored: StoredVisit, now: SettlementNow | null): NonNullable<WhereaboutsView["open"]> | null => {
  if (now === null) return null;
  const { draft } = openVisit(stored);
  const { plan, settlement } = now;
  const pageAt = (at: string): string => `/visits/${stored.id}/ask/${pageOf(at, draft, office.planner) ?? "support"}#${fieldId(at)}`;
  const tests = plan.sets.flatMap(({ name, protections }) => protections.map((one) => ({ ...one, set: name })));
  const nameOf = (kind: string): string => office.planner.rulebook.protections.find((one) => one.kind === kind)?.name ?? kind;
  const deciding = plan.questions.filter(({ ref }) => settlement.questions.includes(ref));
  const asked = new Set(askedNowOf(plan.questions).map(({ ref }) => ref));
  const testsAmong = (refs: readonly string[]): readonly OpenPoint[] =>
    tests
      .filter(({ ref }) => refs.includes(ref))
      .map(({ ref, kind, at, set }) => ({ ref, words: `${nameOf(kind)}, ${set}`, href: testAt(stored.id, { at }) }));
  const pointOf = ({ ref, text, at }: PlanQuestion): OpenPoint => ({ ref, words: text, href: pageAt(at) });
  return {
    questions: deciding.filter(({ ref }) => asked.has(ref)).map(pointOf),
    later: deciding.filter(({ ref }) => !asked.has(ref)).map(pointOf),
    requests: plan.requests
      .filter(({ ref }) => settlement.requests.includes(ref))
      .map(
        ({ ref, text, at, confirmBy }): OpenPoint => ({
          ref,
          words: `${text}, to be confirmed by ${longDate(confirmBy)}`,
          href: at === undefined ? `/visits/${stored.id}/letter` : pageAt(at),
        }),
      ),
    without: testsAmong(settlement.without),
    untold: testsAmong(settlement.untold),
    settled: settlement.settled,
  };
};

type Shown = Pick<WhereaboutsView, "next" | "reminder">;

/** A reminder of a letter as it would go out now, or why none can. */
const reminderShown = async ({ store, world }: Office, sent: SentLetter): Promise<Shown> => {
  const ahead = await reminderAhead(store, sent, world.now());
  if (!ahead.ok) return { reminder: { none: ahead.faults.join("; ") } };
  const { to, text } = ahead.value;
  return { reminder: { sent: sent.id, to: to.map(({ name }) => name).join(", "), text } };
};

/** The one act that is next where an exchange stands so. */
const nextOf = async (office: Office, here: string, { stage, sent, settled }: Waited): Promise<Shown> => {
  switch (stage) {
    case "waiting for the reply":
      return reminderShown(office, sent);
    case "reply to take in":
      return { next: { href: `${here}/exchange/${sent.id}`, words: `Take in the reply to letter ${sent.number}` } };
    case "next letter to send": {
      const what = settled ? "the settled letter" : `letter ${sent.number + 1}`;
      return { next: { href: `${here}/letter#send`, words: `Look at ${what} and send it` } };
    }
    default:
      return {};
  }
};

interface Waited {
  readonly stage: Standing["stage"];
  /** The letter whose turn it is. */
  readonly sent: SentLetter;
  readonly settled: boolean;
}

/** The letters of a visit, and how far it is from being settled; null where it cannot be planned as it stands. */
interface Exchange {
  readonly letters: readonly LetterState[];
  readonly now: SettlementNow | null;
}

/** Where the exchange of a visit stands, what is open and what is next. */
export const whereabouts = async (office: Office, stored: StoredVisit, { letters, now }: Exchange): Promise<WhereaboutsView> => {
  const here = `/visits/${stored.id}`;
  const open = openOf(office, stored, now);
  const standing = standingOf(letters, confirmByOf(now));
  const sent = letters.find((letter) => letter.sent.number === standing?.letter)?.sent;
  if (standing === null || sent === undefined) {
    const next = { href: `${here}/letter#send`, words: "Look at letter 1 and send it" };
    return { says: "No letter has gone out yet.", overdue: false, open, next };
  }
  const { words, overdue } = standingWords(standing, office.world.now().slice(0, 10));
  const waited = { stage: standing.stage, sent, settled: open?.settled === true };
  // An exchange that has ended asks for nothing any more, whatever stays open.
  if (sent.kind !== "letter") return { says: `${words}.`, overdue };
  return { says: `${words}.`, overdue, open, ...(await nextOf(office, here, waited)) };
};
