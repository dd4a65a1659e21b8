import { createHash, randomUUID } from "node:crypto";
import { setTimeout as pause } from "node:timers/promises";
import { hidden, shown } from "../access/hidden.ts";
import type { Hiding } from "./toldOnce.ts";

/** Whoever does something says so anew before this is over, in milliseconds; else it was cut off, and another may do it. */
const HELD = 15_000;
const SAYS = 5_000;
/** So long after its end it still counts as the same press. */
const AFTER = 2_000;
const LOOKS = 100;

/** An act may be named by what somebody sent; no name of ours is longer, and a database finds no row by much more. */
const LONGEST_ACT = 400;

const nameOf = (act: string): string => (act.length <= LONGEST_ACT ? act : `long ${createHash("sha256").update(act).digest("hex")}`);

type Holding = Pick<Hiding, "store" | "clock">;

/**
 * Does something unless any copy of the program is at it; null where one is. What was cut off with its process may be done again after a quarter of a
 * minute.
 */
export const unlessUnderWay = async <Outcome>(
  { store, clock }: Holding,
  asked: string,
  doIt: () => Promise<Outcome>,
  told: (outcome: Outcome) => { readonly outcome?: string; readonly after: number } = () => ({ after: -1 }),
): Promise<{ readonly outcome: Outcome } | null> => {
  const [act, holder] = [nameOf(asked), randomUUID()];
  if (!(await store.beginAct(act, holder, clock(), clock() + HELD))) return null;
  let said: Promise<unknown> = Promise.resolve();
  const saying = setInterval(() => {
    said = store.keepAct(act, holder, clock() + HELD).catch(() => undefined);
  }, SAYS);
  const over = async (after: number, outcome?: string): Promise<void> => {
    clearInterval(saying);
    await said;
    await store.keepAct(act, holder, clock() + after, outcome);
  };
  try {
    const outcome = await doIt();
    const { after, outcome: text } = told(outcome);
    await over(after, text);
    return { outcome };
  } catch (error) {
    await over(-1).catch(() => undefined);
    throw error;
  }
};

/**
 * Does something that must not be done twice at once, whichever copies of the program are asked. Whoever asks for the same from the same page meanwhile,
 * or right after it, is given the outcome of the first; whoever asks from another page waits and then does it himself. `page` is the token of the page's
 * form: outcomes are hidden by it, since they may lead to what is told once.
 */
export const alone = async ({ store, clock, secret }: Hiding, act: string, page: string, doIt: () => Promise<string>): Promise<string> => {
  const by = `${act} ${page}`;
  for (;;) {
    const done = await unlessUnderWay({ store, clock }, act, doIt, (outcome) => ({ outcome: hidden(outcome, secret, by), after: AFTER }));
    if (done !== null) return done.outcome;
    for (;;) {
      await pause(LOOKS);
      const other = await store.actUnderWay(nameOf(act), clock());
      if (other === null) break;
      const outcome = other.outcome === null ? null : shown(other.outcome, secret, by);
      if (outcome !== null) return outcome;
    }
  }
};
