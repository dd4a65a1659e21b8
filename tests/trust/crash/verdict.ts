import type { Settings } from "./server.ts";
import { halfThere, lookedAt } from "./whole.ts";
import type { Entry, Found } from "./write.ts";

/** What was found wrong after a kill. */
export interface Verdict {
  /** Writes that the office had said were kept, and that are not there. */
  readonly lost: readonly string[];
  /** What is there in part, whoever wrote it. */
  readonly torn: readonly string[];
  /** Writes that were sent again and are there twice. */
  readonly doubled: readonly string[];
  readonly refused: readonly string[];
}

export const NOTHING_WRONG: Verdict = { lost: [], torn: [], doubled: [], refused: [] };

export const both = (one: Verdict, other: Verdict): Verdict => ({
  lost: [...one.lost, ...other.lost],
  torn: [...one.torn, ...other.torn],
  doubled: [...one.doubled, ...other.doubled],
  refused: [...one.refused, ...other.refused],
});

const told = ({ write }: Entry, words: string): string => `${write.kind}, ${write.what}: ${words}`;

const weigh = (entry: Entry, found: Found): Verdict => {
  const acknowledged = entry.outcome === "kept";
  if (typeof found === "object") return { ...NOTHING_WRONG, [acknowledged ? "lost" : "torn"]: [told(entry, found.torn)] };
  return acknowledged && found === "absent" ? { ...NOTHING_WRONG, lost: [told(entry, "was said to be kept")] } : NOTHING_WRONG;
};

/** Looks for every write of a journal, and over the whole database. A write whose answer did not come may be there or not, but whole. */
export const judged = (settings: Settings, journal: readonly Entry[]): Promise<Verdict> =>
  lookedAt(settings, async (db) => {
    let verdict: Verdict = { ...NOTHING_WRONG, torn: await halfThere(db, settings) };
    for (const entry of journal) verdict = both(verdict, weigh(entry, await entry.write.found(db)));
    const refused = journal.filter(({ outcome }) => outcome === "refused");
    return { ...verdict, refused: refused.map((entry) => told(entry, `was not taken (${entry.answered ?? "no word why"})`)) };
  });

/** Sends once more what was cut off, as people do, and says what is not there once and whole then. */
export const sentAgain = async (settings: Settings, journal: readonly Entry[]): Promise<Verdict> => {
  let verdict = NOTHING_WRONG;
  for (const { write, outcome } of journal) {
    if (outcome !== "cut off") continue;
    const taken = await write.send().catch(() => false);
    if (taken !== true)
      verdict = both(verdict, { ...NOTHING_WRONG, refused: [`${write.kind}, ${write.what}: was not taken when sent again`] });
    await lookedAt(settings, async (db) => {
      const [found, times] = [await write.found(db), await write.times(db)];
      if (found !== "whole")
        verdict = both(verdict, { ...NOTHING_WRONG, torn: [`${write.kind}, ${write.what}: sent again, and ${JSON.stringify(found)}`] });
      else if (times !== 1) verdict = both(verdict, { ...NOTHING_WRONG, doubled: [`${write.kind}, ${write.what}: ${times} times`] });
    });
  }
  return verdict;
};
