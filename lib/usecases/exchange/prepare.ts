import { digestOf } from "../../kernel/digest.ts";
import type { World } from "../../kernel/ports.ts";
import { failure, type Result, success } from "../../kernel/result.ts";
import type { Letter } from "../../letter/blocks.ts";
import { type LetterInput, letterOf } from "../../letter/letter.ts";
import { messageOf } from "../../model/fault.ts";
import { calendarOf } from "../../outside/calendar.ts";
import type { Ended } from "../../outside/entries.ts";
import type { Mailbox } from "../../outside/mail.ts";
import type { PostOffice } from "../../outside/postOffice.ts";
import { type Asked, askedInLetter, askedOf, confirmedIn } from "../../plan/asked.ts";
import type { Planner } from "../../plan/plan.ts";
import type { Plan } from "../../plan/schema.ts";
import type { SentLetter } from "../../store/exchanges.ts";
import type { Act, Store, StoredVisit } from "../../store/store.ts";
import type { UnitSystem } from "../../units/units.ts";
import { type Planned, planDocument } from "../planFile.ts";
import { reviewNow, unreviewed } from "../review/reviewNow.ts";
import { fileOfVisit } from "../visits/planVisit.ts";
import { askedStored } from "./askedStored.ts";
import { closingOf } from "./closing.ts";
import { endedBy } from "./ending.ts";
import { sinceLastLetter } from "./former.ts";
import { markBegins } from "./letterMark.ts";

/** What sending a letter needs of the world. */
export interface SendingWorld {
  readonly store: Store;
  readonly world: World;
  readonly planner: Planner;
  readonly render: (letter: Letter) => Promise<Result<Uint8Array>>;
  readonly post: PostOffice;
  /** Where people reach the office. */
  readonly url: string;
}

export interface Recipient {
  readonly name: string;
  readonly address: string;
}

export interface ToSend {
  /** A letter that asks, or one that ends the exchange: with all settled, or with what remains for another time. */
  readonly kind: SentLetter["kind"];
  readonly to: readonly Recipient[];
  readonly units: UnitSystem;
  /** Whom the mail comes from: an address of the office, with the name of whoever sends it. */
  readonly from: Mailbox;
}

/** A letter that is ready to go out. */
export interface Ready {
  /** The visit file that it is made from, as text. */
  readonly file: string;
  readonly planned: Planned;
  readonly letter: Letter;
  readonly pdf: Uint8Array;
  readonly calendar: string;
  /** How the exchange ends with it; null where it asks. */
  readonly ended: Ended | null;
  readonly sent: SentLetter;
}

const NOTHING_ASKED: Asked = { questions: [], requests: [], tests: [], known: [] };

/** The calendar file that goes with a letter; with one that ends the exchange only the visit is left in it, or that it is called off. */
const calendarFor = (
  { plan, read }: Planned,
  former: Plan | undefined,
  { visit, when }: SentLetter,
  ended: Ended | null,
): Result<string> => {
  const calendar = calendarOf({
    plan,
    earlier: former === undefined ? [] : [former],
    done: confirmedIn(read.visit),
    ended,
    uidStem: visit,
    sequence: read.visit.letters.length,
    stamp: when,
  });
  return calendar.ok ? calendar : failure(...calendar.faults.map(messageOf));
};

/** What a letter of this kind is made from besides the plan: the form that it asks with, or how the exchange ends. */
const askingOrClosing = async (
  { store, stored }: { readonly store: Store; readonly stored: StoredVisit },
  planned: Planned,
  { kind, mark }: SentLetter,
): Promise<Result<Pick<LetterInput, "form" | "closing">>> => {
  if (kind === "letter") return success({ form: { mark } });
  const closing = await closingOf({ store, stored }, planned, kind);
  return closing.ok ? success({ closing: closing.value }) : closing;
};

/** What is to be sent of which visit, and who does it when. */
interface Order {
  readonly stored: StoredVisit;
  readonly toSend: ToSend;
  readonly by: Act;
}

/** The record of a letter as it would be kept. */
const recordOf = (
  { world, planner }: SendingWorld,
  { plan, read }: Planned,
  { stored, toSend: { kind, to, units }, by }: Order,
): SentLetter => {
  const number = read.visit.letters.length + 1;
  const asked =
    kind === "letter" ? askedInLetter(askedOf(plan, planner.rulebook, confirmedIn(read.visit), { read, units })) : NOTHING_ASKED;
  return {
    id: world.newId(),
    visit: stored.id,
    kind,
    number,
    made: world.newId(),
    mark: `${markBegins(stored.id, number)}${digestOf(plan).slice(0, 8)}`,
    replyBy: plan.visit.replyBy,
    to,
    asked: askedStored(asked, stored.sets),
    ...by,
  };
};

/** The letter as it would go out now, whole, with nothing kept yet. */
export const prepared = async (office: SendingWorld, order: Order): Promise<Result<Ready>> => {
  const { stored, toSend } = order;
  const { store, planner, render } = office;
  const file = fileOfVisit(stored, planner);
  const planned = planDocument(planner, file);
  if (!planned.ok) return failure(...planned.faults.map(messageOf));
  const waits = unreviewed(await reviewNow(store, stored, planned.value.plan, order.by.when.slice(0, 10)));
  if (waits !== null) return failure(waits);
  const sent = recordOf(office, planned.value, order);
  const since = await sinceLastLetter(store, stored.id, planner.rulebook);
  const more = await askingOrClosing({ store, stored }, planned.value, sent);
  if (!more.ok) return more;
  const input = { ...planned.value, rulebook: planner.rulebook, units: toSend.units };
  const letter = letterOf({ ...input, ...more.value, ...since });
  const ended = endedBy(input, more.value.closing);
  const calendar = calendarFor(planned.value, since.former, sent, ended);
  if (!calendar.ok) return calendar;
  const pdf = await render(letter);
  if (!pdf.ok) return pdf;
  return success({ file: JSON.stringify(file), planned: planned.value, letter, pdf: pdf.value, calendar: calendar.value, ended, sent });
};
