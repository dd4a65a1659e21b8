import { setTimeout as pause } from "node:timers/promises";
import { answers, results, typing } from "./inspectors.ts";
import { made, sending } from "./letters.ts";
import { confirmation, file, step } from "./recipients.ts";
import type { Stage } from "./stage.ts";
import type { Entry, Write } from "./write.ts";

/** People at work until the server is gone; what each did, and what was answered. */
export interface Load {
  readonly journal: readonly Entry[];
  /** Lets everybody finish what he is at. */
  readonly stop: () => Promise<void>;
}

/** What everybody does next, again and again; null where nothing is left for him. */
type Worker = (count: number) => Write | null;

/** Numbers of tries go on from round to round, so that nothing is written twice alike. */
const workersOn = (url: string, stage: Stage, round: number): readonly Worker[] => {
  const { people, pages, filled, confirmed, small } = stage;
  const letter = small[round];
  return [
    (count) => answers(url, people.mara, pages.mara, count, true),
    (count) => answers(url, people.odo, pages.odo, count, false),
    (count) => (count % 2 === 0 ? answers(url, people.ilse, pages.ilse, count, true) : results(url, people.ilse, stage, count)),
    (count) => typing(url, people.ilse, pages.typed, count),
    (count) => step(url, filled, 0, count),
    (count) => file(url, filled, count),
    (count) =>
      count % 1000 === 5 && confirmed[round] !== undefined ? confirmation(url, confirmed[round], count) : step(url, filled, 1, count),
    (count) =>
      letter === undefined ? null : count % 1000 === 0 ? sending(url, people.mara, letter) : made(url, people.mara, letter, count),
  ];
};

/** Nobody is quicker than this, in milliseconds; whoever is is turned away for a while. */
const BETWEEN = 40;

const FILES_OF_A_ROUND = 3;

const outcomeOf = async (write: Write): Promise<Omit<Entry, "write">> => {
  try {
    const taken = await write.send();
    if (taken === true) return { outcome: "kept" };
    return { outcome: "refused", ...(taken === false ? {} : { answered: taken }) };
  } catch {
    return { outcome: "cut off" };
  }
};

/** Sets everybody to work on a stage's office in one of its rounds. */
export const load = (url: string, stage: Stage, round: number): Load => {
  const journal: Entry[] = [];
  let over = false;
  const work = async (worker: Worker, place: number): Promise<void> => {
    for (let count = 0; !over; count += 1) {
      const write = worker(round * 1000 + count);
      if (write === null) return;
      const became = await outcomeOf(write);
      journal.push({ write, ...became });
      // Without a server nobody gets further: he would only try again.
      await pause(BETWEEN);
      if (became.outcome === "cut off" || (place === 5 && count + 1 >= FILES_OF_A_ROUND)) return;
    }
  };
  const all = Promise.all(workersOn(url, stage, round).map(work));
  return {
    journal,
    stop: async () => {
      over = true;
      await all;
    },
  };
};
