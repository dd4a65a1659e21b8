import { longDate } from "../../letter/words.ts";
import { confirmedIn } from "../../plan/asked.ts";
import type { Planner } from "../../plan/plan.ts";
import type { Plan } from "../../plan/schema.ts";
import { type Settlement, settlementOf } from "../../reply/settlement.ts";
import type { ReplyState, SentLetter } from "../../store/exchanges.ts";
import type { Standing, Store, StoredVisit } from "../../store/store.ts";
import { planVisit } from "../visits/planVisit.ts";
import { openVisit } from "../visits/visitDraft.ts";
import { knownToVessel } from "./former.ts";

/** A letter that went out, with how far its reply is. */
export interface Stage {
  readonly sent: Pick<SentLetter, "kind" | "number" | "replyBy">;
  readonly reply: ReplyState;
}

/**
 * How far the exchange of a visit is by its letters, the first first; null before the first. A reply that came and was not taken in goes before
 * all else. `confirmBy` is the earliest day by which a request is to be confirmed. Pure.
 */
export const standingOf = (letters: readonly Stage[], confirmBy: string | undefined): Standing | null => {
  const last = letters.at(-1);
  if (last === undefined) return null;
  const waiting = letters.findLast(({ reply }) => reply.confirmed !== undefined && reply.taken === undefined);
  if (waiting !== undefined) return { stage: "reply to take in", letter: waiting.sent.number };
  const { kind, number, replyBy } = last.sent;
  if (kind !== "letter") return { stage: kind, letter: number };
  if (last.reply.taken === undefined) return { stage: "waiting for the reply", letter: number, due: { day: replyBy, what: "reply" } };
  return {
    stage: "next letter to send",
    letter: number,
    ...(confirmBy === undefined ? {} : { due: { day: confirmBy, what: "confirmation" } }),
  };
};

/** How far a visit is from being settled, with the plan that tells it. */
export interface SettlementNow {
  readonly plan: Plan;
  readonly settlement: Settlement;
}

/** How far a visit is from being settled as it stands; null where it cannot be planned so. */
export const settlementNow = async (store: Store, stored: StoredVisit, planner: Planner): Promise<SettlementNow | null> => {
  const planned = planVisit(stored, planner);
  if (!planned.ok) return null;
  const { plan, read } = planned.value;
  const vessel = await knownToVessel(store, stored.id);
  return { plan, settlement: settlementOf(plan, confirmedIn(read.visit), openVisit(stored).draft.answers, vessel) };
};

/** The earliest day by which a request that is still open is to be confirmed; undefined where none is open. Pure. */
export const confirmByOf = (now: SettlementNow | null): string | undefined =>
  now?.plan.requests
    .filter(({ ref }) => now.settlement.requests.includes(ref))
    .map(({ confirmBy }) => confirmBy)
    .sort()[0];

/** The letters of a visit that went out, the first first, each with its reply. */
export const lettersWithReplies = async (store: Store, visit: string) =>
  Promise.all((await store.sentOf(visit)).map(async (sent) => ({ sent, reply: await store.replyOf(sent.id) })));

const standingNow = async (store: Store, planner: Planner, visit: string): Promise<Standing | null> => {
  const stored = await store.visit(visit);
  if (stored === null) return null;
  const letters = await lettersWithReplies(store, visit);
  return standingOf(letters, confirmByOf(await settlementNow(store, stored, planner)));
};

/** So often what was kept is looked at again: each time somebody else must have come between. */
const MOST_LOOKS = 5;

/**
 * Works out how far the exchange of a visit is and keeps it for the list of visits; after whatever changes it. What was read may be older than what another keeps
 * meanwhile, so that it is looked at again until it is the same.
 */
export const keepStandingOf = async (store: Store, planner: Planner, visit: string): Promise<void> => {
  let standing = await standingNow(store, planner, visit);
  for (let look = 0; look < MOST_LOOKS && standing !== null; look += 1) {
    await store.keepStanding(visit, standing);
    const again = await standingNow(store, planner, visit);
    if (JSON.stringify(again) === JSON.stringify(standing)) return;
    standing = again;
  }
};

const DAY = 24 * 60 * 60_000;

/** Whole days from one plain date to another. */
export const daysFrom = (from: string, to: string): number => Math.round((Date.parse(to) - Date.parse(from)) / DAY);

/** "3 December 2026", or "3 December 2026: 2 days overdue" once that is past. */
export const dueWords = (day: string, today: string): string => {
  const late = daysFrom(day, today);
  return `${longDate(day)}${late > 0 ? `: ${late} ${late === 1 ? "day" : "days"} overdue` : ""}`;
};

/** A standing as a list tells it, and whether it is overdue. Pure. */
export const standingWords = ({ stage, letter, due }: Standing, today: string): { readonly words: string; readonly overdue: boolean } => {
  const overdue = due !== undefined && due.day < today;
  const by = due === undefined ? "" : dueWords(due.day, today);
  switch (stage) {
    case "waiting for the reply":
      return { words: `Letter ${letter} sent, reply due ${by}`, overdue };
    case "reply to take in":
      return { words: `Reply to letter ${letter} came: take it in`, overdue };
    case "next letter to send":
      return { words: `Letter ${letter + 1} to send${due === undefined ? "" : `, confirmations due ${by}`}`, overdue };
    case "settled":
      return { words: `Settled with letter ${letter}`, overdue };
    case "not settled":
      return { words: `Ended with letter ${letter}, not settled`, overdue };
  }
};
