import { type FactSpec, NOT_KNOWN, said } from "../model/fact.ts";
import { capital, listOr, type Names, sayCondition } from "./say.ts";
import { type DecidingFact, LOCAL, MAY_STAY_OPEN } from "./signature.ts";

/** A deciding fact in words: what it is, and how it is answered. */
export interface SaidFact {
  readonly name: string;
  readonly value: string;
}

const OFFICE: Readonly<Record<string, string>> = {
  [MAY_STAY_OPEN]: "Parts that may stay unproven by the office’s policy",
  [LOCAL]: "Local rules of the office",
};

const isCondition = (of: string): boolean => of.startsWith("{");

const choiceWords = (spec: FactSpec | undefined, value: string): string => {
  const one = (answer: string): string => (spec === undefined ? answer : said(spec, answer));
  const [first = "", ...left] = value.split("|");
  if (left.length > 0) return `${NOT_KNOWN}; it can only be ${listOr(left.map(one))}`;
  return first === NOT_KNOWN ? NOT_KNOWN : one(first);
};

/** What the fact of a signature is called, without its answer. */
export const factName = (of: string, specAt: (at: string) => FactSpec | undefined): string => {
  const names: Names = { specAt, refAt: () => undefined };
  return OFFICE[of] ?? capital(isCondition(of) ? sayCondition(JSON.parse(of), names) : (specAt(of)?.name ?? of));
};

/** An answer to it in words. */
export const factValue = (of: string, value: string, specAt: (at: string) => FactSpec | undefined): string =>
  isCondition(of) || of in OFFICE ? value : choiceWords(specAt(of), value);

/** A deciding fact in words; `specAt` finds a fact by its template. */
export const sayFact = ({ of, value }: DecidingFact, specAt: (at: string) => FactSpec | undefined): SaidFact => ({
  name: factName(of, specAt),
  value: factValue(of, value, specAt),
});
