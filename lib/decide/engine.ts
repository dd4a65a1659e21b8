import { newRemembered, type Remembered } from "../kernel/remembered.ts";
import { nothingKnown } from "../logic/frame.ts";
import type { FactSpec } from "../model/fact.ts";
import type { Need, Part, Rulebook } from "../rulebook/types.ts";
import { type CompiledProtection, compileProtection } from "./compile.ts";
import { type LeadOf, leadsOf } from "./knowledge.ts";
import { type Prepared, prepare } from "./prepared.ts";
import type { Decided } from "./protection.ts";
import { tableOf } from "./table.ts";

/**
 * A rulebook made ready for deciding under one policy of which loop parts may stay open. Protections, and the tables
 * with one method insisted on (deviations), are prepared when first asked for.
 */
export interface Engine {
  readonly rulebook: Rulebook;
  /** The lead time behind each availability fact, by template. */
  readonly leads: LeadOf;
  readonly specs: ReadonlyMap<string, FactSpec>;
  readonly needs: Needs;
  readonly compiled: (kind: string) => CompiledProtection | undefined;
  readonly prepared: (kind: string, insisted?: string) => Prepared | undefined;
  /**
   * What was decided for equal knowledge before, so that after one more answer only the protections it touches are
   * decided again. Bounded; it changes no result.
   */
  readonly remembered: Remembered<Decided | undefined>;
}

/** The rulebook's needs by id and by the fact they hang on, and their order. */
export interface Needs {
  readonly byId: ReadonlyMap<string, Need>;
  readonly byFact: ReadonlyMap<string, Need>;
  readonly order: ReadonlyMap<string, number>;
}

const needsOf = ({ needs }: Rulebook): Needs => ({
  byId: new Map(needs.map((need) => [need.id, need])),
  byFact: new Map(needs.flatMap((need) => (need.at === undefined ? [] : [[need.at, need] as const]))),
  order: new Map(needs.map((need, place) => [need.id, place])),
});

/** How many decided protections are kept: some visits' worth. */
const MEMORY = 4000;

const memoised = <Value>(make: (key: string) => Value): ((key: string) => Value) => {
  const made = new Map<string, Value>();
  return (key) => {
    const found = made.get(key);
    if (found !== undefined || made.has(key)) return found as Value;
    const value = make(key);
    made.set(key, value);
    return value;
  };
};

export const newEngine = (rulebook: Rulebook, mayStayOpen: readonly Part[]): Engine => {
  const compiled = memoised((kind) => {
    const protection = rulebook.protections.find((candidate) => candidate.kind === kind);
    return protection === undefined ? undefined : compileProtection(rulebook, protection);
  });
  const prepared = memoised((key) => {
    const [kind = "", insisted] = key.split("\n");
    const protection = compiled(kind);
    if (protection === undefined) return undefined;
    return prepare(protection, tableOf(rulebook, protection, mayStayOpen, insisted), nothingKnown(protection.frame));
  });
  return {
    rulebook,
    leads: leadsOf(rulebook),
    specs: new Map(rulebook.facts.map((fact) => [fact.at, fact])),
    needs: needsOf(rulebook),
    compiled,
    remembered: newRemembered(MEMORY),
    prepared: (kind, insisted) => prepared(insisted === undefined ? kind : `${kind}\n${insisted}`),
  };
};
