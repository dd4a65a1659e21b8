import type { PastResult, TestResult } from "../model/result.ts";
import { small } from "../plan/say.ts";
import type { Rulebook } from "../rulebook/types.ts";
import type { Labelled } from "./blocks.ts";
import { SAY } from "./catalogue.ts";
import { capital, longDate, methodWords } from "./words.ts";

/** A method in words; its id where the rulebook has it no longer. */
const wayWords = (rulebook: Rulebook, kind: string, ids: readonly string[]): string => {
  const known = methodWords(rulebook, kind, ids);
  return known === "" ? ids.join(", ") : known;
};

const outcomeWords = (result: TestResult, kind: string, rulebook: Rulebook): string => {
  switch (result.outcome) {
    case "as planned":
      return SAY.with.doneAsPlanned(wayWords(rulebook, kind, result.planned));
    case "by another method":
      return SAY.with.doneOtherwise("method" in result.by ? wayWords(rulebook, kind, [result.by.method]) : result.by.words);
    case "not done":
      return SAY.with.notDone(result.why);
  }
};

const ended = (words: string): string => (/[.!?]$/.test(words) ? words : `${words}.`);

/** What became of a test in one or two sentences, without its day: "Done as planned (…); read 2.10 bar, within limits. A remark." */
export const resultWords = (result: TestResult, kind: string, rulebook: Rulebook): string => {
  const seen =
    result.outcome === "not done"
      ? ""
      : [
          ...(result.reading === undefined ? [] : [SAY.with.wasRead(`${result.reading.number} ${result.reading.unit}`)]),
          result.within,
        ].join(", ");
  const parts = [outcomeWords(result, kind, rulebook), ...(seen === "" ? [] : [seen])].join("; ");
  return [ended(capital(parts)), ...(result.words === undefined ? [] : [ended(capital(result.words))])].join(" ");
};

/**
 * What was found of a protection at an earlier visit, as lines for a sheet or page: "Last time, 29 April 2026" with what became of it; where it was not
 * done, the time before as well. Nothing where nothing is known. It is told only: no decision looks at it.
 */
export const lastTimeLines = (at: string, lastTime: readonly PastResult[] | undefined, rulebook: Rulebook): readonly Labelled[] =>
  (lastTime ?? [])
    .filter((past) => past.at === at)
    .map((past, place) => ({
      label: (place === 0 ? SAY.with.lastTime : SAY.with.timeBefore)(longDate(past.on)),
      text: resultWords(past, at.split("/").at(-1) ?? "", rulebook),
    }));

/** The same as one text: "Last time, 29 April 2026: done as planned …"; empty where nothing is known. */
export const lastTimeWords = (at: string, lastTime: readonly PastResult[] | undefined, rulebook: Rulebook): string =>
  lastTimeLines(at, lastTime, rulebook)
    .map(({ label, text }) => `${label}: ${small(text)}`)
    .join(" ");
